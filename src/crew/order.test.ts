// Waits that close a circle and take no time: none of the tasks can be put down first, and yet there is a schedule.
import { expect, test } from "vitest";
import { brute } from "../../bench/crew/brute.ts";
import { check } from "./check.ts";
import type { After, Problem, Task } from "./problem.ts";
import { solve } from "./solve.ts";

const task = (id: string, minutes: number, after: readonly After[]): Task => ({
  ...{ id, minutes, crew: [{ count: 1 }], uses: [], on: [], off: [], empties: [], pauses: false, notBy: [] },
  after,
});

const CIRCLES: readonly (readonly [circle: string, least: number, tasks: readonly Task[]])[] = [
  ["each at once after the other, without length", 0, [task("a", 0, [{ task: "b" }]), task("b", 0, [{ task: "a" }])]],
  [
    "they begin together",
    3,
    [task("a", 3, [{ task: "b", least: -2 }]), task("b", 2, [{ task: "a", least: -3 }]), task("c", 1, [])],
  ],
  [
    "one may begin long before the other ends",
    5,
    [task("a", 3, [{ task: "b", least: -9 }]), task("b", 2, [{ task: "a" }])],
  ],
  ["after itself, as long before its end as it takes", 2, [task("a", 2, [{ task: "a", least: -2 }])]],
  [
    // B no more than 1 min after a has begun, a no more than 1 min after b has: c keeps bo until 2.
    "within a minute of one another, and one waits",
    5,
    [
      task("c", 2, []),
      task("a", 3, [{ task: "b", least: -4 }, { task: "c" }]),
      task("b", 3, [{ task: "a", least: -4 }]),
    ],
  ],
];

test.each(CIRCLES)("%s: %d min", (_, least, tasks) => {
  const people = ["ann", "bo"].map((id) => ({ id, skills: [] }));
  const problem: Problem = { people, stocks: [], positions: [], states: [], holds: [], apart: [], tasks };
  const { schedule, figures, bound } = solve(problem, { schedules: 200, conflicts: 300 });
  expect(brute(problem, 5000).elapsed).toBe(least);
  expect([figures?.elapsed, bound]).toEqual([least, least]);
  expect(schedule !== undefined && check(problem, schedule).legal).toBe(true);
});
