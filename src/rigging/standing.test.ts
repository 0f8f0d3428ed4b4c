import { expect, test } from "vitest";
import { GRAVITY } from "./gravity.ts";
import type { Vector } from "./problem.ts";
import { type Bearing, type Standing, standAlong, standOf } from "./standing.ts";

const exactly = (kilograms: number) => ({ nominal: kilograms, low: kilograms, high: kilograms });
const rest = (id: string, x: number, y: number, more: Partial<Bearing> = {}): Bearing => ({
  id,
  at: [x, y, 0],
  bears: "from below",
  holdsSideways: false,
  ...more,
});
const body = (centre: Vector, bearings: readonly Bearing[], within: Vector = [0, 0, 0]): Standing => ({
  id: "pack",
  mass: exactly(300),
  centre,
  within,
  bearings,
});
const W = 300 * GRAVITY;

test("[S1] two jacks share by the lever, and two alone are a hinge with no margin", () => {
  const stand = standOf(body([0.2, 0, 0.3], [rest("front", 0.5, 0), rest("rear", -0.5, 0)]));
  expect(stand.shares.map(({ force }) => force / W)).toEqual([expect.closeTo(0.7, 6), expect.closeTo(0.3, 6)]);
  expect(stand.margin).toBeCloseTo(0, 9);
  expect(stand.maySlide).toBe(true);
});

test("[S2] three rests: shares by the barycentre, whatever their stiffness; margin to the nearest edge less the centre's doubt", () => {
  const seats = [rest("a", 0, 0), rest("b", 1, 0, { stiffness: 2e5 }), rest("c", 0, 1)];
  const stand = standOf(body([0.25, 0.25, 0.5], seats, [0.03, 0.04, 0]));
  expect(stand.shares.map(({ force }) => force / W)).toEqual([
    expect.closeTo(0.5, 6),
    expect.closeTo(0.25, 6),
    expect.closeTo(0.25, 6),
  ]);
  expect(stand.margin).toBeCloseTo(0.25 - 0.05, 9);
});

test("[S3] four rests under a centre near one diagonal's end: one lifts off, the rest still add up to the weight", () => {
  const seats = [rest("a", 0, 0), rest("b", 1, 0), rest("c", 1, 1), rest("d", 0, 1)];
  const stand = standOf(body([0.1, 0.1, 0.5], seats));
  expect(stand.idle).toEqual(["c"]);
  expect(stand.shares.reduce((sum, { force }) => sum + force, 0)).toBeCloseTo(W, 4);
});

test("[S4] a centre outside its rests falls; a bolt both ways keeps it and is pulled down", () => {
  const seats = [rest("a", 0, 0), rest("b", 1, 0), rest("c", 0, 1)];
  expect(standOf(body([0.8, 0.8, 0.5], seats)).falls).toBe(true);
  const bolted = [rest("a", 0, 0, { bears: "both ways", holdsSideways: true }), ...seats.slice(1)];
  const stand = standOf(body([0.8, 0.8, 0.5], bolted));
  expect(stand.falls).toBe(false);
  expect(stand.shares[0]!.force / W).toBeCloseTo(-0.6, 6);
  expect(stand.maySlide).toBe(false);
});

test("[S5] a centre over one jack's pad stands by the pad; beyond it, falls", () => {
  const jack = rest("jack", 0, 0, { pad: [0.1, 0.08] });
  expect(standOf(body([0.04, 0, 0.4], [jack])).margin).toBeCloseTo(0.06, 9);
  expect(standOf(body([0.12, 0, 0.4], [jack])).falls).toBe(true);
});

test("[S6] hung from a sling alone it may swing; with a rest as well it may not", () => {
  const sling: Bearing = { id: "sling", at: [0, 0, 1], bears: "from above", holdsSideways: false };
  expect(standOf(body([0, 0, 0.3], [sling])).maySwing).toBe(true);
  expect(standOf(body([0.1, 0, 0.3], [sling, rest("a", 0.5, 0)])).maySwing).toBe(false);
});

test("[S7] over a plan: the least margin and where", () => {
  const seats = [rest("a", 0, 0), rest("b", 1, 0), rest("c", 1, 1), rest("d", 0, 1)];
  const walk = standAlong([
    { step: "before", bodies: [body([0.5, 0.4, 0.5], seats)] },
    { step: "first mount", bodies: [body([0.5, 0.4, 0.5], seats.slice(0, 3))] },
  ]);
  expect(walk.least?.step).toBe("first mount");
  expect(walk.least?.margin).toBeCloseTo(0.1 / Math.SQRT2, 9);
});
