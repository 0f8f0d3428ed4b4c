import { expect, test } from "vitest";
import { gatheringProblem, shopProblem, tinyProblem } from "../../bench/crew/random.ts";
import { scheduleOf } from "./answer.ts";
import { Breeder } from "./breed.ts";
import { check } from "./check.ts";
import { lacksOf } from "./lacks.ts";
import type { Problem } from "./problem.ts";
import { randomFrom } from "./random.ts";
import { openShop } from "./shop.ts";
import { Shortener } from "./shorten.ts";

/** Ticks before and after, and what the checker says; undefined where nothing was built. */
const shortened = (problem: Problem, seed: number, builds: number) => {
  if (lacksOf(problem).length > 0) return undefined;
  const shop = openShop(problem);
  const breeder = new Breeder(shop, randomFrom(seed));
  for (let build = 0; build < builds; build += 1) breeder.step();
  const { best } = breeder;
  if (best === undefined) return undefined;
  const shortener = new Shortener(shop, breeder, randomFrom(seed));
  const better = shortener.run(30, { conflicts: 600 });
  const after = breeder.best ?? best;
  return { before: best, after, better, faults: check(problem, scheduleOf(shop, after)).faults, shortener };
};

test.each([
  ["tiny", tinyProblem, 120, 2],
  ["with gatherings", gatheringProblem, 60, 2],
  ["middling", shopProblem, 12, 8],
] as const)("%s: what is found is legal and no longer, and some of it is shorter", (_, make, seeds, builds) => {
  let shorter = 0;
  for (let seed = 0; seed < seeds; seed += 1) {
    const one = shortened(make(seed), seed, builds);
    if (one === undefined) continue;
    expect([seed, one.faults]).toEqual([seed, []]);
    expect(one.after.finish, `seed ${seed}`).toBeLessThanOrEqual(one.before.finish);
    expect(one.shortener.conflicts, `seed ${seed}`).toBeLessThanOrEqual(600);
    expect(one.better, `seed ${seed}`).toBe(one.after !== one.before);
    if (one.after.finish < one.before.finish) shorter += 1;
  }
  expect(shorter).toBeGreaterThan(0);
});
