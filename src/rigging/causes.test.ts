import { expect, test } from "vitest";
import { causesOf, hang, type Rig, rangesOf } from "./index.ts";

const rig: Rig = {
  load: { mass: { nominal: 300, low: 285, high: 315 }, centre: [0.5, 0, 0], within: [0.03, 0.01, 0.02], outline: [] },
  eyes: [
    { id: "front", at: [1, 0, 0.3] },
    { id: "rear", at: [0, 0, 0.3] },
  ],
  legs: ["front", "rear"].map((id) => ({
    id: `${id}-leg`,
    lower: id,
    upper: "hook",
    length: 0.9,
    within: 0.005,
    stiffness: 5e6,
    gear: [],
  })),
  hooks: [{ id: "hook" }],
};

test("the causes add up to what lies between the nominal figure and the bound", () => {
  const [nominal, ranges] = [hang(rig), rangesOf(rig)];
  if (nominal.kind !== "hangs" || ranges.kind !== "ranges") throw new Error("it hangs and has ranges");
  const { high } = ranges.legs[0]!.tension;
  const causes = causesOf(rig, high, ({ legs }) => legs[0]!.tension);
  const sum = causes.reduce((total, { adds }) => total + adds, 0);
  expect(nominal.legs[0]!.tension + sum).toBeCloseTo(high.bound, 6);
});

test("two legs that both carry leave next to nothing to the choice of legs, and the mass adds its share", () => {
  const ranges = rangesOf(rig);
  if (ranges.kind !== "ranges") throw new Error("it has ranges");
  const causes = causesOf(rig, ranges.legs[0]!.tension.high, ({ legs }) => legs[0]!.tension);
  const of = (name: string): number => causes.find(({ cause }) => cause === name)!.adds;
  const nominal = hang(rig);
  // Tension is in proportion to the mass: 5 % of it, but for the stretch.
  expect(of("mass") / (nominal.kind === "hangs" ? nominal.legs[0]!.tension : 1)).toBeCloseTo(0.05, 3);
  expect(of("centre")).toBeGreaterThan(0);
  expect(Math.abs(of("which legs carry"))).toBeLessThan(0.01 * ranges.legs[0]!.tension.high.bound);
});
