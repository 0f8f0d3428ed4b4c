// Owns boxes in space: where they are when turned, how far apart two of them are, and whether they overlap.

import { type Pose, placeOf, turnBy } from "./pose.ts";
import type { Box, Vector } from "./problem.ts";
import { add, cross, dot, length, scale, subtract } from "./vector.ts";

/** A box anywhere: middle, three square unit axes, half its size along each. */
export interface Placed {
  readonly id: string;
  readonly middle: Vector;
  readonly axes: readonly [Vector, Vector, Vector];
  readonly half: Vector;
}

/** What stands in for an unbounded side: longer than any vehicle, metres. */
const LONG = 100;
const bounded = (x: number): number => Math.max(-LONG, Math.min(LONG, x));

/** A box that stands square in the world. */
export function standing(box: Box): Placed {
  const low = box.low.map(bounded) as unknown as Vector;
  const high = box.high.map(bounded) as unknown as Vector;
  return {
    id: box.id,
    middle: scale(add(low, high), 0.5),
    axes: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    half: scale(subtract(high, low), 0.5),
  };
}

/** A box of a body, where the body is. */
export function carried(box: Box, pose: Pose): Placed {
  const still = standing(box);
  return {
    ...still,
    middle: placeOf(pose, still.middle),
    axes: [turnBy(pose.turn, [1, 0, 0]), turnBy(pose.turn, [0, 1, 0]), turnBy(pose.turn, [0, 0, 1])],
  };
}

const corners = (box: Placed): Vector[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((code) =>
    box.axes.reduce(
      (sum, axis, i) => add(sum, scale(axis, (code >> i) & 1 ? box.half[i]! : -box.half[i]!)),
      box.middle,
    ),
  );

/** Pairs of corners, by their codes, that an edge joins. */
const EDGES = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((code) =>
  [1, 2, 4].flatMap((bit) => (code & bit ? [] : [[code, code | bit] as const])),
);

function nearestIn(box: Placed, point: Vector): Vector {
  const from = subtract(point, box.middle);
  return box.axes.reduce(
    (sum, axis, i) => add(sum, scale(axis, Math.max(-box.half[i]!, Math.min(box.half[i]!, dot(from, axis))))),
    box.middle,
  );
}

/** How deep they overlap along the axis in which they do so least; negative when an axis parts them (Gottschalk, Lin & Manocha 1996). */
function overlap(a: Placed, b: Placed): number {
  const between = subtract(b.middle, a.middle);
  const axes = [...a.axes, ...b.axes];
  for (const p of a.axes) for (const q of b.axes) axes.push(cross(p, q));
  let least = Number.POSITIVE_INFINITY;
  for (const axis of axes) {
    const size = length(axis);
    if (size < 1e-9) continue;
    const reach = (box: Placed): number =>
      box.axes.reduce((sum, each, i) => sum + box.half[i]! * Math.abs(dot(each, axis)), 0);
    least = Math.min(least, (reach(a) + reach(b) - Math.abs(dot(between, axis))) / size);
    if (least < 0) return least;
  }
  return least;
}

/** Nearest points of two segments (Ericson, Real-Time Collision Detection, 5.1.9). */
function segments(p: Vector, q: Vector, r: Vector, s: Vector): readonly [Vector, Vector] {
  const [u, v, w] = [subtract(q, p), subtract(s, r), subtract(p, r)];
  const [a, e, f] = [dot(u, u), dot(v, v), dot(v, w)];
  const [c, b] = [dot(u, w), dot(u, v)];
  const clamp = (x: number): number => Math.max(0, Math.min(1, x));
  const det = a * e - b * b;
  let along = det > 1e-15 * a * e ? clamp((b * f - c * e) / det) : 0;
  let other = e === 0 ? 0 : (b * along + f) / e;
  if (other < 0 || other > 1) {
    other = clamp(other);
    along = a === 0 ? 0 : clamp((b * other - c) / a);
  }
  return [add(p, scale(u, along)), add(r, scale(v, other))];
}

export interface Gap {
  /** Metres apart; negative: how deep they overlap. */
  readonly distance: number;
  /** A point of the first box and a point of the second that are so far apart; where they overlap, the middle of the second and the nearest of the first. */
  readonly from: Vector;
  readonly to: Vector;
}

/** How far apart two boxes are, exactly: corner to face, or edge to edge. */
export function gapBetween(a: Placed, b: Placed): Gap {
  const deep = overlap(a, b);
  if (deep >= 0) {
    const from = nearestIn(a, b.middle);
    return { distance: -deep, from, to: nearestIn(b, from) };
  }
  let best: Gap = { distance: Number.POSITIVE_INFINITY, from: a.middle, to: b.middle };
  const offer = (from: Vector, to: Vector): void => {
    const distance = length(subtract(from, to));
    if (distance < best.distance) best = { distance, from, to };
  };
  const [ca, cb] = [corners(a), corners(b)];
  for (const corner of ca) offer(corner, nearestIn(b, corner));
  for (const corner of cb) offer(nearestIn(a, corner), corner);
  for (const [i, j] of EDGES) for (const [k, l] of EDGES) offer(...segments(ca[i]!, ca[j]!, cb[k]!, cb[l]!));
  return best;
}

/** Metres from a body's origin to the farthest corner of its boxes, from a point. */
export const reachFrom = (boxes: readonly Box[], point: Vector): number =>
  Math.max(0, ...boxes.flatMap((box) => corners(standing(box)).map((corner) => length(subtract(corner, point)))));
