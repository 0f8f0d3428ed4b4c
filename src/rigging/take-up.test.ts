import { describe, expect, test } from "vitest";
import { fourLegs, onBeam, onTwoHooks, twoLegs } from "../../bench/rigging/rigs.ts";
import { hang } from "./hang.ts";
import type { Rig } from "./problem.ts";
import { attitudeRange, rangesOf } from "./range.ts";
import type { Band } from "./search.ts";
import { hungBy, takeUpFor, withTaken } from "./take-up.ts";

const linked = (rig: Rig, most: readonly number[], within: readonly [number, number, number] = [0, 0, 0]): Rig => ({
  ...rig,
  load: { ...rig.load, within },
  legs: rig.legs.map((leg, i) => ({ ...leg, takeUp: { step: 0.024, most: most[i]!, taken: 0 } })),
});
const band = (pitch: number, play: number): Band => ({ pitch: [pitch - play, pitch + play], roll: [-1, 1] });

test("[B1] 8 mm chain, the first leg shortened link by link: the published row of pitches and tensions", () => {
  const rig = linked(twoLegs(), [6, 6]);
  for (const [n, pitch, a, b] of [
    [0, -5.964274, 1484.0376, 1375.2623],
    [1, -4.520456, 1503.7135, 1365.4627],
    [2, -3.082484, 1522.6788, 1356.2008],
    [3, -1.648975, 1540.9941, 1347.3931],
    [4, -0.218568, 1558.7158, 1338.9563],
    [5, 1.210082, 1575.8971, 1330.8049],
    [6, 2.63832, 1592.589, 1322.8499],
  ] as const) {
    const hung = hang(withTaken(rig, [n, 0]));
    if (hung.kind !== "hangs") throw new Error(hung.kind);
    expect(Math.abs(hung.pitch - pitch)).toBeLessThan(1e-6);
    expect(Math.abs(hung.legs[0]!.tension - a)).toBeLessThan(1e-3);
    expect(Math.abs(hung.legs[1]!.tension - b)).toBeLessThan(1e-3);
  }
  for (const [n, pitch] of [
    [1, -7.434464],
    [2, -8.898467],
    [3, -10.357669],
  ] as const) {
    const hung = hang(withTaken(rig, [0, n]));
    expect(hung.kind === "hangs" && Math.abs(hung.pitch - pitch) < 1e-6).toBe(true);
  }
});

test("[B2] −3.0° ± 0.8° has the answer of two links in the first leg", () => {
  const result = takeUpFor(linked(twoLegs(), [6, 0]), band(-3, 0.8));
  expect(result.fit?.taken).toEqual([2, 0]);
  expect(result.fit?.pitch).toBeCloseTo(-3.082484, 6);
  expect(result.fit?.range?.pitch[0]).toBeCloseTo(-3.082484, 4);
});

test("[B3] −3.8° ± 0.5° has none: the nearest and both its neighbours", () => {
  const result = takeUpFor(linked(twoLegs(), [6, 0]), band(-3.8, 0.5));
  expect(result.fit).toBeUndefined();
  // One link −4.52°, two −3.08°: the band ends at −4.3° and −3.3°.
  expect(result.nearest?.taken).toEqual([2, 0]);
  expect(result.nearest?.miss).toBeCloseTo(3.3 - 3.082484, 4);
  expect(result.neighbours.map(({ taken }) => taken[0]).sort()).toEqual([1, 3]);
});

test("[B4] four legs: the least of slack and links among all combinations, as trying each of them shows, and proved over the uncertainty", () => {
  const rig = linked(fourLegs(5e6, [], [0.04, 0, 0.1]), [3, 3, 3, 3], [0.01, 0.01, 0.01]);
  const wanted: Band = { pitch: [-3.2, -0.6], roll: [-1.2, 1.2] };
  const result = takeUpFor(rig, wanted);
  expect(result.looked).toBe(256);
  const { fit } = result;
  expect(fit?.miss).toBe(0);
  const ranges = rangesOf(withTaken(rig, fit!.taken));
  if (ranges.kind !== "ranges") throw new Error(ranges.why.is);
  expect(ranges.pitch.low.bound).toBeGreaterThanOrEqual(-3.2);
  expect(ranges.pitch.high.bound).toBeLessThanOrEqual(-0.6);
  // Both front legs alike shortened keep it level across; no single link does.
  expect(fit!.taken[0]).toBe(fit!.taken[1]);
  for (let code = 0; code < 256; code++) {
    const taken = [code & 3, (code >> 2) & 3, (code >> 4) & 3, code >> 6];
    if (taken.reduce((a, b) => a + b, 0) >= fit!.taken.reduce((a, b) => a + b, 0)) continue;
    const hung = hang(withTaken(rig, taken));
    if (hung.kind !== "hangs") continue;
    const inside = hung.pitch > -3.2 && hung.pitch < -0.6 && Math.abs(hung.roll) < 1.2;
    const slack = Math.max(...hung.legs.map((leg) => leg.slack));
    if (inside && slack <= fit!.slack) {
      const other = rangesOf(withTaken(rig, taken));
      expect(
        other.kind === "ranges" &&
          other.pitch.low.bound >= -3.2 &&
          other.pitch.high.bound <= -0.6 &&
          other.roll.low.bound >= -1.2 &&
          other.roll.high.bound <= 1.2,
        taken.join(),
      ).toBe(false);
    }
  }
});

describe("[B5] exact, however many there are to be proved", () => {
  const rig = linked(fourLegs(5e6, [], [0.04, 0, 0.1]), [3, 3, 3, 3], [0.01, 0.01, 0.01]);
  const all = Array.from({ length: 256 }, (_, code) => [code & 3, (code >> 2) & 3, (code >> 4) & 3, code >> 6]);
  const missOf = (wanted: Band, taken: readonly number[]): number => {
    const range = attitudeRange(withTaken(rig, taken));
    if (range === undefined) return Number.POSITIVE_INFINITY;
    return Math.max(
      0,
      wanted.pitch[0] - range.pitch[0],
      range.pitch[1] - wanted.pitch[1],
      wanted.roll[0] - range.roll[0],
      range.roll[1] - wanted.roll[1],
    );
  };
  test.each([
    ["too narrow for what is not known", { pitch: [-1.6, -1.0], roll: [-0.3, 0.3] }],
    ["wide in pitch, too narrow across", { pitch: [-9, 9], roll: [-0.4, 0.4] }],
    ["out of reach", { pitch: [20, 21], roll: [-1, 1] }],
  ] as const)("%s: the nearest of all, as asking each for its range shows", (_, wanted) => {
    const result = takeUpFor(rig, wanted);
    const least = Math.min(...all.map((taken) => missOf(wanted, taken)));
    expect(result.fit).toBeUndefined();
    expect(result.nearest?.miss).toBeCloseTo(least, 9);
  });
  test("something fits exactly where some range does", () => {
    for (const width of [0.5, 0.8, 1.1, 1.4]) {
      const wanted: Band = { pitch: [-2 - width, -2 + width], roll: [-width, width] };
      expect(takeUpFor(rig, wanted).fit !== undefined).toBe(all.some((taken) => missOf(wanted, taken) === 0));
    }
  });
});

describe("[B6] below a beam and on two hooks", () => {
  const chained = (
    rig: Rig,
    most: readonly number[],
    within: readonly [number, number, number],
    play: number,
  ): Rig => ({
    ...rig,
    load: { ...rig.load, within },
    legs: rig.legs.map((leg, i) => ({
      ...leg,
      within: play,
      ...(most[i]! > 0 ? { takeUp: { step: 0.024, most: most[i]!, taken: 0 } } : {}),
    })),
  });
  /** By asking every combination for its range. */
  const least = (rigs: readonly Rig[], wanted: Band): number =>
    Math.min(
      ...rigs.map((rig) => {
        const found = rangesOf(rig);
        if (found.kind !== "ranges") return Number.POSITIVE_INFINITY;
        const { pitch, roll } = found;
        return Math.max(
          0,
          wanted.pitch[0] - pitch.low.bound,
          pitch.high.bound - wanted.pitch[1],
          wanted.roll[0] - roll.low.bound,
          roll.high.bound - wanted.roll[1],
        );
      }),
    );
  const bar = onBeam(5e6);
  const pins = ["lug", "second"];
  const points = [...bar.beam!.points, { id: "second", at: [0.1, 0, 0.1] as const }];
  const barred = chained({ ...bar, beam: { ...bar.beam!, points } }, [3, 3], [0.003, 0.003, 0.003], 0.001);
  const hooked = chained(onTwoHooks(5e6), [2, 2, 0, 0], [0.002, 0.002, 0.002], 0.001);
  const cases: readonly (readonly [string, Rig, readonly Rig[], Band])[] = [
    [
      "steps in both legs and two lugs to hang the bar by",
      barred,
      pins.flatMap((pin) =>
        [0, 1, 2, 3].flatMap((a) => [0, 1, 2, 3].map((b) => withTaken(hungBy(barred, pin), [a, b]))),
      ),
      { pitch: [-1.5, 1.5], roll: [-2, 2] },
    ],
    [
      "two hooks, none fits",
      hooked,
      [0, 1, 2].flatMap((a) => [0, 1, 2].map((b) => withTaken(hooked, [a, b, 0, 0]))),
      { pitch: [7, 7.2], roll: [-2, 2] },
    ],
  ];
  test.each(cases)(
    "%s: what comes back fits, or is the nearest of all, as asking each shows",
    (_, rig, rigs, wanted) => {
      const result = takeUpFor(rig, wanted);
      expect(result.looked).toBe(rigs.length);
      const best = least(rigs, wanted);
      const found = result.fit ?? result.nearest;
      expect(found?.miss).toBeCloseTo(best, 6);
      const hung = hang(withTaken(hungBy(rig, found?.pin), found!.taken));
      if (hung.kind !== "hangs") throw new Error(hung.kind);
      expect(Math.abs(hung.pitch - found!.pitch)).toBeLessThan(0.01);
      expect(Math.abs(hung.roll - found!.roll)).toBeLessThan(0.01);
      if (result.fit) expect(hung.pitch).toBeGreaterThan(wanted.pitch[0]);
    },
  );
});
