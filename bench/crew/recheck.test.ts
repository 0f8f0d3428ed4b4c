import { describe, expect, it } from "vitest";
import { readRcp } from "./psplib.ts";
import { criticalPath, faultsOf } from "./recheck.ts";

/** Of our own making: 2 and 3 before 4, and 2 and 3 not together. */
const reading = readRcp("5 1\n4\n0 0 2 2 3\n2 3 1 4\n3 2 1 4\n4 1 1 5\n0 0 0\n");
if ("faults" in reading) throw new Error("unread");
const { problem } = reading;

const scheduleOf = (starts: readonly number[]) => ({
  tasks: problem.tasks.map(({ id, minutes }, index) => {
    const start = starts[index] ?? 0;
    return { task: id, start, free: start + minutes, end: start + minutes, people: [] };
  }),
  changes: [],
});

describe("the second look", () => {
  it("finds nothing wrong with a schedule that keeps everything", () => {
    expect(faultsOf(problem, scheduleOf([0, 2, 5]), 9)).toEqual([]);
    expect(criticalPath(problem)).toBe(7);
  });

  it.each([
    ["an overload", [1, 0, 3], 7, "R1 short by 1 at 1"],
    ["a task before what it follows has ended", [0, 2, 4], 8, "4 before 3 has ended"],
    ["another end than was said", [0, 2, 5], 8, "ends at 9, said to end at 8"],
    ["a start before the beginning", [-2, 0, 3], 7, "2 from -2 to 0"],
  ])("notices %s", (_, starts, makespan, fault) => {
    expect(faultsOf(problem, scheduleOf(starts), makespan)).toContain(fault);
  });

  it("notices a task that is missing", () => {
    const { tasks, changes } = scheduleOf([0, 2, 5]);
    expect(faultsOf(problem, { tasks: tasks.slice(1), changes }, 9)).toContain("2 of 3 tasks placed");
  });
});
