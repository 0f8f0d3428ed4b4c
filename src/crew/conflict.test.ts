import { expect, test } from "vitest";
import { brute } from "../../bench/crew/brute.ts";
import { tinyProblem } from "../../bench/crew/random.ts";
import { contradictionIn } from "./conflict.ts";
import { lacksOf } from "./lacks.ts";
import type { Problem, Task } from "./problem.ts";

const STATES = 400;
const NONE = Number.POSITIVE_INFINITY;

/** The rules and tasks without which a question that has an answer has none, which must not be. */
const wrongIn = (problem: Problem): readonly Problem[] => {
  const wrong: Problem[] = [];
  contradictionIn(problem, (fewer) => {
    if (brute(fewer, STATES).elapsed === NONE) wrong.push(fewer);
    return false;
  });
  return wrong;
};

test("with fewer rules, or fewer tasks, what has an answer keeps one", () => {
  let looked = 0;
  for (let seed = 0; seed < 40; seed += 1) {
    const problem = tinyProblem(seed);
    if (lacksOf(problem).length > 0 || !(brute(problem, STATES).elapsed < NONE)) continue;
    looked += 1;
    expect(wrongIn(problem), `seed ${seed}`).toEqual([]);
  }
  expect(looked).toBeGreaterThan(18);
});

test("work that no longer pauses ends sooner, and what must follow it soon is not too late for that", () => {
  const task = (id: string, minutes: number, rest: Partial<Task>): Task => ({
    ...{
      id,
      minutes,
      crew: [{ count: 1 }],
      uses: [],
      on: [],
      off: [],
      empties: [],
      pauses: false,
      after: [],
      notBy: [],
    },
    ...rest,
  });
  // Ann paints from 0 to 2 and, after her break, from 6 to 7; what cures alone from 0 takes 7: the cover goes on at 7, at once after both.
  const problem: Problem = {
    people: [
      {
        id: "ann",
        skills: [],
        shifts: [
          { from: 0, until: 2 },
          { from: 6, until: NONE },
        ],
      },
    ],
    ...{ stocks: [], positions: [], states: [], holds: [], apart: [] },
    tasks: [
      task("paint", 3, { pauses: true, begun: { start: 0, people: ["ann"] } }),
      task("cure", 7, { crew: [], begun: { start: 0, people: [] } }),
      task("cover", 1, { after: [{ task: "paint", most: 0 }, { task: "cure" }] }),
    ],
  };
  expect(brute(problem, STATES).elapsed).toBe(8);
  expect(wrongIn(problem)).toEqual([]);
});
