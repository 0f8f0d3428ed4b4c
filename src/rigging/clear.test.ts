import { expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { attitudeOf, turnOf, upOf } from "./attitude.ts";
import { carried, gapBetween, standing } from "./box.ts";
import { clear, tautAlong } from "./clear.ts";
import { stationAt, type Way } from "./path.ts";
import { placeOf } from "./pose.ts";
import type { Box, Vector } from "./problem.ts";
import { distance } from "./vector.ts";

const box = (id: string, low: Vector, high: Vector): Box => ({ id, low, high });
const load = box("block", [0, -0.2, 0], [1, 0.2, 0.4]);
const level = attitudeOf([0, 0, 1]);
const up = (metres: number, more: Partial<Way> = {}): Way => ({
  centre: [0.5, 0, 0.2],
  stretches: [{ move: [0, 0, metres], label: "up" }],
  hanging: level,
  leaning: 0,
  ...more,
});

test("[C1] two boxes: exactly as far apart as the nearest of many points drawn on them", () => {
  const chance = makeChance(5);
  for (let k = 0; k < 40; k++) {
    const draw = (): number => 2 * chance.next() - 1;
    const a = carried(box("a", [-0.5, -0.3, -0.2], [0.5, 0.3, 0.2]), {
      turn: turnOf(upOf(60 * draw(), 60 * draw())),
      at: [1.4 * draw(), 1.4 * draw(), 1.4 * draw()],
    });
    const b = standing(box("b", [-0.3, -0.3, -0.3], [0.3, 0.3, 0.3]));
    const { distance: gap, from, to } = gapBetween(a, b);
    if (gap < 0) continue;
    expect(distance(from, to)).toBeCloseTo(gap, 9);
    // No point of the one is nearer to the other: descend from the pair by alternate projection, which for convex bodies finds the least.
    const into = (p: Vector, of: typeof a): Vector => {
      const d = p.map((x, i) => x - of.middle[i]!) as unknown as Vector;
      const t = of.axes.map((axis, i) =>
        Math.max(-of.half[i]!, Math.min(of.half[i]!, axis[0] * d[0] + axis[1] * d[1] + axis[2] * d[2])),
      );
      return [0, 1, 2].map(
        (j) => of.middle[j]! + of.axes.reduce((sum, axis, i) => sum + axis[j]! * t[i]!, 0),
      ) as unknown as Vector;
    };
    let [p, q] = [a.middle, b.middle];
    for (let i = 0; i < 2000; i++) {
      p = into(q, a);
      q = into(p, b);
    }
    expect(gap).toBeLessThan(distance(p, q) + 1e-6);
    expect(gap).toBeGreaterThan(distance(p, q) - 1e-4);
  }
});

test("[C2] straight up past a cross-member ahead: the clearance is what is drawn", () => {
  const result = clear([load], [box("member", [1.05, -1, 0.5], [1.2, 1, 0.6])], up(1));
  expect(result.contact).toBeUndefined();
  expect(result.least?.gap.distance).toBeCloseTo(0.05, 2);
});

test("[C3] nose-up it sweeps back: what a level load clears, the hanging one may not, and the other way round", () => {
  const above = box("member", [0.9, -1, 0.6], [1.2, 1, 0.7]);
  const straight = clear([load], [above], up(0.6));
  expect(straight.contact?.at.rise).toBeCloseTo(0.2, 3);
  // Nose down by 20° the front upper corner comes forward and down by 0.2·sin 20 …; it meets later.
  const lean = attitudeOf(upOf(20, 0));
  const leaning = clear([load], [above], up(0.6, { hanging: lean, leaning: 0.05 }));
  expect(leaning.contact?.at.rise).toBeGreaterThan(0.2);
  expect(leaning.contact?.at.attitude.pitch).toBeCloseTo(20, 6);
});

test("[C4] up, then forward: contact where the second stretch meets the wall", () => {
  const way = up(0.5, {
    stretches: [
      { move: [0, 0, 0.5], label: "up" },
      { move: [1, 0, 0], label: "forward" },
    ],
  });
  const result = clear([load], [box("wall", [1.3, -1, 0], [1.4, 1, 2])], way);
  expect(result.contact?.at.travel).toBeCloseTo(0.8, 3);
  expect(result.contact?.obstacle).toBe("wall");
});

test("[C5] an obstacle drawn into the load from the start is named and counts no further; a side view has no width", () => {
  const result = clear(
    [load],
    [
      box("bracket", [0.4, -0.1, -0.1], [0.6, 0.1, 0.1]),
      box("beam", [0, Number.NEGATIVE_INFINITY, 0.8], [1, Number.POSITIVE_INFINITY, 0.9]),
    ],
    up(1),
  );
  expect(result.atStart).toEqual([{ box: "block", obstacle: "bracket" }]);
  expect(result.contact?.at.rise).toBeCloseTo(0.4, 3);
});

test("[C6] a hose with 60 mm to give is taut at 60 mm of rise, a lead at the nose of a leaning load sooner", () => {
  const ties = [
    { id: "hose", on: [0.5, 0, 0.2] as const, to: [0.5, 0, 0.2] as const, length: 0.06 },
    { id: "lead", on: [1, 0, 0.2] as const, to: [1, 0, 0.2] as const, length: 0.06 },
    { id: "long", on: [0, 0, 0.2] as const, to: [0, 0, 0.2] as const, length: 3 },
  ];
  const result = tautAlong(ties, up(0.5, { hanging: attitudeOf(upOf(-10, 0)), leaning: 0.03 }));
  expect(result.map(({ id }) => id)).toEqual(["lead", "hose", "long"]);
  expect(result[1]?.at?.rise).toBeCloseTo(0.06, 3);
  expect(result[2]?.at).toBeUndefined();
  const { at } = result[0]!;
  expect(distance(placeOf(at!.pose, [1, 0, 0.2]), [1, 0, 0.2])).toBeCloseTo(0.06, 3);
  expect(result[0]!.left).toBeLessThan(-0.4);
});

test("[C7] the way keeps its centre on the line and comes to its attitude", () => {
  const way = up(0.4, {
    hanging: attitudeOf(upOf(-8, 3)),
    leaning: 0.1,
    stretches: [
      { move: [0, 0, 0.4], label: "up" },
      { move: [0.5, 0, 0], to: { pitch: 0, roll: 0 }, label: "forward, levelled" },
    ],
  });
  const mid = stationAt(way, 0.3);
  expect(placeOf(mid.pose, way.centre)[2]).toBeCloseTo(0.5, 9);
  expect([mid.attitude.pitch, mid.attitude.roll].map((x) => Number(x.toFixed(6)))).toEqual([-8, 3]);
  expect(stationAt(way, 0.9).attitude.pitch).toBeCloseTo(0, 9);
});
