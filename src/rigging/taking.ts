// Owns what is to be seen at the trial lift when nothing holds: load and tilt as the hook rises and takes the weight off its stands; and the load at which to stop.

import { attitudeOf } from "./attitude.ts";
import { bodiesOf, endsOf, LEVEL } from "./bodies.ts";
import type { Check } from "./check.ts";
import { GRAVITY } from "./gravity.ts";
import { heldRig } from "./held-rig.ts";
import { madeLength } from "./leg.ts";
import { type Link, type Pose, placeOf, settleBodies, turnBack } from "./pose.ts";
import type { Rig, Vector } from "./problem.ts";

/** Where the load stands before the lift: pushes up while the load presses on it. */
export interface Foot {
  readonly at: Vector;
  /** N/m; absent: stiff. */
  readonly stiffness?: number;
}

export interface TakingStep {
  /** Metres that the hook has risen since the first leg came taut. */
  readonly rise: number;
  /** Newtons of load on the hooks, and on the feet together; degrees. */
  readonly load: number;
  readonly onFeet: number;
  readonly pitch: number;
  readonly roll: number;
  /** Metres that the centre has risen. */
  readonly lifted: number;
}

const STIFF = 5e6;
/** N/m over the weight of a leg that does not stretch. */
const FIRM = 2000;

/** The freed load on its feet as the hooks, as they stand for the lift, rise step by step; feet do not hold it sideways. The rig is sound and hangs. */
export function takingUp(rig: Rig, feet: readonly Foot[], rises: readonly number[]): TakingStep[] {
  const { centre } = rig.load;
  const weight = rig.load.mass.nominal * GRAVITY;
  const held = heldRig(rig);
  const lengths = rig.legs.map(madeLength);
  const level: Pose = { turn: LEVEL, at: [0, 0, 0] };
  let starts: readonly Pose[] = [level];
  return rises.map((rise) => {
    const hooks = rig.hooks.map(({ id }, i) => ({ id, at: held.hooksAt(rise)[i]! }));
    const ends = endsOf(rig, hooks);
    const links: Link[] = rig.legs.map((leg, i) => ({
      lower: ends.get(leg.lower)!,
      upper: ends.get(leg.upper)!,
      length: lengths[i]!,
      stiffness: leg.stiffness === undefined ? FIRM * weight : leg.stiffness / lengths[i]!,
      firm: false,
    }));
    const [, ...beams] = bodiesOf(rig, hooks, weight, centre, lengths);
    const still = settleBodies(
      [{ weight, centre, start: starts[0]! }, ...beams.map((beam) => ({ ...beam, start: starts[1] ?? beam.start }))],
      links,
      feet.map(({ at, stiffness = STIFF }) => ({ body: 0, at, height: at[2], stiffness })),
      Math.max(...lengths),
    );
    const pose = still.poses[0]!;
    // A pinned beam goes up with its hook, and starts anew.
    starts = rig.beam?.pin === undefined ? still.poses : [pose];
    const onFeet = still.pushes.reduce((sum, push) => sum + push, 0);
    const { pitch, roll } = attitudeOf(turnBack(pose.turn, [0, 0, 1]));
    return {
      rise,
      load: Math.max(0, weight - onFeet),
      onFeet,
      pitch,
      roll,
      lifted: placeOf(pose, centre)[2] - centre[2],
    };
  });
}

/** Newtons by the cell, tackle and all: above it, stop hoisting; and which of the two it is, more than the freed load can weigh, or what the gear is checked to. */
export type StopLoad =
  | { readonly newtons: number; readonly because: "more than the load can weigh" }
  | { readonly newtons: number; readonly because: "a limit"; readonly check: Check["check"]; readonly at: string };

/**
 * The reading at which to stop: what the freed load weighs at most with the cell's error on top, and never more than the first limit allows.
 *
 * @param tackle kilograms below the cell besides the load.
 * @param error newtons, the cell's standard error; three of them are allowed.
 * @param checks each limit is reached when the load grows in proportion.
 */
export function stopLoad(rig: Rig, tackle: number, error: number, checks: readonly Check[]): StopLoad {
  const heaviest = (rig.load.mass.high + tackle) * GRAVITY;
  const most = heaviest + 3 * error;
  let stop: StopLoad = { newtons: most, because: "more than the load can weigh" };
  for (const { check, unit, value, limit, at } of checks) {
    if (unit !== "N" || limit === undefined || value <= 0) continue;
    const newtons = (heaviest * limit) / value;
    if (newtons < stop.newtons) stop = { newtons, because: "a limit", check, at };
  }
  return stop;
}
