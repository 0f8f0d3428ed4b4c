// Owns what is to be seen at the trial lift when nothing holds: load and tilt as the hook rises and takes the weight off its stands; and the load at which to stop.

import { attitudeOf } from "./attitude.ts";
import type { Check } from "./check.ts";
import { GRAVITY } from "./gravity.ts";
import { type Link, placeOf, settleBodies, turnBack } from "./pose.ts";
import type { Rig, Vector } from "./problem.ts";
import { madeLength } from "./refuse.ts";

/** Where the load stands before the lift: pushes up while the load presses on it. */
export interface Foot {
  readonly at: Vector;
  /** N/m; absent: stiff. */
  readonly stiffness?: number;
}

export interface TakingStep {
  /** Metres that the hook has risen since the first leg came taut. */
  readonly rise: number;
  /** Newtons on the hook and on the feet together, degrees. */
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

/** The freed load on its feet as the hook, over its centre, rises step by step; feet do not hold it sideways. The rig is sound, with one hook and no beam. */
export function takingUp(rig: Rig, feet: readonly Foot[], rises: readonly number[]): TakingStep[] {
  const { centre } = rig.load;
  const weight = rig.load.mass.nominal * GRAVITY;
  const eyes = new Map(rig.eyes.map(({ id, at }) => [id, at]));
  const lengths = rig.legs.map(madeLength);
  const taut = Math.min(
    ...rig.legs.map((leg, i) => {
      const eye = eyes.get(leg.lower)!;
      return eye[2] + Math.sqrt(Math.max(0, lengths[i]! ** 2 - (eye[0] - centre[0]) ** 2 - (eye[1] - centre[1]) ** 2));
    }),
  );
  let start = {
    turn: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const,
    at: [0, 0, 0] as Vector,
  } as Parameters<typeof placeOf>[0];
  return rises.map((rise) => {
    const links: Link[] = rig.legs.map((leg, i) => ({
      lower: { body: 0, at: eyes.get(leg.lower)! },
      upper: { at: [centre[0], centre[1], taut + rise] },
      length: lengths[i]!,
      stiffness: leg.stiffness === undefined ? FIRM * weight : leg.stiffness / lengths[i]!,
      firm: false,
    }));
    const still = settleBodies(
      [{ weight, centre, start }],
      links,
      feet.map(({ at, stiffness = STIFF }) => ({ body: 0, at, height: at[2], stiffness })),
      Math.max(...lengths),
    );
    const pose = still.poses[0]!;
    start = pose;
    const onFeet = still.pushes.reduce((sum, push) => sum + push, 0);
    const { pitch, roll } = attitudeOf(turnBack(pose.turn, [0, 0, 1]));
    return { rise, load: weight - onFeet, onFeet, pitch, roll, lifted: placeOf(pose, centre)[2] - centre[2] };
  });
}

export interface StopLoad {
  /** Newtons by the cell, tackle and all: above it, stop hoisting. */
  readonly newtons: number;
  /** Which of the two it is: more than the freed load can weigh, or what the gear is checked to. */
  readonly because: "more than the load can weigh" | "a limit";
  /** The thing whose limit it is. */
  readonly at?: string;
}

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
  for (const { unit, value, limit, at } of checks) {
    if (unit !== "N" || limit === undefined || value <= 0) continue;
    const newtons = (heaviest * limit) / value;
    if (newtons < stop.newtons) stop = { newtons, because: "a limit", at };
  }
  return stop;
}
