import { expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { GRAVITY } from "./gravity.ts";
import type { Vector } from "./problem.ts";
import { type Bearing, type Standing, standOf } from "./standing.ts";
import { padChecks } from "./standing-check.ts";
import { standRange } from "./standing-range.ts";

const pad = (id: string, x: number, y: number, half: readonly [number, number], stiffness = 1e7): Bearing => ({
  id,
  at: [x, y, 0],
  bears: "from below",
  holdsSideways: false,
  stiffness,
  pad: half,
});
const body = (bearings: readonly Bearing[], centre: Vector = [0.2, 0, 0.5]): Standing => ({
  id: "pack",
  mass: { nominal: 300, low: 285, high: 315 },
  centre,
  within: [0.02, 0.01, 0.02],
  bearings,
});

test("[S6] two jacks a metre apart, by hand: each may bear at the edge of its head, with the centre as near as it may be", () => {
  const jacks = [pad("front", 0.5, 0, [0.05, 0.1]), pad("rear", -0.5, 0, [0.05, 0.1])];
  const range = standRange(body(jacks))!;
  const [front, rear] = range.shares;
  // Borne at a in front and at b behind, the centre at c: the front has (c − b)/(a − b). Most with a 0.45, b −0.55, c 0.22; least with a 0.55, b −0.45, c 0.18.
  expect(front!.high / (315 * GRAVITY)).toBeCloseTo(0.77 / 1.0, 9);
  expect(front!.low / (285 * GRAVITY)).toBeCloseTo(0.63 / 1.0, 9);
  expect(rear!.high / (315 * GRAVITY)).toBeCloseTo(1 - 0.63, 9);
  // The heads reach 0.10 m to each side, the centre may be √(0.02² + 0.01²) out: 77.6 mm inside; 0.52 m over the heads at the most.
  const inside = 0.1 - Math.hypot(0.02, 0.01);
  expect(range.leans).toBeCloseTo((Math.atan(inside / 0.52) * 180) / Math.PI, 6);
  expect(range.uneven).toBeCloseTo(inside / 0.52, 6);
});

test("[S7] whatever the stiffness of four blocks, no share lies outside", () => {
  const chance = makeChance(9);
  const at = (stiffness: () => number): readonly Bearing[] =>
    [1, -1].flatMap((i) => [1, -1].map((j) => pad(`${i}/${j}`, 0.25 * i, 0.24 * j, [0.04, 0.04], stiffness())));
  const range = standRange(
    body(
      at(() => 1e7),
      [0.05, 0.02, 0.3],
    ),
  )!;
  for (let k = 0; k < 200; k++) {
    const draw = (middle: number, play: number): number => middle + play * (2 * chance.next() - 1);
    const mass = draw(300, 15);
    const stand = standOf({
      ...body(
        at(() => 10 ** draw(6.5, 1)),
        [draw(0.05, 0.02), draw(0.02, 0.01), 0.3],
      ),
      mass: { nominal: mass, low: mass, high: mass },
    });
    for (const [i, { force }] of stand.shares.entries()) {
      expect(force).toBeGreaterThanOrEqual(range.shares[i]!.low - 1e-6);
      expect(force).toBeLessThanOrEqual(range.shares[i]!.high + 1e-6);
    }
  }
});

test("[S8] soft jacks tilt by the difference of what they give; and what is bolted has no such range", () => {
  // Turning about the middle: W·0.22 m against 2·k·(0.5 m)² lengthwise, W·0.01 m against 2·k·(0.1 m)² across.
  const jacks = [pad("front", 0.5, 0, [0, 0.1], 1e5), pad("rear", -0.5, 0, [0, 0.1], 1e5)];
  const { tilt } = standRange(body(jacks))!;
  expect(tilt.sure).toBe(true);
  const weight = 315 * GRAVITY;
  const most = Math.hypot((weight * 0.22) / 5e4, (weight * 0.01) / 2e3);
  expect(tilt.most).toBeCloseTo((most * 180) / Math.PI, 6);
  expect(standRange(body([{ ...jacks[0]!, bears: "both ways" }, jacks[1]!]))).toBeUndefined();
});

test("[S9] a jack against its plate: what it may bear at most passes, asks for attention or fails, and without a plate nothing was checked", () => {
  const verdict = (kilograms: number | undefined, more: readonly Bearing[] = []) => {
    const rating = kilograms === undefined ? {} : { rating: { kilograms, source: "its plate", assumed: false } };
    const front = { ...pad("front", 0.5, 0, [0.05, 0.1]), gear: rating };
    return padChecks(body([front, pad("rear", -0.5, 0, [0.05, 0.1]), ...more]));
  };
  // At the most 0.77 of 315 kg; as stiff as they are 0.69 of it, for each head takes the load's turn with its edge.
  const [passes, ...others] = verdict(250);
  expect(others).toEqual([]);
  expect(passes).toMatchObject({ check: "pad", at: "front", verdict: "passes", source: "its plate", assumed: false });
  expect(passes!.value).toBeCloseTo(0.77 * 315 * GRAVITY, 6);
  expect(passes!.margin).toBeCloseTo(1 - (0.77 * 315) / 250, 9);
  expect(verdict(235)[0]!.verdict).toBe("attention");
  expect(verdict(200)[0]!.verdict).toBe("fails");
  expect(verdict(undefined)[0]).toMatchObject({ verdict: "not checked", source: "no limit is given" });
  // A bolt that bears besides shares it by a stiffness nobody knows: only all of the weight is counted on.
  const bolt: Bearing = { id: "bolt", at: [0, 0, 0], bears: "both ways", holdsSideways: true, stiffness: 1e7 };
  expect(verdict(250, [bolt])[0]!.verdict).toBe("attention");
  expect(verdict(320, [bolt])[0]).toMatchObject({ verdict: "passes", value: 315 * GRAVITY });
});
