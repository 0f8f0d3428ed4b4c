import { describe, expect, it } from "vitest";
import { randomFrom } from "../../src/crew/random.ts";
import { readRcp } from "./psplib.ts";
import { reprove } from "./reprove.ts";

/** A project of our own making in Patterson's format: so many activities, each after some before it, two resources. */
const projectOf = (seed: number, size: number) => {
  const random = randomFrom(seed);
  const whole = (below: number): number => Math.floor(random() * below);
  const capacity = [3 + whole(4), 3 + whole(4)];
  const lines = Array.from({ length: size }, (_, index) => {
    const followers = Array.from({ length: whole(3) }, () => index + 3 + whole(6)).filter((one) => one <= size + 1);
    const needs = capacity.map((room) => whole(room + 1));
    return [
      1 + whole(7),
      ...needs,
      ...[...new Set(followers), size + 2].flatMap((one, _, all) => (one === size + 2 ? [all.length, ...all] : [])),
    ];
  });
  const first = [0, 0, 0, size, ...Array.from({ length: size }, (_, index) => index + 2)];
  const text = [[size + 2, 2], capacity, first, ...lines, [0, 0, 0, 0]].map((line) => line.join(" ")).join("\n");
  const reading = readRcp(`${text}\n`);
  if ("faults" in reading) throw new Error(JSON.stringify(reading.faults));
  return reading.problem;
};

describe("a bound looked at again", () => {
  it("follows from the project, clause by clause, for projects of all kinds", () => {
    let clauses = 0;
    for (let seed = 1; seed <= 60; seed += 1) {
      const problem = projectOf(seed, 9);
      // One after the other there is a schedule.
      const longest = problem.tasks.reduce((sum, { minutes }) => sum + minutes, 0);
      const again = reprove(problem, longest + 1, longest, 300);
      expect(again, `seed ${seed}`).toMatchObject({ wrong: undefined, follows: true });
      clauses += again.clauses;
    }
    // Else nothing was looked at.
    expect(clauses).toBeGreaterThan(200);
  });
});
