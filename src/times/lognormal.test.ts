// What a lognormal time is held to: the handbook's own worked case, and figures reckoned elsewhere to full precision.
import { expect, test } from "vitest";
import { atMost, betaBelow, betaQuantile, logGamma, studentBelow, studentQuantile } from "./beta.ts";
import {
  chanceWithin,
  fitTimes,
  fromMode,
  fromMoments,
  fromPercentiles,
  meanOf,
  medianOf,
  modeOf,
  percentileOf,
  sumOf,
  varianceOf,
} from "./lognormal.ts";
import { below, hazard, quantile } from "./normal.ts";

/** MIL-HDBK-338B's 46 repair times, hours (from memory; they give back both of its printed figures to five places). */
const HANDBOOK = [
  0.2, 0.3, 0.5, 0.5, 0.5, 0.5, 0.6, 0.6, 0.7, 0.7, 0.7, 0.8, 0.8, 1, 1, 1, 1, 1.1, 1.3, 1.5, 1.5, 1.5, 1.5, 2, 2, 2.2,
  2.5, 2.7, 3, 3, 3.3, 3.3, 4, 4, 4.5, 4.7, 5, 5.4, 5.5, 7, 7.5, 8.8, 9, 10.3, 22, 24.5,
];

test("the normal distribution: handbook z, and quantiles that undo it into the far tails", () => {
  expect([0.8, 0.85, 0.9, 0.95, 0.99].map((p) => quantile(p))).toEqual(
    [0.8416, 1.036, 1.282, 1.645, 2.326].map((z) => expect.closeTo(z, 3)),
  );
  expect(quantile(0.975)).toBeCloseTo(1.959963984540054, 13);
  for (const p of [1e-9, 1e-4, 0.03, 0.5, 0.7, 0.999]) expect(below(quantile(p)) / p).toBeCloseTo(1, 11);
  // E[Z | Z > 0] = √(2/π); from −∞ on nothing is known.
  expect(hazard(0)).toBeCloseTo(Math.sqrt(2 / Math.PI), 13);
  expect(hazard(-9)).toBeCloseTo(0, 13);
});

test("gamma, beta, Student's t and the binomial against exact values", () => {
  expect(Math.exp(logGamma(11))).toBeCloseTo(3628800, 4);
  expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13);
  // Shapes 2 and 3: 6x² − 8x³ + 3x⁴.
  expect(betaBelow(0.3, 2, 3)).toBeCloseTo(6 * 0.09 - 8 * 0.027 + 3 * 0.0081, 13);
  expect(betaQuantile(betaBelow(0.3, 2, 3), 2, 3)).toBeCloseTo(0.3, 12);
  // One degree of freedom is Cauchy's: the quarter is at −1.
  expect(studentBelow(-1, 1)).toBeCloseTo(0.25, 13);
  expect(studentQuantile(0.95, 19) / Math.sqrt(19)).toBeCloseTo(0.39669, 5);
  expect(atMost(5, 60, 0.05)).toBeCloseTo(1 - 0.0787, 4);
  expect(atMost(1, 3, 0.5)).toBeCloseTo(0.5, 13);
});

test("the handbook's case: t̄′ = 0.65879, s = 1.11435 with divisor n − 1; with n it would be 1.10217", () => {
  const fit = fitTimes(HANDBOOK);
  expect(HANDBOOK).toHaveLength(46);
  expect(fit.centre).toBeCloseTo(0.65879, 5);
  expect(fit.spread).toBeCloseTo(1.11435, 5);
  expect(fit.spread * Math.sqrt(45 / 46)).toBeCloseTo(1.10217, 5);
  const stated = { centre: 0.65879, spread: 1.11435 };
  expect(meanOf(stated)).toBeCloseTo(3.5955, 4);
  expect(medianOf(stated)).toBeCloseTo(1.9325, 4);
  expect(modeOf(stated)).toBeCloseTo(0.5582, 4);
  expect(percentileOf(stated, 0.9)).toBeCloseTo(8.0598, 4);
  expect(percentileOf(stated, 0.95)).toBeCloseTo(12.0822, 4);
  expect(chanceWithin(stated, 5)).toBeCloseTo(0.8032, 4);
  // The mean of the sample is another figure than the mean of the lognormal through it.
  expect(HANDBOOK.reduce((sum, one) => sum + one, 0) / 46).toBeCloseTo(3.6087, 4);
  expect(() => fitTimes([3, 0])).toThrow("each above 0");
});

test("from percentiles, from a mode, from moments, and back", () => {
  expect(fromPercentiles([0.1, 20], [0.9, 45])).toEqual({
    centre: expect.closeTo(3.401197, 6),
    spread: expect.closeTo(0.316386, 6),
  });
  expect(meanOf(fromPercentiles([0.05, 18], [0.95, 60]))).toBeCloseTo(35.1396, 4);
  const mode = fromMode(25, [0.95, 60]);
  expect(mode.spread).toBeCloseTo(0.423308, 6);
  expect([modeOf(mode), percentileOf(mode, 0.95)]).toEqual([expect.closeTo(25, 10), expect.closeTo(60, 10)]);
  const moments = fromMoments(20, 16);
  expect(moments).toEqual({ centre: expect.closeTo(2.97612, 5), spread: expect.closeTo(0.198042, 6) });
  expect([meanOf(moments), varianceOf(moments)]).toEqual([expect.closeTo(20, 10), expect.closeTo(16, 10)]);
});

test("a sum of three against convolution: within 1 % from the median to P95, low in the low tail", () => {
  const sum = sumOf([
    { centre: Math.log(10), spread: 0.4 },
    { centre: Math.log(20), spread: 0.6 },
    { centre: Math.log(35), spread: 0.5 },
  ]);
  expect(meanOf(sum)).toBeCloseTo(74.43741, 5);
  expect(varianceOf(sum)).toBeCloseTo(715.55563, 4);
  expect(sum).toEqual({ centre: expect.closeTo(4.249231, 6), spread: expect.closeTo(0.348506, 6) });
  const exact: readonly (readonly [number, number])[] = [
    [0.5, 69.663],
    [0.8, 93.152],
    [0.9, 108.951],
    [0.95, 124.334],
  ];
  for (const [p, minutes] of exact) expect(Math.abs(percentileOf(sum, p) / minutes - 1)).toBeLessThan(0.01);
  expect(percentileOf(sum, 0.05)).toBeCloseTo(39.488, 3);
});

test("a time without spread is either met or not", () => {
  expect(chanceWithin({ centre: Math.log(5), spread: 0 }, 5)).toBe(1);
  expect(chanceWithin({ centre: Math.log(5), spread: 0 }, 4.9)).toBe(0);
  expect(chanceWithin({ centre: 1, spread: 1 }, 0)).toBe(0);
});
