// The search through every state against another, which shares nothing with it; whatever the rounds would have answered first.
import { expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { generateMachine } from "../../bench/release/generate.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { compile, sideAtom } from "./compile.ts";
import { encode } from "./encode.ts";
import type { Problem } from "./problem.ts";
import { States } from "./states.ts";
import { wire } from "./wiring.ts";

const opened = (problem: Problem) => {
  const c = compile(problem);
  const e = encode(c, wire(c, sideAtom(c, c.contexts.length, 0)));
  return { c, e, states: States.of(c, e) };
};
const ALL = Number.POSITIVE_INFINITY;

test("100 small random problems: the least labour, and the fewest connections with it, are those of brute force", () => {
  const wrong: string[] = [];
  for (let seed = 20_000; seed < 20_100; seed++) {
    const problem = randomProblem(seed);
    const { c, e, states } = opened(problem);
    const found = states?.search(ALL, ALL);
    const least = brute(problem);
    const own =
      found?.kind === "order"
        ? [e.minutes(found.cost), found.events.filter((event) => event >= 0 && event < c.wayCount).length]
        : [];
    const theirs = least === undefined ? [] : [least.labour, least.connections];
    if (`${own}` !== `${theirs}`) wrong.push(`seed ${seed}: ${own}, and it is ${theirs}`);
  }
  expect(wrong).toEqual([]);
});

test("a state at a time it comes to the same, and never names a bound above it; below the least there is none", () => {
  const problem = randomProblem(20_009);
  const { states, e } = opened(problem);
  const least = brute(problem)?.labour ?? ALL;
  expect(least).toBeLessThan(ALL);
  for (;;) {
    const found = states?.search(1, ALL);
    if (found?.kind !== "open") {
      expect(found?.kind === "order" && e.minutes(found.cost)).toBe(least);
      break;
    }
    expect(e.minutes(found.cost)).toBeLessThanOrEqual(least);
  }
  expect(opened(problem).states?.search(ALL, e.price(least))).toEqual({ kind: "none" });
});

test("a machine whose states have no number is left to the rounds", () => {
  const { problem } = generateMachine({ family: "thin", size: 150, hoist: "loose", seed: 1 });
  expect(opened(problem).states).toBeUndefined();
});
