// Owns a rig as the quick statics of held.ts see it: its legs, beam and hooks, where it rests freed, and how high the hooks are when the legs first come taut.

import { GRAVITY } from "./gravity.ts";
import { restThatHolds } from "./hang-bodies.ts";
import { HeldLoad } from "./held.ts";
import { madeLength } from "./leg.ts";
import { type Pose, placeOf } from "./pose.ts";
import type { Rig, Vector } from "./problem.ts";
import { BEAM, type Case, type HeldBeam, type HeldLeg, LOAD, type Poses } from "./strain.ts";

/** N/m over the weight: how stiff a leg counts that does not stretch. */
const FIRM = 2000;
/** N/m over the weight: what holds the load in its place while the hooks are raised until a leg pulls so great a share of the weight. */
const FAST = 1e5;
const FIRST_PULL = 1e-3;

export interface HeldRig {
  readonly load: HeldLoad;
  readonly weight: number;
  readonly beam: HeldBeam | undefined;
  /** The legs with these lengths, metres without load. */
  readonly legsOf: (lengths: readonly number[]) => readonly HeldLeg[];
  /** The hooks that far above where the first leg comes taut, the load where it was built in. */
  readonly hooksAt: (rise: number) => readonly Vector[];
  /** Where the freed load and its beam hang under those. */
  readonly freed: (rise: number) => Poses;
}

/**
 * A sound rig that hangs.
 *
 * @param firm N/m over the weight of a leg that does not stretch.
 */
export function heldRig(rig: Rig, firm = FIRM): HeldRig {
  const { rested } = restThatHolds(rig);
  const weight = rig.load.mass.nominal * GRAVITY;
  const [load, ofBeam] = rested.still.poses;
  const pin = rig.beam?.points.find(({ id }) => id === rig.beam?.pin)?.at;
  const beam = rig.beam && {
    weight: rig.beam.mass * GRAVITY,
    centre: rig.beam.centre,
    ...(pin === undefined ? {} : { pin }),
  };
  const hooks = rested.hooks.map(({ at }) => at);
  const eyes = new Map(rig.eyes.map(({ id, at }) => [id, at]));
  const points = new Map(rig.beam?.points.map(({ id, at }) => [id, at]));
  const index = new Map(rested.hooks.map(({ id }, i) => [id, i]));
  const legsOf = (lengths: readonly number[]): readonly HeldLeg[] =>
    rig.legs.map(({ lower, upper, stiffness }, i) => ({
      on: eyes.has(lower) ? LOAD : BEAM,
      eye: eyes.get(lower) ?? points.get(lower)!,
      to: index.get(upper) ?? points.get(upper)!,
      length: lengths[i]!,
      stiffness: stiffness === undefined ? firm * weight : stiffness / lengths[i]!,
    }));
  const flat = ({ turn, at }: Pose, from: Vector | undefined, up: number): number[] => {
    const [x, y, z] = from === undefined ? at : placeOf({ turn, at }, from);
    return [...turn.flat(), x, y, z + up];
  };
  const posesAt = (up: number): Poses =>
    Float64Array.from([...flat(load!, undefined, up), ...(ofBeam ? flat(ofBeam, pin, up) : [])]);
  const raised = (up: number): readonly Vector[] => hooks.map(([x, y, z]): Vector => [x, y, z + up]);
  const held: HeldRig = {
    load: new HeldLoad(beam ? 2 : 1),
    weight,
    beam,
    legsOf,
    hooksAt: (rise) => raised(taut + rise),
    freed: (rise) => posesAt(taut + rise),
  };
  const simple = beam === undefined && hooks.length === 1;
  const legs = legsOf(rig.legs.map(madeLength));
  const taut = simple
    ? tautHeight(legs, hooks[0]!)
    : tautRaise(rig, held, legs, raised, posesAt, placeOf(load!, rig.load.centre));
  return held;
}

/** One hook comes taut where the first of the spheres about the eyes is above it. */
const tautHeight = (legs: readonly HeldLeg[], [x, y, z]: Vector): number =>
  Math.min(
    ...legs.map(
      ({ eye, length }) => eye[2] + Math.sqrt(Math.max(0, length ** 2 - (eye[0] - x) ** 2 - (eye[1] - y) ** 2)),
    ),
  ) - z;

/** How far hooks must be raised until some leg of the load, which is held fast where it was built in, begins to pull; by halving. */
function tautRaise(
  rig: Rig,
  { load, weight, beam }: HeldRig,
  legs: readonly HeldLeg[],
  raised: (up: number) => readonly Vector[],
  posesAt: (up: number) => Poses,
  centre: Vector,
): number {
  const { centre: built } = rig.load;
  const fast = [0, 1, 2].flatMap((i) =>
    [-1, 1].map((way) => ({
      at: built.with(i, built[i]! + way / 2) as unknown as Vector,
      slack: 0,
      stiffness: FAST * weight,
    })),
  );
  const still = Float64Array.from([1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]);
  const into = posesAt(0);
  const pulls = (up: number): boolean => {
    const poses = posesAt(up);
    poses.set(still);
    const asked: Case = { weight, centre: built, legs, ties: fast, hooks: raised(up), ...(beam ? { beam } : {}) };
    return load.rest(asked, poses, into).load > FIRST_PULL * weight;
  };
  // Hung freed with its centre where it was built in, all of the weight is on the legs.
  let [low, high] = [built[2] - centre[2] - 1, built[2] - centre[2] + 0.2];
  for (let k = 0; k < 40; k++) {
    const middle = (low + high) / 2;
    if (pulls(middle)) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
