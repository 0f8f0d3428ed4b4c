// What is told of two readings of a vehicle.
import { describe, expect, test } from "vitest";
import { readVehicle } from "../../vehicle/index.ts";
import { compareMeaning } from "./meaning.ts";

const TEXT = `format: unmoor/1
vehicle: { name: Rig }
positions: { side: {}, pit: {} }
parts: { frame: { fixed: true }, pump: { mass: 40 kg ± 5 %, centre: [0.2 m, 0 m, 0.5 m] } }
connections:
  bolts:
    joins: [pump, frame]
    kind: bolted joint
    release: [{ at: side, time: 10 min, needs: [hose] }, { at: pit, time: 5 min }]
    refit: { torque: 48 N·m }
  hose: { joins: [pump, frame], kind: hose, release: { at: side, time: 3 min } }
tasks: { sling: { time: 5 min, supports: [pump] } }
jobs: { renew: { needs: [out: pump] } }
`;

const read = (text: string) => {
  const { vehicle, faults } = readVehicle("rig.vehicle.yaml", () => text);
  if (vehicle === undefined) throw new Error(faults.map(({ what }) => what).join("; "));
  return vehicle;
};
const told = (from: string, to: string) => {
  if (!TEXT.includes(from)) throw new Error(`the scene has no ${from}`);
  return compareMeaning(read(TEXT), read(TEXT.replace(from, to)));
};

describe("what means the same is no change", () => {
  test.each([
    ["a comment", "parts:", "# seen on the bench\nparts:"],
    ["another unit", "torque: 48 N·m", "torque: 0.048 kN·m"],
    ["the written default", "sling: { time: 5 min,", "sling: { time: 5 min, people: 1,"],
    [
      "another style",
      "tasks: { sling: { time: 5 min, supports: [pump] } }",
      "tasks:\n  sling:\n    time: 5 min\n    supports: pump",
    ],
  ])("%s", (_, from, to) => expect(told(from, to)).toEqual([]));
});

test("a field deep inside is told by the keys of the file, old and new", () => {
  expect(told("torque: 48 N·m", "torque: 40 N·m")).toEqual([
    {
      thing: "connection",
      id: "bolts",
      label: "Bolts",
      is: "changed",
      fields: [
        {
          path: ["refit", "torque"],
          before: { nominal: 48, low: 48, high: 48 },
          after: { nominal: 40, low: 40, high: 40 },
        },
      ],
    },
  ]);
  expect(told("at: pit, time: 5 min", "at: pit, time: 6 min")[0]?.fields).toEqual([
    { path: ["release", "2", "time"], before: 5, after: 6 },
  ]);
});

test("a field that is new or gone has no old or no new value", () => {
  expect(told("kind: hose,", "kind: hose, hidden: true, note: behind the housing,")[0]?.fields).toEqual([
    { path: ["hidden"], before: false, after: true },
    { path: ["note"], before: undefined, after: "behind the housing" },
  ]);
});

test("a mass with its doubt, a point and a list of needs are told as a whole", () => {
  expect(told("40 kg ± 5 %", "42 kg")[0]?.fields).toEqual([
    {
      path: ["mass"],
      before: { nominal: 40, low: 38, high: 42 },
      after: { nominal: 42, low: 42, high: 42 },
    },
  ]);
  expect(told("[0.2 m, 0 m, 0.5 m]", "[0.2 m, 0 m, 0.6 m]")[0]?.fields.map(({ path }) => path)).toEqual([["centre"]]);
  expect(told("needs: [hose]", "needs: [hose, sling]")[0]?.fields).toEqual([
    { path: ["release", "1", "needs"], before: [{ id: "hose" }], after: [{ id: "hose" }, { id: "sling" }] },
  ]);
});

test("of a list of words what is gone and what is new is told, or its order", () => {
  const tools = (list: string) => read(`${TEXT}shop: { tools: [${list}] }`);
  const told = (one: string, other: string) => compareMeaning(tools(one), tools(other))[0]?.fields;
  expect(told("a, b, c", "c, a, d")).toEqual([{ path: ["tools"], before: ["b"], after: ["d"] }]);
  expect(told("a", "a, b")).toEqual([{ path: ["tools"], before: [], after: ["b"] }]);
  expect(told("a, b", "b, a")).toEqual([{ path: ["tools"], before: ["a", "b"], after: ["b", "a"] }]);
});

test("things that are new or gone are told by kind, a way that is gone as a field", () => {
  expect(
    told("tasks: { sling:", "tasks: { wedge: { time: 1 min }, sling:").map(({ thing, id, is }) => [thing, id, is]),
  ).toEqual([["task", "wedge", "added"]]);
  const renamed = compareMeaning(
    read(TEXT),
    read(TEXT.replace("  hose: {", "  pipe: {").replace("needs: [hose]", "needs: [pipe]")),
  );
  expect(renamed.map(({ id, is }) => [id, is])).toEqual([
    ["bolts", "changed"],
    ["pipe", "added"],
    ["hose", "removed"],
  ]);
  expect(told(", { at: pit, time: 5 min }]", "]")[0]?.fields.map(({ path, after }) => [path, after])).toEqual([
    [["release", "2"], undefined],
  ]);
});

test("what belongs to no thing is told of the vehicle", () => {
  expect(told("name: Rig", "name: Test rig")).toEqual([
    {
      thing: "vehicle",
      id: "",
      label: "Test rig",
      is: "changed",
      fields: [{ path: ["name"], before: "Rig", after: "Test rig" }],
    },
  ]);
});

test("nothing against itself, and the way back tells the same with old and new exchanged", () => {
  const [one, other] = [read(TEXT), read(TEXT.replace("48 N·m", "40 N·m"))];
  expect(compareMeaning(one, one)).toEqual([]);
  const turned = compareMeaning(other, one).map((change) => ({
    ...change,
    fields: change.fields.map(({ path, before, after }) => ({ path, before: after, after: before })),
  }));
  expect(turned).toEqual(compareMeaning(one, other));
});
