import { describe, expect, it } from "vitest";
import { type Project, Replay } from "./replay.ts";

/** Of our own making: 0 before 3, 1 and 2 cannot be done at once, and lane 0 is full with any two of 0, 1 and 2. */
const project: Project = {
  ticks: [3, 4, 5, 2],
  needs: [[2], [2], [2], [1]],
  capacity: [3],
  arcs: [[0, 3]],
  orders: [[1, 2]],
};
/** Sides: 2 × activity is "at least", one more is "at most minus"; the makespan is variable 4, the order variable 5. */
const [MAKESPAN, ORDER] = [4 * 2, 5 * 2];
const atMost = (activity: number, value: number) => [activity * 2 + 1, -value] as const;
const atLeast = (activity: number, value: number) => [activity * 2, value] as const;

describe("the checking of a proof", () => {
  it("takes a clause that follows, and counts it from then on", () => {
    const replay = new Replay(project, 20);
    // When 1 comes first, 2 begins at 4 or later.
    expect(replay.learn(Int32Array.of(ORDER + 1, 0, ...atLeast(2, 4)))).toBe(true);
    expect(replay.learn(Int32Array.of(ORDER, 1))).toBe(false);
    expect(replay.learn(Int32Array.of(...atLeast(3, 3)))).toBe(true);
  });

  it.each([
    ["a bound that is too high", [...atLeast(1, 1)]],
    ["an order that nothing asks for", [ORDER, 1]],
    ["a latest start that leaves too little", [...atMost(0, 0)]],
    ["two such in one clause", [...atLeast(1, 1), ...atMost(2, 3)]],
  ])("refuses %s", (_, clause) => {
    expect(new Replay(project, 20).learn(Int32Array.from(clause))).toBe(false);
  });

  it("finds no makespan below the work that one lane has to do, and claims no more than that", () => {
    const replay = new Replay(project, 20);
    // 2 × (3 + 4 + 5) in a lane where only one of the three is at a time: 12.
    expect(replay.bounds(9)).toBe(true);
    expect(replay.bounds(13)).toBe(false);
    expect(replay.learn(Int32Array.of(MAKESPAN, 13))).toBe(false);
  });

  it("refuses orders of what has room together", () => {
    expect(() => new Replay({ ...project, orders: [[0, 3]] }, 20)).toThrow("have room together");
  });
});
