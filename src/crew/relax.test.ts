import { expect, test } from "vitest";
import { gatheringProblem, shopProblem, tinyProblem } from "../../bench/crew/random.ts";
import { Breeder } from "./breed.ts";
import { WorkClock } from "./clock.ts";
import { lacksOf } from "./lacks.ts";
import { lowerBound } from "./lower.ts";
import type { Model } from "./model.ts";
import type { Problem } from "./problem.ts";
import { randomFrom } from "./random.ts";
import { relax, startsIn } from "./relax.ts";
import { openShop } from "./shop.ts";
import { affordable } from "./turns.ts";

/** What starts break of a model, heads and tails; of the items that are certain to be made. */
const broken = (model: Model, starts: Int32Array, made: (item: number) => boolean): readonly string[] => {
  const faults: string[] = [];
  const both = (arcs: Model["arcs"], arc: number) => made(arcs.from[arc]!) && made(arcs.to[arc]!);
  const holds = (arcs: Model["arcs"], arc: number) =>
    starts[arcs.to[arc]!]! >= starts[arcs.from[arc]!]! + arcs.lag[arc]!;
  for (let arc = 0; arc < model.arcs.lag.length; arc += 1)
    if (both(model.arcs, arc) && !holds(model.arcs, arc)) faults.push(`arc ${arc}`);
  for (let choice = 0; choice < model.either.lag.length; choice += 1) {
    if (!both(model.either, choice) || !both(model.or, choice)) continue;
    if (!holds(model.either, choice) && !holds(model.or, choice)) faults.push(`choice ${choice}`);
  }
  const { first, last, head, tail, need } = model.uses;
  for (let lane = 0; lane < model.lanes; lane += 1) {
    for (let use = 0; use < first.length; use += 1) {
      if (!made(first[use]!)) continue;
      const moment = starts[first[use]!]! + head[use]!;
      let taken = 0;
      for (let other = 0; other < first.length; other += 1) {
        if (!made(first[other]!)) continue;
        const from = starts[first[other]!]! + head[other]!;
        if (from <= moment && moment < starts[last[other]!]! + tail[other]!) taken += need[other * model.lanes + lane]!;
      }
      if (taken > model.capacity[lane]!) faults.push(`lane ${lane} at ${moment}`);
    }
  }
  return faults;
};

/** The best of some schedules, in the relaxation for its own end. */
const relaxed = (problem: Problem, seed: number, builds: number) => {
  if (lacksOf(problem).length > 0) return undefined;
  const shop = openShop(problem);
  const breeder = new Breeder(shop, randomFrom(seed));
  for (let build = 0; build < builds; build += 1) breeder.step();
  const { best } = breeder;
  if (best === undefined) return undefined;
  const { most, more } = affordable(shop, new WorkClock(shop), best.finish);
  const rough = relax(shop, best.finish, { most, open: more });
  const floor = lowerBound(rough.model, rough.still).bound;
  const found = relax(shop, best.finish, { most, open: more, floor });
  const starts = startsIn(found, shop, best);
  const changes = shop.states.map(
    (_, state) => best.changes.filter((spot) => shop.works[spot.work]?.turns?.state === state).length,
  );
  const made = (item: number): boolean =>
    item < shop.tasks ||
    item >= found.model.size - found.walks.length - found.absences.length ||
    shop.states.some((_, state) => item >= found.changes[state]! && item < found.changes[state]! + changes[state]!);
  return { shop, best, found, starts, made };
};

const upTo = (count: number): readonly number[] => [...new Array(count).keys()];

/** 1506 once had a change made only where another was made too. */
const families: readonly (readonly [string, (seed: number) => Problem, readonly number[], number])[] = [
  ["tiny", tinyProblem, [...upTo(150), 1506], 12],
  ["with gatherings", gatheringProblem, upTo(100), 12],
  ["middling", shopProblem, upTo(12), 40],
];

test.each(families)(
  "%s: a legal schedule has its place in the relaxation, no sooner than the heads, no later than the tails",
  (_, make, seeds, builds) => {
    let looked = 0;
    for (const seed of seeds) {
      const one = relaxed(make(seed), seed, builds);
      if (one === undefined) continue;
      looked += 1;
      const { found, starts, made, best } = one;
      expect([seed, broken(found.model, starts, made)]).toEqual([seed, []]);
      const { heads, tails, bound } = lowerBound(found.model, found.still);
      const finish = found.clock.at(best.finish);
      expect(bound, `seed ${seed}`).toBeLessThanOrEqual(finish);
      for (let item = 0; item < found.model.size; item += 1) {
        if (!made(item)) continue;
        expect(starts[item], `seed ${seed}, head of ${item}`).toBeGreaterThanOrEqual(heads[item]!);
        if (found.model.counted[item] === 1)
          expect(finish - starts[item]!, `seed ${seed}, tail of ${item}`).toBeGreaterThanOrEqual(tails[item]!);
      }
    }
    expect(looked).toBeGreaterThan(seeds.length / 3);
  },
);
