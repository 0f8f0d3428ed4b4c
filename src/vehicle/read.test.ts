// The reader as its users meet it: what a sound file comes to, and every fault and warning at its place with its mend.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { BROKEN, DUBIOUS, MAIN, SOUND } from "./fixture/corpus.ts";
import { FAULTS, type Load, readVehicle, readVehicleWhole, sentence, WARNINGS } from "./index.ts";

const from =
  (files: Readonly<Record<string, string>>): Load =>
  (path) =>
    files[path] ?? { missing: "no such file" };
const read = (text: string) => readVehicle(MAIN, from({ [MAIN]: text }));

describe("a sound file", () => {
  test("has neither fault nor warning", () => {
    const { faults, warnings, vehicle } = read(SOUND);
    expect([...faults, ...warnings].map(sentence)).toEqual([]);
    expect(vehicle?.name).toBe("Test rig");
  });

  test("the sketch of the design reads without a fault", () => {
    const path = new URL("fixture/sketch.vehicle.yaml", import.meta.url);
    const { faults, warnings, vehicle } = read(readFileSync(path, "utf8"));
    expect([...faults, ...warnings].map(sentence)).toEqual([]);
    expect(vehicle?.connections).toHaveLength(9);
  });
});

describe("the model", () => {
  const { vehicle } = read(SOUND);
  test("defaults are filled in and marked", () => {
    expect(vehicle?.limits).toEqual({ hand: 25, handIsDefault: true, margin: 0.02, marginIsDefault: true });
    expect(vehicle?.positions[0]).toEqual({ id: "side", label: "Side", people: 2, needs: [], without: [] });
    expect(read(SOUND.replace("first:", "limits: { hand: 40 lb }\nfirst:")).vehicle?.limits).toEqual({
      hand: 18.1436948,
      handIsDefault: false,
      margin: 0.02,
      marginIsDefault: true,
    });
  });
  test("what carries follows from the kind, unless it is said", () => {
    const carrying = (text: string) => read(text).vehicle?.connections.map((each) => [each.id, each.carrying]);
    expect(Object.fromEntries(carrying(SOUND) ?? [])).toMatchObject({
      "pump-bolts": true,
      hose: false,
      "guard-clip": false,
    });
    expect(Object.fromEntries(carrying(SOUND.replace("kind: clip", "kind: clip, carrying: true")) ?? [])).toMatchObject(
      {
        "guard-clip": true,
      },
    );
  });
  test("a mass has the limits of its tolerance, in kilograms", () => {
    expect(vehicle?.parts[1]?.mass).toEqual({ nominal: 40, low: 38, high: 42 });
  });
  test("ways and hangs are numbered from 1, one alone needs no list", () => {
    expect(vehicle?.connections.flatMap((each) => each.ways.map((way) => way.id))).toEqual([
      "isolator/1",
      "pump-bolts/1",
      "hose/1",
      "guard-clip/1",
      "lead/1",
    ]);
    const hung = read(SOUND.replace("mass: 2 kg", "mass: 2 kg, hang: { to: frame, time: 1 min, moves: 0.1 m }"));
    expect(hung.vehicle?.parts[2]?.hang[0]).toMatchObject({ id: "guard/hang-1", to: "frame", moves: 0.1 });
  });
  test("a number that is meant as a word stays as it was written", () => {
    const text = SOUND.replace(
      "torque: 40 N·m }",
      "torque: 40 N·m }\n    hardware: { item: 012, class: 8.8, count: 4 }",
    );
    expect(read(text).vehicle?.connections[1]?.hardware).toEqual([
      { item: "012", class: "8.8", count: 4, reuse: true },
    ]);
  });
  test("every form of need, and lists in lists as all of them", () => {
    const text = SOUND.replace(
      "needs: [hose, guard-clip]",
      "needs: [hose, any: [guard-clip, [lead, guard]], all: guard-clip, apart: [guard, frame], out: guard, clear: guard]",
    );
    expect(read(text).faults.map(sentence)).toEqual([]);
    expect(read(text).vehicle?.connections[1]?.ways[0]?.needs).toEqual([
      { id: "hose" },
      { any: [{ id: "guard-clip" }, { all: [{ id: "lead" }, { id: "guard" }] }] },
      { all: [{ id: "guard-clip" }] },
      { apart: ["guard", "frame"] },
      { out: "guard" },
      { clear: "guard" },
    ]);
  });
  test("one voltage is one, however it is written", () => {
    const { warnings } = read(SOUND.replace("live: 24 V", "live: 24V"));
    expect(warnings.map(sentence)).toEqual([]);
  });
  test("every id has a place, ways and hangs too", () => {
    const { place } = read(SOUND);
    expect(place("hose")).toEqual({ file: MAIN, line: 18, column: 3 });
    expect(place("hose/1")).toEqual({ file: MAIN, line: 23, column: 14 });
    expect(place("ring")).toMatchObject({ line: 36 });
    expect(place("nothing")).toBeUndefined();
  });
});

describe("each fault, alone, at its place", () => {
  test.each(BROKEN)("$rule: $story", ({ rule, files, at, says }) => {
    const { faults, vehicle } = readVehicle(MAIN, from(files));
    expect(faults.map(sentence), faults.map(sentence).join("\n")).toHaveLength(1);
    expect(faults[0]?.rule).toBe(rule);
    expect(faults[0]?.at).toEqual(at);
    for (const words of says) expect(sentence(faults[0]!)).toContain(words);
    expect(vehicle).toBeUndefined();
  });
  test("every fault there is has a specimen", () => {
    // Ten thousand faults are no small file: include.test.ts has that one.
    expect([...new Set([...BROKEN.map(({ rule }) => rule), "too-many-faults"])].sort()).toEqual([...FAULTS].sort());
  });
});

describe("one slip is one fault", () => {
  test.each([
    ["a section misspelt", "connections:", "connection:", "unknown-key"],
    ["parts misspelt", "parts:", "part:", "unknown-key"],
    ["a key that must be, misspelt", "kind: hose", "kin: hose", "unknown-key"],
    ["joins left empty", "joins: [guard, frame]", "joins:", "empty"],
    ["a part in joins that is a map", "joins: [guard, frame]", "joins: [guard, { frame: 1 }]", "wrong-form"],
    [
      "a kind misspelt of what rests",
      "kind: bolted joint",
      "kind: bolted jont\n    at: [0 m, 0 m, 0 m]\n    rests: true",
      "unknown-word",
    ],
    [
      "a point without units of what rests",
      "kind: bolted joint",
      "kind: bolted joint\n    at: [0 m, 0 m, 0]\n    rests: true",
      "quantity-no-unit",
    ],
    ["a hoist without a curve", "crane: { reach: [[1 m, 500 kg], [2 m, 250 kg]] }", "crane: {}", "missing-key"],
    ["a curve without units", "[[1 m, 500 kg], [2 m, 250 kg]]", "[[1, 500 kg], [2 m, 250 kg]]", "quantity-no-unit"],
    ["a hoist that is no map", "crane: { reach: [[1 m, 500 kg], [2 m, 250 kg]] }", "crane: 500 kg", "wrong-form"],
    ["the fixed part that is no map", "frame: { fixed: true }", "frame: fixed", "wrong-form"],
    ["room that is no count", "side: { people: 2 }", "side: { people: two }", "not-a-count"],
    ["an id of two words that is named elsewhere", /guard-clip/g, "guard clip", "bad-id"],
  ])("%s", (_, from, to, rule) => {
    const text = SOUND.replace(from, to);
    expect(text).not.toBe(SOUND);
    expect(read(text).faults.map((fault) => fault.rule)).toEqual([rule]);
  });
});

test.each([
  ["no parts", "", "missing-key"],
  ["parts left empty", "parts:\n", "no-fixed-part"],
  ["a part, and none fixed", "parts: { pump: {} }\n", "no-fixed-part"],
])("%s: one fault", (_, parts, rule) => {
  expect(read(`format: unmoor/1\nvehicle: { name: x }\n${parts}`).faults.map((fault) => fault.rule)).toEqual([rule]);
});

describe("each warning, alone, at its place", () => {
  test.each(DUBIOUS)("$rule: $story", ({ rule, files, at, says }) => {
    const { faults, warnings, vehicle } = readVehicle(MAIN, from(files));
    expect(faults.map(sentence)).toEqual([]);
    expect(warnings.map(sentence), warnings.map(sentence).join("\n")).toHaveLength(1);
    expect(warnings[0]?.rule).toBe(rule);
    expect(warnings[0]?.at).toEqual(at);
    for (const words of says) expect(sentence(warnings[0]!)).toContain(words);
    expect(vehicle).toBeDefined();
  });
  test("every warning there is has a specimen", () => {
    expect([...new Set(DUBIOUS.map(({ rule }) => rule))].sort()).toEqual([...WARNINGS].sort());
  });
});

describe("a text that is no YAML", () => {
  const text = SOUND.replace("first: [isolator]", "first: [isolator").replace(/( {2}guard: \{[^}]*)\}/, "$1");
  const asked: string[] = [];
  const load: Load = (path) => {
    asked.push(path);
    return text;
  };
  test("its first mistake is told at once, and all of them by the whole reading, which loads it once", async () => {
    expect(readVehicle(MAIN, () => text).faults).toHaveLength(1);
    const { faults } = await readVehicleWhole(MAIN, load);
    expect(faults.map(({ rule }) => rule)).toEqual(["syntax", "syntax"]);
    expect(asked).toEqual([MAIN]);
    // Each is told where it shows: at the line after what was not closed, in the words of the trade.
    const lines = text.split("\n");
    expect(faults.map(({ at }) => lines[at.line - 2])).toEqual([
      "first: [isolator",
      expect.stringContaining("guard: {"),
    ]);
    expect(sentence(faults[0]!)).toContain("a [ before this place is not closed");
  });
  test("tabs in the indentation are told without what follows from them", async () => {
    const tabbed = SOUND.replace("\n  guard: {", "\n\tguard: {");
    const { faults } = await readVehicleWhole(MAIN, () => tabbed);
    expect(faults.map(({ what }) => what)).toEqual([expect.stringContaining("Tabs are not allowed as indentation")]);
  });
  test("a sound one reads the same by both", async () => {
    const { vehicle } = await readVehicleWhole(MAIN, () => SOUND);
    expect(vehicle).toEqual(read(SOUND).vehicle);
  });
});
