import { describe, expect, test } from "vitest";
import { brute } from "../../bench/crew/brute.ts";
import { lowerBound } from "./lower.ts";
import type { Problem, Task } from "./problem.ts";
import { relax } from "./relax.ts";
import { openShop } from "./shop.ts";
import { walksOf } from "./walks.ts";

const task = (id: string, minutes: number, position: string, count: number, after: readonly string[] = []): Task => ({
  ...{ id, minutes, position, crew: [{ count }], uses: [], on: [], off: [], empties: [], pauses: false, notBy: [] },
  after: after.map((one) => ({ task: one })),
});

/** Two people at three positions, 2 min from each to each. */
const ask = (tasks: readonly Task[], rest: Partial<Problem> = {}): Problem => ({
  ...{ people: ["ann", "bo"].map((id) => ({ id, skills: [] })), stocks: [], states: [], holds: [], apart: [], tasks },
  positions: ["x", "y", "z"].map((id) => ({ id, room: 2 })),
  moves: [
    [0, 2, 2],
    [2, 0, 2],
    [2, 2, 0],
  ],
  ...rest,
});

const told = (problem: Problem) =>
  walksOf(openShop(problem)).map(({ side, position, nth }) => `${side} ${problem.positions[position]?.id} ${nth}`);

const boundOf = (problem: Problem): number => {
  const shop = openShop(problem);
  const { model, still } = relax(shop, 60 * shop.unit, { most: [], open: [] });
  return lowerBound(model, still).bound / shop.unit;
};

const lift = task("lift", 2, "x", 2);
const spread = [task("a", 1, "y", 1, ["lift"]), task("b", 1, "z", 1, ["lift"]), task("c", 4, "x", 1, ["lift"])];

describe("ways that somebody goes for certain", () => {
  test("after all lift together somebody comes to each other position that has work", () => {
    expect(told(ask([lift, ...spread]))).toEqual(["to y 1", "to z 1"]);
  });

  test("before all lift together somebody leaves each other position, as many as worked there together", () => {
    const before = [task("a", 1, "y", 2), task("b", 1, "z", 1), task("c", 4, "x", 1)];
    const together = task("lift", 2, "x", 3, ["a", "b", "c"]);
    const people = ["ann", "bo", "cy"].map((id) => ({ id, skills: [] }));
    const positions = ["x", "y", "z"].map((id) => ({ id, room: 3 }));
    expect(told(ask([...before, together], { people, positions }))).toEqual(["from y 1", "from y 2", "from z 1"]);
  });

  test("between two lifts: to the other positions, and back", () => {
    const lower = task("lower", 2, "x", 2, ["a", "b"]);
    expect(told(ask([lift, ...spread.slice(0, 2), lower]))).toEqual(["to y 1", "to z 1", "back x 1"]);
  });

  test("none where what comes after may as well come before, and none where moving takes no time", () => {
    expect(told(ask([lift, task("a", 1, "y", 1)]))).toEqual([]);
    const { moves: _, ...still } = ask([lift, ...spread]);
    expect(told(still)).toEqual([]);
  });

  test("they take their people's time: 2 for the lift, then 6 of work and 4 of ways for two", () => {
    const problem = ask([lift, ...spread]);
    expect(boundOf(problem)).toBe(7);
    // Ann goes on at x from 2 to 6; Bo is at y from 4 to 5 and at z from 7 to 8.
    expect(brute(problem, 10_000).elapsed).toBe(8);
  });
});
