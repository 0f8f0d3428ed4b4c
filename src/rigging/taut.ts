// Owns the equilibria of a load on legs that do not stretch, all of them, in closed form.
//
// In body axes the hook is a point p that no leg lets farther from its eye than the leg's length; the load hangs lowest where p is farthest from
// the centre. So an equilibrium is a point of the balls' intersection held there by one, two or three legs: on the line from the centre
// through the eye; in the plane of two eyes and the centre; or where three spheres meet (docs/rigging.md, "Legs that do not stretch").

import type { Vector } from "./problem.ts";
import { add, along, cross, distance, dot, length, scale, subtract, unit } from "./vector.ts";

export interface TautState {
  /** Indices of the legs that hold. */
  readonly support: readonly number[];
  /** The hook in body axes. */
  readonly hook: Vector;
  /** Tension over weight of each leg of the support, at least 0. */
  readonly shares: readonly number[];
  readonly stable: boolean;
}

/** A hair by which a leg may be overstretched, share of its length, before a state counts as not possible. */
const HAIR = 1e-9;

/**
 * Every equilibrium: eyes and leg lengths in body axes, metres.
 *
 * @param longer metres by which each leg may be longer than said, for asking what could be.
 */
export function tautStates(
  eyes: readonly Vector[],
  lengths: readonly number[],
  centre: Vector,
  longer: readonly number[] = [],
): TautState[] {
  const states: TautState[] = [];
  const offer = (support: readonly number[], hook: Vector, stable: boolean): void => {
    const fits = eyes.every(
      (eye, i) => support.includes(i) || distance(eye, hook) <= lengths[i]! * (1 + HAIR) + (longer[i] ?? 0),
    );
    if (!fits) return;
    const shares = sharesAt(
      support.map((i) => eyes[i]!),
      hook,
      centre,
    );
    if (shares?.every((share) => share >= -HAIR)) {
      states.push({ support, hook, shares: shares.map((share) => Math.max(0, share)), stable });
    }
  };
  for (let i = 0; i < eyes.length; i++) {
    for (const [side, stable] of SIDES) offer([i], hookOfOne(eyes[i]!, lengths[i]!, centre, side), stable);
    for (let j = i + 1; j < eyes.length; j++) {
      for (const [side, stable] of SIDES) {
        const hook = hookOfTwo(eyes[i]!, eyes[j]!, lengths[i]!, lengths[j]!, centre, side);
        if (hook) offer([i, j], hook, stable);
      }
      for (let k = j + 1; k < eyes.length; k++) {
        for (const [side] of SIDES) {
          const hook = hookOfThree([eyes[i]!, eyes[j]!, eyes[k]!], [lengths[i]!, lengths[j]!, lengths[k]!], side);
          if (hook) offer([i, j, k], hook, true);
        }
      }
    }
  }
  return states;
}

/** Away from the centre the load hangs below what holds it; on the near side it stands on its head, as it were. */
const SIDES = [
  [1, true],
  [-1, false],
] as const;

function hookOfOne(eye: Vector, reach: number, centre: Vector, side: number): Vector {
  return along(eye, unit(subtract(eye, centre)), side * reach);
}

/** The hook in the plane of two eyes and the centre, on the side of their line away from the centre (1) or towards it (−1). */
export function hookOfTwo(
  a: Vector,
  b: Vector,
  la: number,
  lb: number,
  centre: Vector,
  side: number,
): Vector | undefined {
  const span = distance(a, b);
  if (span === 0) return undefined;
  const line = scale(subtract(b, a), 1 / span);
  const foot = (la * la - lb * lb + span * span) / (2 * span);
  const rise = la * la - foot * foot;
  if (rise <= 0) return undefined;
  const from = subtract(centre, a);
  const below = along(from, line, -dot(from, line));
  const depth = length(below);
  if (depth === 0) return undefined;
  return along(along(a, line, foot), below, (-side * Math.sqrt(rise)) / depth);
}

/** Where three spheres meet, above (1) or below (−1) the plane of their middles as that plane's normal turns up. */
export function hookOfThree(
  eyes: readonly [Vector, Vector, Vector],
  reach: readonly [number, number, number],
  side: number,
): Vector | undefined {
  const [b, c] = [subtract(eyes[1], eyes[0]), subtract(eyes[2], eyes[0])];
  const normal = cross(b, c);
  const square = dot(normal, normal);
  if (square === 0) return undefined;
  const beta = (dot(b, b) + reach[0] ** 2 - reach[1] ** 2) / 2;
  const gamma = (dot(c, c) + reach[0] ** 2 - reach[2] ** 2) / 2;
  // In the plane: the point with b·q = beta and c·q = gamma.
  const flat = scale(add(scale(cross(c, normal), beta), scale(cross(normal, b), gamma)), 1 / square);
  const rise = reach[0] ** 2 - dot(flat, flat);
  if (rise < 0) return undefined;
  const up = normal[2] < 0 ? -1 : 1;
  return add(eyes[0], along(flat, normal, (side * up * Math.sqrt(rise)) / Math.sqrt(square)));
}

/** Tension over weight in one, two or three legs to this hook, or undefined where their directions do not tell. */
export function sharesAt(eyes: readonly Vector[], hook: Vector, centre: Vector): readonly number[] | undefined {
  const up = unit(subtract(hook, centre));
  const [a, b, c] = eyes.map((eye) => unit(subtract(hook, eye)));
  if (a === undefined) return undefined;
  if (b === undefined) return [dot(a, up)];
  if (c === undefined) {
    const d = dot(a, b);
    const det = 1 - d * d;
    if (det < 1e-14) return undefined;
    const [pa, pb] = [dot(a, up), dot(b, up)];
    return [(pa - d * pb) / det, (pb - d * pa) / det];
  }
  const det = dot(a, cross(b, c));
  if (Math.abs(det) < 1e-12) return undefined;
  return [dot(up, cross(b, c)) / det, dot(up, cross(c, a)) / det, dot(up, cross(a, b)) / det];
}
