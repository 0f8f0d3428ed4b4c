// Owns the checks that the left-over ranking finds planted omissions, in shops whose habits it does not know.

import { describe, expect, it } from "vitest";
import { forget, HURRIED, TIDY } from "./forgotten.ts";
import { measureRanking } from "./rank.ts";

describe("of simulated ways back with one omission", () => {
  it.each([
    ["tidy", TIDY],
    ["hurried", HURRIED],
  ] as const)(
    "in a %s shop, the short connection is first in four of five, among three in nineteen of twenty",
    (name, shop) => {
      const row = measureRanking(name, shop, 200, 7);
      expect(row.first).toBeGreaterThanOrEqual(0.8);
      expect(row.three).toBeGreaterThanOrEqual(0.95);
      // Better than looking into the open bags that hold such a piece, one by one.
      expect(row.first).toBeGreaterThan(row.plainFirst);
    },
  );

  it("the same seed is the same job, and something is always left", () => {
    for (let seed = 0; seed < 40; seed++) {
      const one = forget(seed, 60, HURRIED);
      expect(forget(seed, 60, HURRIED)).toEqual(one);
      expect(one.question.left.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThan(0);
      expect(one.question.bags.map(({ connection }) => connection)).toContain(one.truth);
    }
  });
});
