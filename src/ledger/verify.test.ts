import { expect, test } from "vitest";
import { MORNING, TestDevice } from "../../test/run.ts";
import { writeCanonical } from "./canonical.ts";
import { readEntry, type Told } from "./entry.ts";
import { makeIdentity, takePen, write } from "./pen.ts";
import { verifyEntries } from "./verify.ts";

/** Two tablets; the second sees the first one's entries before its own last. */
const scene = () => {
  const [left, right] = [new TestDevice(1, "run-1"), new TestDevice(2, "run-1")];
  const first = [1, 2, 3].map((n) => left.write("emil", { kind: "note", text: `left ${n}` }, MORNING + n * 1000));
  const second = [1, 2].map((n) => right.write("dora", { kind: "note", text: `right ${n}` }, MORNING + n * 1500));
  right.see(first);
  second.push(right.write("dora", { kind: "note", text: "right 3" }, MORNING + 9000));
  const keys = new Map([left, right].map(({ pens }) => [pens.pen.identity.device, pens.pen.identity.key]));
  return { left, right, first, second, all: [...first, ...second], keys };
};

const rulesOf = (told: readonly Told[], keys: ReadonlyMap<string, string>) =>
  verifyEntries("run-1", told, keys).map(({ rule, entry }) => `${rule} ${entry}`);

const changed = (told: Told, change: (text: string) => string): Told => {
  const text = change(told.text);
  return { text, entry: JSON.parse(text) };
};

test("as it was written: nothing, in any order, the same one twice", () => {
  const { all, keys } = scene();
  expect(verifyEntries("run-1", all, keys)).toEqual([]);
  expect(verifyEntries("run-1", [...all.toReversed(), ...all.slice(1, 3)], keys)).toEqual([]);
});

test("[V3] [V4] one changed letter shows at its entry, and at the one that was written after it", () => {
  const { all, keys, first } = scene();
  const told = all.map((one) => (one === first[1] ? changed(one, (text) => text.replace("left 2", "left 7")) : one));
  expect(rulesOf(told, keys)).toEqual([`V3 ${first[1]!.entry.id}`, `V4 ${first[2]!.entry.id}`]);
});

test("[V3] a byte changed anywhere in any entry is found", () => {
  const { all, keys } = scene();
  for (const [place, one] of all.entries())
    for (let at = 0; at < one.text.length; at += 7) {
      const letter = one.text[at] as string;
      const other = /[0-9]/.test(letter)
        ? String((Number(letter) + 1) % 10)
        : /[a-f]/.test(letter)
          ? letter === "a"
            ? "b"
            : "a"
          : undefined;
      if (other === undefined) continue;
      const reading = readEntry(one.text.slice(0, at) + other + one.text.slice(at + 1));
      if ("faults" in reading) continue;
      const told = all.with(place, reading.told);
      expect(
        verifyEntries("run-1", told, keys).length,
        `${one.text.slice(Math.max(0, at - 20), at + 20)}`,
      ).toBeGreaterThan(0);
    }
});

test("[V5] what is missing in the middle is named, and what another device had seen of the end", () => {
  const { all, keys, first, second } = scene();
  const middle = verifyEntries(
    "run-1",
    all.filter((one) => one !== first[1]),
    keys,
  );
  expect(middle.map(({ what }) => what)).toEqual(["entry 2 of its device missing before it"]);
  const end = verifyEntries(
    "run-1",
    all.filter((one) => one !== first[2]),
    keys,
  );
  expect(end.map(({ rule, entry }) => [rule, entry])).toEqual([["V5", second[2]!.entry.id]]);
});

test("[V1] [V2] a device's key must be there and its own", () => {
  const { all, keys, left, right } = scene();
  const device = left.pens.pen.identity.device;
  const without = new Map([...keys].filter(([id]) => id !== device));
  expect(verifyEntries("run-1", all, without).map(({ rule }) => rule)).toEqual(["V1"]);
  const swapped = new Map(keys).set(device, right.pens.pen.identity.key);
  expect(new Set(verifyEntries("run-1", all, swapped).map(({ rule }) => rule))).toEqual(new Set(["V2", "V3"]));
});

test("[V6] a device that was copied and went on twice", () => {
  const { all, keys, first } = scene();
  const identity = new TestDevice(1, "run-1").pens.pen.identity;
  const pen = takePen(identity, "run-1", first.slice(0, 2));
  const { told } = write(pen, {
    author: "emil",
    body: { kind: "note", text: "a twin" },
    now: MORNING + 3500,
    random: new Uint8Array(16),
  });
  expect(verifyEntries("run-1", [...all, told], keys).map(({ rule }) => rule)).toContain("V6");
});

test("[V7] a clock that goes backwards on one device cannot be written by a pen, and is found when it was", () => {
  const identity = makeIdentity(new Uint8Array(32).fill(5));
  const pen = takePen(identity, "run-1", []);
  const one = write(pen, {
    author: "emil",
    body: { kind: "note", text: "one" },
    now: MORNING,
    random: new Uint8Array(16),
  });
  const back = write(one.pen, {
    author: "emil",
    body: { kind: "note", text: "two" },
    now: MORNING - 3_600_000,
    random: new Uint8Array(16).fill(1),
  });
  const keys = new Map([[identity.device, identity.key]]);
  expect(back.told.entry.clock).toEqual([MORNING, 1]);
  expect(back.told.entry.at).toBe(MORNING - 3_600_000);
  expect(verifyEntries("run-1", [one.told, back.told], keys)).toEqual([]);
  const forged = write(
    { ...one.pen, clock: [0, 0] },
    { author: "emil", body: { kind: "note", text: "two" }, now: MORNING - 1, random: new Uint8Array(16) },
  );
  expect(verifyEntries("run-1", [one.told, forged.told], keys).map(({ rule }) => rule)).toEqual(["V7"]);
});

test("[V8] [V9] another entry under the same id, an entry of another run", () => {
  const { all, keys, first } = scene();
  const twin = changed(first[0]!, (text) => text.replace("left 1", "left 9"));
  expect(rulesOf([...all, twin], keys)).toEqual([`V8 ${first[0]!.entry.id}`]);
  const stranger = new TestDevice(1, "run-2").write("emil", { kind: "note", text: "elsewhere" }, MORNING);
  const found = verifyEntries("run-1", [stranger], keys);
  expect(found.map(({ rule }) => rule)).toEqual(["V9"]);
});

test("a pen that is taken up again writes on where its device left off, and says again nothing that it has said", () => {
  const { all, right, first } = scene();
  const taken = takePen(right.pens.pen.identity, "run-1", all.toReversed());
  expect(taken).toEqual({ ...right.pens.pen, seen: taken.seen });
  expect(taken.seen.get(first[0]!.entry.device)).toBe(3);
  const { told } = write(taken, {
    author: "dora",
    body: { kind: "note", text: "on" },
    now: MORNING,
    random: new Uint8Array(16),
  });
  expect(told.entry.number).toBe(4);
  expect(told.entry.seen).toEqual({});
  expect(writeCanonical(told.entry)).toBe(told.text);
});

test("of each device's last entry alone the signature is checked: the hashes bear witness to the others", () => {
  const { all, keys, first } = scene();
  let asked = 0;
  const counting = () => {
    asked++;
    return true;
  };
  expect(verifyEntries("run-1", all, keys, { signatures: "last", isSigned: counting })).toEqual([]);
  expect(asked).toBe(2);
  const told = all.map((one) => (one === first[2] ? changed(one, (text) => text.replace("left 3", "left 8")) : one));
  expect(verifyEntries("run-1", told, keys, { signatures: "last" }).map(({ rule }) => rule)).toEqual(["V3"]);
  const middle = all.map((one) => (one === first[1] ? changed(one, (text) => text.replace("left 2", "left 7")) : one));
  expect(verifyEntries("run-1", middle, keys, { signatures: "last" }).map(({ rule }) => rule)).toEqual(["V4"]);
});
