// Times as people give them, and the catalogue of first guesses.
import { expect, test } from "vitest";
import { FASTENERS, guess, HANDLING } from "./catalogue.ts";
import { meanOf, medianOf, percentileOf, varianceOf } from "./lognormal.ts";
import { DEFAULT_SPREAD, fromNumber, fromRange, fromThree, shiftedPercentile } from "./three.ts";

test("three points 12, 18, 36: PERT's mean 20 with the beta's own variance 18.2857, not (b − a)²/36 = 16", () => {
  const time = fromThree({ least: 12, likely: 18, most: 36 });
  if ("mend" in time) throw new Error(time.what);
  expect(meanOf(time)).toBeCloseTo(20, 10);
  expect(varianceOf(time)).toBeCloseTo(18.2857, 4);
  expect([0.5, 0.9, 0.95].map((p) => percentileOf(time, p))).toEqual(
    [19.558, 25.6446, 27.692].map((minutes) => expect.closeTo(minutes, 3)),
  );
});

test("a range with a middle by a shift: 20, 28, 48 has its zero at 14.667 and P95 57.8871", () => {
  const shifted = fromRange({ least: 20, likely: 28, most: 48 });
  expect(shifted).toMatchObject({ kind: "lognormal", mirrored: false, from: expect.closeTo(14.6667, 4) });
  if ("mend" in shifted) throw new Error(shifted.what);
  expect(shiftedPercentile(shifted, 0.1)).toBeCloseTo(20, 9);
  expect(shiftedPercentile(shifted, 0.9)).toBeCloseTo(48, 9);
  expect(shiftedPercentile(shifted, 0.95)).toBeCloseTo(57.8871, 4);
});

test("an even range is normal and a left-leaning one mirrored: said, not divided by zero", () => {
  expect(fromRange({ least: 20, likely: 30, most: 40 })).toMatchObject({ kind: "normal", mean: 30 });
  const mirrored = fromRange({ least: 20, likely: 40, most: 48 });
  expect(mirrored).toMatchObject({ kind: "lognormal", mirrored: true });
  if ("mend" in mirrored) throw new Error(mirrored.what);
  expect([0.1, 0.5, 0.9].map((p) => shiftedPercentile(mirrored, p))).toEqual(
    [20, 40, 48].map((minutes) => expect.closeTo(minutes, 9)),
  );
  expect(fromRange({ least: 20, likely: 20, most: 40 })).toMatchObject({ at: "likely" });
});

test("a time of zero and three points out of order are named with their mend", () => {
  expect(fromNumber(0)).toMatchObject({ at: "time", mend: "Give a time above 0 minutes." });
  expect(fromThree({ least: 10, likely: 8, most: 20 })).toMatchObject({ at: "likely" });
  expect(fromThree({ least: 10, likely: 18, most: 12 })).toMatchObject({ at: "most" });
  expect(fromThree({ least: 0, likely: 18, most: 20 })).toMatchObject({ at: "least" });
  expect(fromNumber(20)).toEqual({ centre: Math.log(20), spread: DEFAULT_SPREAD });
});

test("eight nuts off and on are 6.24 min by the handbook's line, besides the handling", () => {
  const made = guess({ kind: "cover fixing", fastener: "nut", count: 8 });
  if (!("off" in made)) throw new Error(made[0]?.what);
  const handling = HANDLING.find(({ id }) => id === "cover fixing");
  expect(medianOf(made.off) + medianOf(made.on) - (handling?.off ?? 0) - (handling?.on ?? 0)).toBeCloseTo(6.24, 10);
});

test("what a guess is made of adds up to it, each line with its origin; a torque wrench counts on the way back only", () => {
  const asked = { kind: "flange", fastener: "bolt", count: 6, size: 16, access: "blind", tool: "torque wrench" };
  const made = guess(asked);
  if (!("off" in made)) throw new Error(made[0]?.what);
  // (3 + 6 × 0.34 × 1.8) × 2.2 and (5 + 6 × 0.44 × 1.8) × 2.2 × 1.4
  expect(medianOf(made.off)).toBeCloseTo(14.6784, 6);
  expect(medianOf(made.on)).toBeCloseTo(30.03616, 5);
  expect(made.made.reduce((sum, one) => sum + one.off, 0)).toBeCloseTo(14.6784, 6);
  expect(made.made.reduce((sum, one) => sum + one.on, 0)).toBeCloseTo(30.03616, 5);
  expect(made.made.map(({ origin }) => origin.mark)).toEqual(["ours", "read", "ours", "ours", "ours"]);
});

test("every fault of a guess at once, with what the catalogue has", () => {
  expect(guess({ kind: "hoze", fastener: "bolt", count: 0, size: -1, access: "nice" })).toMatchObject([
    { at: "kind", mend: expect.stringContaining("hose") },
    { at: "access" },
    { at: "count" },
    { at: "size" },
  ]);
  expect(FASTENERS.filter(({ origin }) => origin.mark === "read").map(({ id }) => id)).toEqual(["bolt", "nut"]);
});
