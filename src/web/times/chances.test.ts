// Owns the tests of what is read off simulated finishes.

import { describe, expect, it } from "vitest";
import { chanceWithin, dotsOf, readTime, timeTicks } from "./chances.ts";

/** Even between 100 and 200 minutes. */
const EVEN = Array.from({ length: 1001 }, (_, index) => 100 + index / 10);

describe("the chance of a time", () => {
  it("is read between two quantiles", () => expect(chanceWithin(EVEN, 125.05)).toBeCloseTo(0.2505));
  it("is none before all runs, and certain after them", () => {
    expect(chanceWithin(EVEN, 99)).toBe(0);
    expect(chanceWithin(EVEN, 200)).toBe(1);
    expect(chanceWithin([], 5)).toBe(0);
  });
  it("of finishes that are all alike jumps", () => {
    const alike = [60, 60, 60];
    expect(chanceWithin(alike, 59.9)).toBe(0);
    expect(chanceWithin(alike, 60)).toBe(1);
  });
});

describe("dots", () => {
  it("stand for as many runs each, heaped from below", () => {
    const dots = dotsOf(EVEN, 100, 25);
    expect(dots).toHaveLength(100);
    // A hundred even dots over four columns of 25 minutes: 25 each, the last column from 24 up to 200.
    expect(dots.filter(({ column }) => column === 112.5)).toHaveLength(25);
    expect(Math.max(...dots.map(({ row }) => row))).toBe(24);
  });
});

describe("a time as people write it", () => {
  const SEVEN = 7 * 60;
  it.each([
    ["15:30", 510],
    ["6:00", 23 * 60],
    ["07:00", 1440],
    ["9:00 +1", 2 * 60 + 1440],
    ["510", 510],
    ["510 min", 510],
    ["8 h 30 min", 510],
    ["8 h", 480],
    ["8,5 h", 510],
  ])("%s", (text, minutes) => expect(readTime(text, SEVEN)).toBe(minutes));
  it.each(["", "soon", "25:00", "12:70", "-3"])("refuses %j", (text) => expect(readTime(text, SEVEN)).toBeUndefined());
});

describe("ticks", () => {
  it("are whole times", () => expect(timeTicks(400, 700, 6)).toEqual([420, 480, 540, 600, 660]));
  it("are none where nothing lies between", () => expect(timeTicks(61, 62, 1)).toHaveLength(2));
});
