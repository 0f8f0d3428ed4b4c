import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { inEnglish } from "./english.ts";
import { readRig } from "./file.ts";
import { hang } from "./hang.ts";

const page = readFileSync(new URL("../../docs/rigging.md", import.meta.url), "utf8");
const example = /```yaml\n(rig: unmoor-rig\/1\n[\s\S]*?)```/.exec(page)?.[1] ?? "";
const parsed = (text: string): unknown => parse(text, { schema: "failsafe" });

test("[F1] the rig file of the page reads without fault, hangs, and says what it took from tables", () => {
  const reading = readRig(parsed(example));
  if ("faults" in reading) throw new Error(JSON.stringify(reading.faults));
  const { rig, assumed, rules } = reading.file;
  expect(rig.load.mass.high).toBeCloseTo(262 * 1.05);
  expect(rig.legs[0]?.takeUp?.step).toBeCloseTo(0.024);
  expect(inEnglish(...assumed)).toContain("EN 818-4 load table");
  expect(rules.hoist?.curve).toHaveLength(2);
  const hung = hang(rig);
  expect(hung.kind === "hangs" && hung.pitch).toBeCloseTo(-5.965, 1);
});

test("[F2] every fault at once, each with its place", () => {
  const text = example
    .replace("262 kg ± 5 %", "262")
    .replace("kind: chain", "kind: rope")
    .replace("length: 0.8 m", "lenght: 0.8 m");
  const reading = readRig(parsed(text));
  if (!("faults" in reading)) throw new Error("it read");
  expect(reading.faults.map(({ at }) => at)).toEqual(
    expect.arrayContaining(["load.mass", "legs.front.kind", "legs.front.lenght", "legs.front.length"]),
  );
  for (const { mend } of reading.faults) expect(mend.length).toBeGreaterThan(5);
});

test("[F3] what is no map is one fault, not a crash", () => {
  for (const document of [undefined, null, 4, "load", [1, 2]]) expect("faults" in readRig(document)).toBe(true);
});

test.each([
  ["a tackle below nothing", "tackle: 15 kg", "tackle: -15 kg", "hoist.tackle", /-15 kg is not above nothing/],
  ["a limit of nothing", "limit: 700 kg", "limit: 0 kg", "eyes.rear-eye.limit", /0 kg is not above nothing/],
  ["a tolerance below nothing", "262 kg ± 5 %", "262 kg ± -5 %", "load.mass", /below nothing/],
  ["a chain of no size", "size: 8 mm, grade: 8, links: 6", "grade: 8", "legs.front", /of no size/],
  [
    "a web of no known colour",
    "kind: chain, size: 8 mm, grade: 8, links: 6",
    "kind: web, colour: pink",
    "legs.front.colour",
    /"pink"/,
  ],
  ["a curve without a limit", "[1 m, 1000 kg]", "[1 m]", "hoist.curve.0", /missing/],
])("[F4] %s is named, once", (_, is, wrong, at, what) => {
  expect(example).toContain(is);
  const reading = readRig(parsed(example.replace(is, wrong)));
  if (!("faults" in reading)) throw new Error("it read");
  expect(reading.faults.map((fault) => fault.at)).toEqual([at]);
  expect(reading.faults[0]?.what).toMatch(what);
});

test("[F5] which of a box's two corners comes first says nothing", () => {
  const turned = example.replace(
    /guard: { from: (\[.*?\]), to: (\[.*?\]) }/,
    (_, from: string, to: string) => `guard: { from: ${to}, to: ${from} }`,
  );
  expect(turned).not.toBe(example);
  const boxes = [example, turned].map((text) => {
    const reading = readRig(parsed(text));
    return "faults" in reading ? reading.faults : reading.file.obstacles;
  });
  expect(boxes[1]).toEqual(boxes[0]);
});
