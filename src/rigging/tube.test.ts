import { describe, expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import type { Edges } from "./enclose.ts";
import { type Model, Models, Tangents } from "./taylor.ts";
import { regular, type System, tubeOf } from "./tube.ts";

describe("[K1] models: no value lies outside", () => {
  const m = new Models(3);
  const [a, b, c] = [m.moving(2, 0.3, 0), m.moving(-1, 0.2, 1), m.moving(0.5, 0.1, 2)];
  const cases: readonly (readonly [string, Model, (a: number, b: number, c: number) => number])[] = [
    ["a product of sums", m.times(m.sum(a, b), m.less(b, c)), (x, y, z) => (x + y) * (y - z)],
    ["one over a square", m.inverse(m.times(a, a)), (x) => 1 / x ** 2],
    ["a root", m.root(m.shifted(m.times(a, m.times(b, b)), 1)), (x, y) => Math.sqrt(1 + x * y * y)],
    ["what cancels", m.less(m.times(a, b), m.scaled(m.times(b, a), 0.5)), (x, y) => (x * y) / 2],
  ];
  test.each(cases)("%s", (_, model, value) => {
    const chance = makeChance(2);
    const [low, high] = [m.end(model, -1), m.end(model, 1)];
    for (let k = 0; k < 300; k++) {
      const at = [0, 1, 2].map(() => (chance.hit(0.4) ? chance.pick([-1, 1]) : 2 * chance.next() - 1));
      const got = value(2 + 0.3 * at[0]!, -1 + 0.2 * at[1]!, 0.5 + 0.1 * at[2]!);
      expect(Math.abs(got - m.valueAt(model, at))).toBeLessThanOrEqual(model.over + 1e-15);
      expect(got).toBeGreaterThanOrEqual(low.bound - 1e-15);
      expect(got).toBeLessThanOrEqual(high.bound + 1e-15);
    }
  });
  test("where it only rises or falls the end is at a corner, and is reached", () => {
    const { bound, at } = m.end(m.times(a, b), 1);
    expect(at).toEqual([-1, 1, 0]);
    expect(bound).toBeCloseTo(1.7 * -0.8, 12);
  });
  test("slopes are those of the rules, by differences", () => {
    const t = new Tangents(m);
    const x = { at: a, way: m.plain(1) };
    const made = t.inverse(t.root(t.times(x, t.shifted(x, 3))));
    const value = (v: number): number => 1 / Math.sqrt(v * (v + 3));
    expect(m.valueAt(made.way, [0, 0, 0])).toBeCloseTo((value(2 + 1e-6) - value(2 - 1e-6)) / 2e-6, 8);
  });
});

describe("[K2] tubes", () => {
  // x² + y² = p, x·y = q: solved by x ± y = √(p ± 2q).
  const system: System = {
    unknowns: 2,
    at: (m, [x, y], [p, q]) => ({
      off: [m.less(m.sum(m.times(x!, x!), m.times(y!, y!)), p!), m.less(m.times(x!, y!), q!)],
      out: [m.sum(x!, y!)],
    }),
  };
  const box: Edges = [
    [9.5, 10.5],
    [2.8, 3.2],
  ];
  test("the solution is in it wherever the figures are, and hardly more", () => {
    const tube = tubeOf(system, [2.9, 1.2], box);
    if (!("outputs" in tube)) throw new Error("no tube");
    const [low, high] = [-1, 1].map((sign) => tube.models.end(tube.outputs[0]!, sign as 1 | -1).bound);
    expect(low).toBeLessThanOrEqual(Math.sqrt(9.5 + 5.6));
    expect(low).toBeCloseTo(Math.sqrt(9.5 + 5.6), 2);
    expect(high).toBeGreaterThanOrEqual(Math.sqrt(10.5 + 6.4));
    expect(high).toBeCloseTo(Math.sqrt(10.5 + 6.4), 2);
    expect(regular(system, tube, box)).toBe(true);
  });
  test("over a fold there is none: x and y meet where p = 2q", () => {
    expect(
      "outputs" in
        tubeOf(
          system,
          [2.9, 1.2],
          [
            [6, 10.5],
            [2.8, 3.4],
          ],
        ),
    ).toBe(false);
  });
});
