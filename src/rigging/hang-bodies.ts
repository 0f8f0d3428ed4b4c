// Owns how a rig with a beam or two hooks hangs: where it comes to rest, or the balance that does not hold and what it turns over to.

import { DEGREES } from "./attitude.ts";
import { hangingOf, type Rested, restBeside, restBodies } from "./bodies.ts";
import type { HangOptions } from "./hang-options.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Fault } from "./refusal.ts";
import type { Hanging, HangResult } from "./result.ts";
import { along, between, unit } from "./vector.ts";

/** Degrees within which two attitudes are one and the same. */
const SAME = 2;
/** Radians by which load and beam are turned out of a balance that may not hold: about no axis that a rig is alike about. */
const NUDGE: Vector = [0.05, 0.031, 0.017];

/** Forces left over, of the weight, with which nothing is called a rest. */
export const NO_REST = 1e-7;

/** How it hangs; the rig is sound. */
export function hangBodies(rig: Rig, options: HangOptions): HangResult {
  const { rested, hanging: falls, from: first } = restThatHolds(rig, options);
  if (rested.still.strained) return { kind: "refused", faults: [unreached(rig)] };
  if (rested.still.residual > NO_REST) return { kind: "refused", faults: [{ at: "legs", is: "no rest" }] };
  const upright = first.up[2] > 0;
  // Where only the beam swung into another place, the load hangs as before.
  if (upright && between(falls.up, first.up) * DEGREES < SAME) return falls;
  const { pitch, roll, up, hook, legs, stability } = balanced(rig, options) ?? first;
  return {
    kind: "tips",
    pitch,
    roll,
    up,
    hook,
    legs,
    margin: Math.min(stability.margin, -0),
    axis: stability.axis,
    falls,
  };
}

/** The rest that holds, and the balance that was found first: the same where that holds. */
export function restThatHolds(
  rig: Rig,
  options: HangOptions = {},
): { readonly rested: Rested; readonly hanging: Hanging; readonly from: Hanging } {
  const first = restBodies(rig, options);
  const from = hangingOf(rig, first, options.stands);
  if (from.stability.margin >= 0 || first.still.strained) return { rested: first, hanging: from, from };
  const rested = restBeside(first, NUDGE);
  return { rested, hanging: hangingOf(rig, rested, options.stands), from };
}

/** Rounds of looking for the balance, and what it is found to: the tangent of the tilt. */
const ROUNDS = 12;
const FOUND = 1e-9;
const STEP = 1e-5;

/**
 * The upright balance of a load that does not stay in it. With the centre lower along the plumb line every pull and place is the same, the balance holds, and the margin is more
 * by as much (docs/rigging.md, "The margin"): so it is where the lowered load comes to rest, once it was lowered along the plumb line that it comes to rest with; by Newton's steps.
 */
function balanced(rig: Rig, options: HangOptions): Hanging | undefined {
  const centre = options.sample?.centre ?? rig.load.centre;
  const lower = 3 * Math.max(...rig.legs.map((leg) => leg.length), ...rig.eyes.map(({ at }) => Math.hypot(...at)));
  const hung = (x: number, y: number): Hanging => {
    const lowered = along(centre, unit([x, y, 1]), -lower);
    const rested = restBodies(rig, { ...options, sample: { ...options.sample, centre: lowered } });
    return hangingOf(rig, rested, options.stands);
  };
  const off = (x: number, y: number): readonly [number, number] => {
    const { up } = hung(x, y);
    return [up[0] / up[2] - x, up[1] / up[2] - y];
  };
  let [x, y] = [0, 0];
  for (let round = 0; round < ROUNDS; round++) {
    const [a, b] = off(x, y);
    if (Math.hypot(a, b) < FOUND) {
      const found = hung(x, y);
      const { margin } = found.stability;
      return { ...found, stability: { ...found.stability, margin: margin - lower } };
    }
    const [ax, bx] = off(x + STEP, y);
    const [ay, by] = off(x, y + STEP);
    const [xx, yx, xy, yy] = [ax - a, bx - b, ay - a, by - b];
    const determinant = xx * yy - xy * yx;
    x -= (STEP * (yy * a - xy * b)) / determinant;
    y -= (STEP * (xx * b - yx * a)) / determinant;
    if (!(Math.hypot(x, y) < 10)) return undefined;
  }
  return undefined;
}

const unreached = (rig: Rig): Fault => ({ at: "legs", is: "does not reach", legs: rig.legs.map(({ id }) => id) });
