// The standards' figures and demonstration plans against their worked cases, and the sequential test's risks by trial.
import { describe, expect, test } from "vitest";
import {
  countPlan,
  mostMean,
  mostPercentile,
  passesMedianPlan,
  passesPercentilePlan,
  sequentialTest,
  sizeOfMeanPlan,
  sizeOfPercentilePlan,
  sizeOfPlainPlan,
} from "./demonstration.ts";
import { fromMedian, percentileOf } from "./lognormal.ts";
import { meanActive, mixturePercentile, standardFigures } from "./maintainability.ts";
import { uniformOf } from "./random.ts";

const job = (id: string, often: number, median: number, spread = 0) => ({
  id,
  often,
  elapsed: fromMedian(median, spread),
});

describe("figures over jobs", () => {
  test("trap: the mean is weighted by how often each comes: 57.333, not the plain 78.333", () => {
    const jobs = [job("a", 0.4, 35), job("b", 0.1, 140), job("c", 0.25, 60)];
    expect(standardFigures(jobs).mean).toBeCloseTo(57.333, 3);
    expect(meanActive(jobs.slice(0, 1), jobs.slice(1))).toBeCloseTo(57.333, 3);
    // Half of all are job a, which takes 35; b alone lies beyond 90 %, for it is 13 %.
    expect(standardFigures(jobs)).toMatchObject({ median: expect.closeTo(35, 6), p90: expect.closeTo(140, 6) });
  });

  test("of one job they are its own; of several the percentile of the mixture, not the mean of percentiles", () => {
    const one = job("a", 2, 60, 0.4);
    expect(standardFigures([one]).p95).toBeCloseTo(percentileOf(one.elapsed, 0.95), 8);
    const two = [one, job("b", 2, 600, 0.4)];
    expect(mixturePercentile(two, 0.75)).toBeCloseTo(600, 0);
    expect(() => standardFigures([job("a", 0, 10)])).toThrow("more than never");
  });
});

describe("demonstration plans", () => {
  const tenth = { producer: 0.1, consumer: 0.1 };

  test("1A with 40 and 80 min at 0.20 and 0.10", () => {
    const size = (variance: number) => sizeOfMeanPlan(40, 80, variance, { producer: 0.2, consumer: 0.1 });
    expect([0.5, 0.8, 1].map(size)).toEqual([7.52, 14.21, 19.92].map((one) => expect.closeTo(one, 2)));
    expect(mostMean(40, 20, 25, { producer: 0.2, consumer: 0.1 })).toBeCloseTo(40 + 0.8416 * 4, 3);
  });

  test("1B, 2 and 3", () => {
    expect(sizeOfPlainPlan(30, 45, 30, tenth)).toBeCloseTo(26.28, 2);
    expect(sizeOfPercentilePlan(120, 180, 0.95, 0.6, tenth)).toBeCloseTo(33.85, 2);
    expect(mostPercentile(120, 0.95, 0.6, 34, tenth)).toBeCloseTo(147.16, 2);
    expect(countPlan(0.05, 0.15, tenth)).toEqual({
      n: 60,
      most: 5,
      risks: { producer: expect.closeTo(0.0787, 4), consumer: expect.closeTo(0.0968, 4) },
    });
  });

  test("timed repairs against them", () => {
    const times = Array.from({ length: 34 }, (_, i) => 40 * Math.exp(0.6 * ((i % 17) / 8 - 1)));
    expect(passesPercentilePlan(times, 120, 0.95, 0.6, tenth)).toBe(true);
    expect(
      passesPercentilePlan(
        times.map((one) => one * 3),
        120,
        0.95,
        0.6,
        tenth,
      ),
    ).toBe(false);
    expect(passesMedianPlan(times.slice(0, 20), 50)).toBe(true);
    expect(passesMedianPlan(times.slice(0, 20), 20)).toBe(false);
    expect(() => passesMedianPlan(times, 50)).toThrow("20 times");
  });

  test("one after another: the risks that come out are no more than those stated", () => {
    const wrong = (share: number, bad: "accept" | "reject") => {
      const uniform = uniformOf(bad, 7);
      let count = 0;
      for (let trial = 0; trial < 1500; trial++) {
        const times = Array.from({ length: 600 }, () => (uniform() < share ? 100 : 10));
        if (sequentialTest(times, 60, 0.05, 0.15, tenth).say === bad) count++;
      }
      return count / 1500;
    };
    expect(wrong(0.05, "reject")).toBeLessThan(0.1 + 0.02);
    expect(wrong(0.15, "accept")).toBeLessThan(0.1 + 0.02);
  });

  test("after few repairs it goes on, and says from which counts it would not", () => {
    const { say, acceptAt, rejectAt } = sequentialTest([50, 70, 40], 60, 0.05, 0.15, tenth);
    expect(say).toBe("go on");
    expect(acceptAt).toBeLessThan(0);
    // (ln 9 − 3·ln(0.85/0.95)) / (ln 3 − ln(0.85/0.95)) = 2.5309 / 1.2098
    expect(rejectAt).toBeCloseTo(2.092, 3);
  });
});
