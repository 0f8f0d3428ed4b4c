// Owns what carries each body after each step: how its weight is shared among what it stands on and hangs from, and how near it is to tipping, sliding or swinging.
//
// A rigid body on bearings of given stiffness that push, pull or do both: three unknowns (sinking and two tilts), the energy convex, so the shares are unique
// where the bearings are stiff enough to hold it at all. docs/rigging.md, "Step by step".

import { GRAVITY } from "./gravity.ts";
import { solvePositive } from "./matrix.ts";
import type { Rating, Spread, Vector } from "./problem.ts";

export interface Bearing {
  readonly id: string;
  /** Metres, world axes. */
  readonly at: Vector;
  /** Bears from below only, from above only (a sling, a hanger), or both ways (bolted). */
  readonly bears: "from below" | "from above" | "both ways";
  /** Holds sideways as well: a bolt, a spigot; not a rest and not a sling. */
  readonly holdsSideways: boolean;
  /** N/m; absent: all alike, and stiff. */
  readonly stiffness?: number;
  /** Half lengths of a pad, x and y; absent: a point. */
  readonly pad?: readonly [number, number];
  /** It is a jack's head, a stand or a block, with what it may carry where that is known; absent: a tie or a sling. */
  readonly gear?: { readonly rating?: Rating };
}

export interface Standing {
  readonly id: string;
  readonly mass: Spread;
  readonly centre: Vector;
  /** ± metres of the centre in plan. */
  readonly within: Vector;
  readonly bearings: readonly Bearing[];
}

export interface Share {
  readonly id: string;
  /** Newtons upwards on the body, of its nominal weight at its nominal centre; negative: it is held down. */
  readonly force: number;
}

export interface Stand {
  readonly id: string;
  readonly shares: readonly Share[];
  /** Bearings that carry nothing. */
  readonly idle: readonly string[];
  /** Degrees that it tilts by on the bearings' give. */
  readonly pitch: number;
  readonly roll: number;
  /**
   * Metres from the centre, moved as unfavourably as it may be, in plan to the edge of what bears from below; negative: beyond it. Infinity when a bearing
   * both ways or from above keeps it; absent when nothing carries it.
   */
  readonly margin?: number;
  /** Whether something keeps it from sliding, and whether it hangs free to swing. */
  readonly maySlide: boolean;
  readonly maySwing: boolean;
  readonly falls: boolean;
}

/** N/m: what a bearing counts as whose stiffness nobody gives; only ratios matter. */
const STIFF = 1e7;

export interface Point {
  readonly bearing: number;
  readonly at: Vector;
  readonly stiffness: number;
}

/** What carries a body, and how well. */
export function standOf(body: Standing): Stand {
  const points = body.bearings.flatMap((bearing, i) => pointsOf(bearing, i));
  const weight = body.mass.nominal * GRAVITY;
  const solved = share(points, body.bearings, body.centre, weight);
  const maySlide = !body.bearings.some(({ holdsSideways }) => holdsSideways);
  if (solved === undefined)
    return {
      id: body.id,
      shares: [],
      idle: body.bearings.map(({ id }) => id),
      pitch: 0,
      roll: 0,
      maySlide,
      maySwing: false,
      falls: true,
    };
  const shares = body.bearings.map(({ id }, i) => ({
    id,
    force: points.reduce((sum, point, k) => sum + (point.bearing === i ? solved.forces[k]! : 0), 0),
  }));
  const hangs = body.bearings.some(({ bears }) => bears === "from above");
  const rests = body.bearings.some(({ bears }) => bears !== "from above");
  const kept = body.bearings.some(({ bears }) => bears === "both ways");
  const below = points.filter(({ bearing }) => body.bearings[bearing]!.bears === "from below").map(({ at }) => at);
  const reach = Math.hypot(body.within[0], body.within[1]);
  return {
    id: body.id,
    shares,
    idle: shares.filter(({ force }) => Math.abs(force) < 1e-6 * weight).map(({ id }) => id),
    pitch: (solved.tilts[0] * 180) / Math.PI,
    roll: (solved.tilts[1] * 180) / Math.PI,
    margin: kept || hangs ? Number.POSITIVE_INFINITY : insideBy(below, body.centre) - reach,
    maySlide,
    maySwing: hangs && !rests,
    falls: false,
  };
}

/** A pad counts as its four corners, each a quarter as stiff. */
export function pointsOf(bearing: Bearing, index: number): Point[] {
  const { at, pad, stiffness = STIFF } = bearing;
  if (pad === undefined) return [{ bearing: index, at, stiffness }];
  return [-1, 1].flatMap((i) =>
    [-1, 1].map(
      (j): Point => ({ bearing: index, at: [at[0] + i * pad[0], at[1] + j * pad[1], at[2]], stiffness: stiffness / 4 }),
    ),
  );
}

/** Newton on the convex energy of sinking and tilts about the centre; undefined when no set of bearings holds the body up. */
function share(
  points: readonly Point[],
  bearings: readonly Bearing[],
  centre: Vector,
  weight: number,
): { readonly forces: readonly number[]; readonly tilts: readonly [number, number] } | undefined {
  let [sink, pitch, roll] = [0, 0, 0];
  const size = Math.max(0.01, ...points.map(({ at }) => Math.hypot(at[0] - centre[0], at[1] - centre[1])));
  const stiffest = Math.max(1, ...points.map(({ stiffness }) => stiffness));
  const pressing = (point: Point): number => {
    // Nose down (positive pitch) sinks what lies ahead; left up (positive roll) lifts what lies left.
    const into = sink + pitch * (point.at[0] - centre[0]) - roll * (point.at[1] - centre[1]);
    const { bears } = bearings[point.bearing]!;
    return bears === "both ways" ? point.stiffness * into : Math.max(0, point.stiffness * into);
  };
  for (let step = 0; step < 200; step++) {
    const slope = Float64Array.from([-weight, 0, 0]);
    const curve = new Float64Array(9);
    for (const point of points) {
      const force = pressing(point);
      if (force === 0 && !(step === 0)) continue;
      const row = [1, point.at[0] - centre[0], -(point.at[1] - centre[1])];
      for (let i = 0; i < 3; i++) {
        slope[i] = slope[i]! + force * row[i]!;
        for (let j = 0; j < 3; j++) curve[3 * i + j] = curve[3 * i + j]! + point.stiffness * row[i]! * row[j]!;
      }
    }
    const left = Math.max(Math.abs(slope[0]!), Math.abs(slope[1]!) / size, Math.abs(slope[2]!) / size);
    if (left < 1e-10 * weight) return { forces: points.map(pressing), tilts: [pitch, roll] };
    curve[0] = curve[0]! + 1e-9 * stiffest;
    curve[4] = curve[4]! + 1e-9 * stiffest * size * size;
    curve[8] = curve[8]! + 1e-9 * stiffest * size * size;
    const move = solvePositive(
      curve,
      slope.map((x) => -x),
    );
    if (move === undefined) return undefined;
    const energyAt = (by: number): number => {
      const [s, p, r] = [sink, pitch, roll];
      [sink, pitch, roll] = [s + by * move[0]!, p + by * move[1]!, r + by * move[2]!];
      const energy =
        points.reduce((sum, point) => sum + pressing(point) ** 2 / (2 * point.stiffness), 0) - weight * sink;
      [sink, pitch, roll] = [s, p, r];
      return energy;
    };
    const now = energyAt(0);
    let by = 1;
    while (by > 1e-6 && energyAt(by) > now + 1e-12 * Math.abs(now)) by /= 2;
    [sink, pitch, roll] = [sink + by * move[0]!, pitch + by * move[1]!, roll + by * move[2]!];
    // A body that nothing holds sinks or turns without end.
    if (Math.abs(sink) > 1 || Math.abs(pitch) > 0.5 || Math.abs(roll) > 0.5) return undefined;
  }
  return undefined;
}

/** Metres by which a point lies inside the hull of others in plan; of one point or a line of them it is never inside. */
function insideBy(points: readonly Vector[], [x, y]: Vector): number {
  let least = Number.POSITIVE_INFINITY;
  let wide = false;
  for (const p of points)
    for (const q of points) {
      const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
      const size = Math.hypot(dx, dy);
      if (size < 1e-12) continue;
      const side = (a: number, b: number): number => (dx * (b - p[1]) - dy * (a - p[0])) / size;
      const sides = points.map((r) => side(r[0], r[1]));
      if (sides.some((s) => s > 1e-9)) wide = true;
      if (sides.every((s) => s >= -1e-9)) least = Math.min(least, side(x, y));
    }
  if (wide) return least;
  // A hinge: not inside, and by as much as it is off the line or beyond its ends.
  return -Math.min(...points.flatMap((p) => points.map((q) => offSegment(p, q, x, y))), Number.MAX_VALUE);
}

function offSegment(p: Vector, q: Vector, x: number, y: number): number {
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const size = dx * dx + dy * dy;
  const t = size === 0 ? 0 : Math.max(0, Math.min(1, ((x - p[0]) * dx + (y - p[1]) * dy) / size));
  return Math.hypot(x - p[0] - t * dx, y - p[1] - t * dy);
}

export interface Walk {
  readonly steps: readonly { readonly step: string; readonly stands: readonly Stand[] }[];
  /** The step and body with the least margin of all that stand on something; absent when none does. */
  readonly least?: { readonly step: string; readonly body: string; readonly margin: number };
}

/** The stands of all bodies after each step, and the least margin on the way. */
export function standAlong(steps: readonly { readonly step: string; readonly bodies: readonly Standing[] }[]): Walk {
  const walked = steps.map(({ step, bodies }) => ({ step, stands: bodies.map(standOf) }));
  let least: Walk["least"];
  for (const { step, stands } of walked)
    for (const { id, margin, falls } of stands) {
      const value = falls ? Number.NEGATIVE_INFINITY : margin;
      if (value !== undefined && Number.isFinite(value) !== falls && (least === undefined || value < least.margin))
        least = { step, body: id, margin: value };
    }
  return { steps: walked, ...(least ? { least } : {}) };
}
