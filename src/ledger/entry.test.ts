import { getPublicKey, sign } from "@noble/ed25519";
import { bytesToHex, hexToBytes } from "@noble/hashes/utils.js";
import { v7 } from "uuid";
import { expect, test } from "vitest";
import { MORNING, TestDevice } from "../../test/run.ts";
import { readBody } from "./body.ts";
import { hashOf, writeCanonical } from "./canonical.ts";
import { readEntry } from "./entry.ts";
import { sentence } from "./fault.ts";
import { isKind, KINDS, type Kind } from "./kinds.ts";
import { makeIdentity, write } from "./pen.ts";

const ONE = new TestDevice(7, "run-1").write("emil", { kind: "released", at: "coupling" }, MORNING);

test("canonical JSON is RFC 8785's own example (section 3.2.2 and 3.2.3)", () => {
  const value = JSON.parse(
    '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}',
  );
  expect(writeCanonical(value)).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  );
  expect(() => writeCanonical({ at: Number.NaN })).toThrow();
});

test("the hash is FIPS 180-4's SHA-256 of the text in UTF-8", () => {
  expect(hashOf("abc")).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
});

test("the signature is RFC 8032's Ed25519: its test 1 of section 7.1, with the pen's own choice of SHA-512", () => {
  const secret = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";
  const identity = makeIdentity(hexToBytes(secret));
  expect(identity.key).toBe("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a");
  expect(bytesToHex(getPublicKey(hexToBytes(secret)))).toBe(identity.key);
  expect(bytesToHex(sign(new Uint8Array(0), hexToBytes(secret)))).toBe(
    "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
  );
});

test("an entry that the platform signs is to the letter the one that the library signs", () => {
  const device = new TestDevice(8, "run-1");
  const { pen } = device.pens;
  const said = { author: "emil", body: { kind: "released", at: "coupling" } } as const;
  const one = device.write(said.author, said.body, MORNING);
  const { told } = write(pen, { ...said, now: MORNING, id: one.entry.id, random: new Uint8Array(16) });
  expect(told).toEqual(one);
});

test("ids are version 7 of RFC 9562: its example of appendix A.6", () => {
  const id = v7({
    msecs: 0x017f22e279b0,
    random: Uint8Array.from([0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x0c, 0x0c, 0x07, 0x39, 0x8f, 0xff]),
  });
  expect(id.slice(0, 15)).toBe("017f22e2-79b0-7");
  expect(ONE.entry.id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7/);
});

test("an entry's text is read again as it was written", () => {
  expect(readEntry(ONE.text)).toEqual({ told: ONE });
});

const faultOf = (text: string): string => {
  const reading = readEntry(text);
  return "faults" in reading ? reading.faults.map((fault) => `[${fault.rule}] ${sentence(fault)}`).join("\n") : "none";
};

test("[E1] a text that was cut off", () => {
  expect(faultOf(ONE.text.slice(0, 100))).toBe("[E1] it is not JSON, or cut off. Take it from the device again.");
  expect(faultOf("[]")).toContain("[E1] it is no object");
});

test("[E2] [E3] [E4] every field of the envelope is looked at, and all faults are told at once", () => {
  const { author: _, ...rest } = ONE.entry;
  expect(faultOf(writeCanonical({ ...rest, number: 0, colour: "red" }))).toBe(
    [
      "[E2] author: it is missing. Add who says so.",
      "[E4] number: it is not a whole number from 1. Take it from the device again.",
      "[E3] colour: no entry has this field. Take it from the device again.",
    ].join("\n"),
  );
});

test("[E6] letters that do not change the meaning change what was signed", () => {
  expect(faultOf(ONE.text.replace('{"at"', '{ "at"'))).toContain("[E6]");
});

const bodyFault = (body: unknown): string => {
  const reading = readBody(body);
  return "faults" in reading ? reading.faults.map((fault) => `[${fault.rule}] ${sentence(fault)}`).join("\n") : "none";
};

test("[E5] a kind that is misspelt gets the nearest", () => {
  expect(bodyFault({ kind: "relesed", at: "coupling" })).toBe(
    '[E5] body.kind: there is no kind of entry "relesed". Nearest: released.',
  );
  expect(bodyFault({ kind: "__proto__" })).toContain("[E5]");
});

test("[E2] [E3] [E4] what a body lacks, has too much, or has wrong", () => {
  expect(bodyFault({ kind: "torqued", at: "coupling", torque: "35", tol: 1 })).toBe(
    [
      '[E4] body.torque: "35" has no unit. Write the unit: 35 N·m, if N·m is meant.',
      '[E2] body.tool: "torqued" says nothing of tool. Add tool: a word.',
      '[E3] body.tol: "torqued" has no field tol. It has: at, torque, tool, turn.',
    ].join("\n"),
  );
  expect(bodyFault({ kind: "verified", at: "coupling", found: "yes" })).toContain("Write one of: loose, made.");
  expect(bodyFault({ kind: "drained", task: "drain-oil", amounts: { oil: "5 kg" } })).toContain("[E4] body.amounts");
  expect(bodyFault({ kind: "counted", at: "coupling", item: "bolt", count: 1.5, way: "out" })).toContain(
    "1.5 is no count",
  );
  expect(bodyFault("released")).toContain("[E4]");
});

/** A value of each sort of field. */
const SAMPLES: Readonly<Record<string, unknown>> = {
  id: "coupling",
  person: "emil",
  people: ["emil", "dora"],
  numbers: [3, 1, 2],
  word: "ring spanner 19",
  text: "as it should be",
  count: 4,
  torque: "35 N·m",
  force: "3.1 kN",
  angle: "1.2 deg",
  length: "30 mm",
  volume: "5 L",
  time: "40 min",
  amounts: { "hydraulic oil": "11.5 L" },
  photos: ["a".repeat(64)],
  entry: ONE.entry.id,
  flag: true,
};

test("every kind is read with all its fields, and with no more than it must have", () => {
  for (const kind of Object.keys(KINDS) as Kind[]) {
    const fields: Readonly<Record<string, string>> = KINDS[kind].fields;
    const sample = (sort: string) => (sort.includes("|") ? sort.split("|")[0] : SAMPLES[sort]);
    const all = Object.fromEntries(Object.entries(fields).map(([name, sort]) => [name, sample(sort.replace("?", ""))]));
    const least = Object.fromEntries(Object.entries(all).filter(([name]) => !fields[name]?.endsWith("?")));
    expect(readBody({ kind, ...all }), kind).toEqual({ body: { kind, ...all } });
    expect(readBody({ kind, ...least }), kind).toEqual({ body: { kind, ...least } });
    expect(isKind(kind)).toBe(true);
  }
});
