// Owns the way a hanging load goes: from where it was built in, leaning over to how it hangs as the weight comes on, then up and along.

import { attitudeOf, turnOf, upOf } from "./attitude.ts";
import type { Pose } from "./pose.ts";
import { turnBy } from "./pose.ts";
import type { Vector } from "./problem.ts";
import type { Attitude } from "./result.ts";
import { add, distance, scale, subtract, unit } from "./vector.ts";

/** One leg of the way: the centre moves by this, metres in the vehicle's axes, and the load comes to this attitude as it goes. */
export interface Stretch {
  readonly move: Vector;
  /** Absent: the attitude stays. */
  readonly to?: { readonly pitch: number; readonly roll: number };
  readonly label: string;
}

export interface Way {
  readonly centre: Vector;
  readonly stretches: readonly Stretch[];
  /** How it hangs. */
  readonly hanging: Attitude;
  /** Metres of rise over which it leans over from level to how it hangs; the first stretch must rise at least so much. */
  readonly leaning: number;
}

/** Where the load is when its centre has gone so far, metres of travel from the start. */
export interface Station {
  readonly travel: number;
  readonly pose: Pose;
  readonly attitude: Attitude;
  /** Metres that the centre has risen. */
  readonly rise: number;
}

/** Metres of a whole way. */
export const travelOf = (way: Way): number =>
  way.stretches.reduce((sum, { move }) => sum + distance(move, [0, 0, 0]), 0);

/** The load at a travel along the way. The heading stays. */
export function stationAt(way: Way, travel: number): Station {
  let [left, at] = [travel, way.centre];
  let up: Vector = [0, 0, 1];
  let target: Vector = way.hanging.up;
  let gone = 0;
  for (const stretch of way.stretches) {
    const size = distance(stretch.move, [0, 0, 0]);
    const share = size === 0 ? 1 : Math.min(1, left / size);
    at = add(at, scale(stretch.move, share));
    gone += size * share;
    left -= size * share;
    const lean = way.leaning <= 0 ? 1 : Math.min(1, gone / way.leaning);
    const from = target;
    if (stretch.to) target = upOf(stretch.to.pitch, stretch.to.roll);
    up = blend([0, 0, 1], blend(from, target, stretch.to ? share : 1), lean);
    if (left <= 0) break;
  }
  const turn = turnOf(up);
  return {
    travel,
    attitude: attitudeOf(up),
    rise: at[2] - way.centre[2],
    pose: { turn, at: subtract(at, turnBy(turn, way.centre)) },
  };
}

const blend = (a: Vector, b: Vector, share: number): Vector => unit(add(scale(a, 1 - share), scale(b, share)));

/** A piece of a way over which a gap changes by at most `swift` metres a metre. */
export interface Piece {
  readonly from: number;
  readonly to: number;
  readonly swift: number;
}

/**
 * The way in pieces, each with how far any point within `reach` of the centre can move for one metre of travel: the centre's own, and what turning adds.
 * The largest turn over a piece is bounded by twice the sum of what it turns, for blending is not even.
 */
export function piecesOf(way: Way, reach: number): readonly Piece[] {
  const angle = (a: Vector, b: Vector): number =>
    Math.acos(Math.max(-1, Math.min(1, a[0] * b[0] + a[1] * b[1] + a[2] * b[2])));
  const pieces: Piece[] = [];
  let [at, target] = [0, way.hanging.up];
  for (const stretch of way.stretches) {
    const size = distance(stretch.move, [0, 0, 0]);
    const before = target;
    if (stretch.to) target = upOf(stretch.to.pitch, stretch.to.roll);
    if (size === 0) continue;
    const own = stretch.to ? angle(before, target) / size : 0;
    // While it leans over, it turns towards whatever it is brought to.
    const leans = way.leaning > at ? Math.min(size, way.leaning - at) : 0;
    const most = Math.max(angle([0, 0, 1], before), angle([0, 0, 1], target));
    if (leans > 0) pieces.push({ from: at, to: at + leans, swift: 1 + 2 * (most / way.leaning + own) * reach });
    if (size > leans) pieces.push({ from: at + leans, to: at + size, swift: 1 + 2 * own * reach });
    at += size;
  }
  return pieces;
}

/**
 * The first travel, up to `until`, at which a gap falls to nothing, by going on as far as the gap lets; undefined when it never does. To a tenth of a
 * millimetre.
 */
export function firstAt(
  gap: (travel: number) => number,
  pieces: readonly Piece[],
  until = Number.POSITIVE_INFINITY,
): number | undefined {
  for (const { from, to, swift } of pieces) {
    const end = Math.min(to, until);
    for (let travel = from; travel <= end; ) {
      const left = gap(travel);
      if (left <= NEAR) return travel;
      if (travel >= end) break;
      travel = Math.min(end, travel + Math.max(left / swift, NEAR / swift));
    }
  }
  return undefined;
}

/**
 * The least of such a gap along the way, to a millimetre, and where (Piyavskii 1972). Once it is sure to stay above `above`, it is left at the least seen.
 */
export function leastAt(
  gap: (travel: number) => number,
  pieces: readonly Piece[],
  above = Number.POSITIVE_INFINITY,
): { readonly travel: number; readonly least: number } {
  let best = { travel: 0, least: Number.POSITIVE_INFINITY };
  const open: (Piece & { readonly a: number; readonly b: number; readonly bound: number })[] = [];
  const look = (travel: number): number => {
    const value = gap(travel);
    if (value < best.least) best = { travel, least: value };
    return value;
  };
  const enter = (from: number, to: number, swift: number, a: number, b: number): void => {
    open.push({ from, to, swift, a, b, bound: (a + b - swift * (to - from)) / 2 });
  };
  let start = look(pieces[0]?.from ?? 0);
  for (const { from, to, swift } of pieces) {
    const end = look(to);
    enter(from, to, swift, start, end);
    start = end;
  }
  for (let looked = 0; open.length > 0 && looked < 4000; looked++) {
    let i = 0;
    for (const [k, each] of open.entries()) if (each.bound < open[i]!.bound) i = k;
    const { from, to, swift, a, b, bound } = open[i]!;
    if (bound >= Math.min(best.least, above) - MILLIMETRE) break;
    open.splice(i, 1);
    const middle = (from + to) / 2;
    const value = look(middle);
    enter(from, middle, swift, a, value);
    enter(middle, to, swift, value, b);
  }
  return best;
}

const NEAR = 1e-4;
const MILLIMETRE = 1e-3;
