import { expect, test } from "vitest";
import type { CrewPlan, CrewStep, Held } from "../../plan/index.ts";
import { readMinute, snapped, ticksBetween } from "./clock.ts";
import { layOut } from "./layout.ts";

const step = (id: string, start: number, free: number, people: readonly string[], more: Partial<CrewStep> = {}) =>
  ({ id, phase: "out", action: "release", label: id, start, free, end: free, people, tools: [], ...more }) as const;

/** Two people: a drain that runs on alone, a lift of two, the vehicle raised between. */
const plan: CrewPlan = {
  format: "unmoor/crew-plan/1",
  vehicle: "Small",
  jobs: [],
  crew: {
    people: [
      { id: "ann", label: "Ann", skills: [] },
      { id: "ben", label: "Ben", skills: [] },
    ],
  },
  status: "optimal",
  elapsed: 60,
  bound: 60,
  boundBy: "people",
  gap: 0,
  labour: 40,
  moves: 2,
  retold: 0,
  now: 0,
  steps: [
    step("drain", 0, 5, ["ann"], { end: 25, position: "left" }),
    step("hose", 5, 10, ["ann"], { position: "left" }),
    step("cool", 8, 30, [], { action: "wait" }),
    step("lift", 35, 60, ["ben", "ann"], { position: "under" }),
  ],
  changes: [{ state: "raise", to: true, label: "Raise", start: 25, end: 35, people: ["ben"] }],
  chain: [
    { because: "after", from: 0, until: 25, steps: [{ id: "drain", label: "", start: 0, end: 25 }] },
    { because: "state", by: "Raise", from: 25, until: 35, steps: [{ id: "raise", label: "", start: 25, end: 35 }] },
    { because: "state", by: "Raise", from: 35, until: 60, steps: [{ id: "lift", label: "", start: 35, end: 60 }] },
  ],
  busy: [],
  positions: [],
  states: [
    { id: "raise", label: "Raise" },
    { id: "tilt", label: "Tilt" },
  ],
  away: [],
  assumed: [],
  checks: { steps: 4, changes: 1 },
};
const held: readonly Held[] = [{ id: "raise", start: 25, because: "after", after: "drain" }];
const laid = layOut(plan, held);

test("everybody has a bar for each work, and nobody one for what goes on alone", () => {
  expect(laid.bars.filter(({ person }) => person === "ann").map(({ doing }) => doing.id)).toEqual([
    "drain",
    "hose",
    "lift",
  ]);
  expect(laid.bars.filter(({ person }) => person === "ben").map(({ doing }) => doing.pin)).toEqual([
    "set:raise",
    "lift",
  ]);
  expect(laid.alone.map(({ doing, from, until, lane }) => [doing.id, from, until, lane])).toEqual([
    ["drain", 5, 25, 0],
    ["cool", 8, 30, 1],
  ]);
  expect(laid.lanes).toBe(2);
});

test("a stay lasts from the first work at a place to the last before the next", () => {
  expect(laid.stays).toEqual([
    { person: "ann", position: "left", from: 0, until: 10 },
    { person: "ann", position: "under", from: 35, until: 60 },
    { person: "ben", position: "under", from: 35, until: 60 },
  ]);
});

test("a state that changes has a row, on from the end of its setting to the end of all", () => {
  expect(laid.states).toEqual([
    { id: "raise", label: "Raise", turns: [{ to: true, from: 25, until: 35 }], on: [{ from: 35, until: 60 }] },
  ]);
});

test("the chain goes from a person to what runs on alone and on to the next, and stays with who is in it", () => {
  expect(laid.chain).toEqual([
    { row: "ann", from: 0, until: 5 },
    { row: 0, from: 5, until: 25 },
    { row: "ben", from: 25, until: 35 },
    { row: "ben", from: 35, until: 60 },
  ]);
  expect(laid.doings.find(({ id }) => id === "raise")).toMatchObject({ isChained: true, held: { after: "drain" } });
});

test("a time is read as it is said, and dragged to five minutes of the clock", () => {
  expect(readMinute("1:20", undefined)).toBe(80);
  expect(readMinute("07:45", 420)).toBe(45);
  expect(readMinute("02:30 +1", 420)).toBe(1170);
  expect(readMinute("26:30", 420)).toBe(1170);
  for (const text of ["", "7", "7:60", "soon"]) expect(readMinute(text, 0)).toBeUndefined();
  expect(snapped(12.4, undefined)).toBe(10);
  expect(snapped(12.4, 422)).toBe(13);
  expect(snapped(-9, undefined)).toBe(0);
  expect(snapped(-9, 422)).toBe(3);
});

test("marks stand on round minutes of the clock", () => {
  expect(ticksBetween(0, 120, undefined, 1.1)).toEqual([0, 60, 120]);
  expect(ticksBetween(0, 120, 410, 1.1)).toEqual([10, 70]);
});
