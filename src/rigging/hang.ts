// Owns the answer to how a rig hangs: one hook by its three unknowns, beams and two hooks by the pose of each body.

import { attitudeOf, DEGREES, tiltOf } from "./attitude.ts";
import { GRAVITY } from "./gravity.ts";
import { hangBodies, NO_REST } from "./hang-bodies.ts";
import type { HangOptions, Sample } from "./hang-options.ts";
import { MOST_STRETCH, madeLength, stiffnessIn } from "./leg.ts";
import { symmetricEigen } from "./matrix.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Fault } from "./refusal.ts";
import { refuse } from "./refuse.ts";
import type { Hanging, HangResult, LegState, Stability, Tipping } from "./result.ts";
import { balance, curvatureAt, type Rest, type Spring, settle, shareOut } from "./settle.ts";
import { type TautState, tautStates } from "./taut.ts";
import { add, between, cross, distance, dot, length, scale, square, subtract, unit } from "./vector.ts";

/** How the rig hangs, or every fault that keeps it from being asked. */
export function hang(rig: Rig, options: HangOptions = {}): HangResult {
  const faults = refuse(rig);
  if (faults.length > 0) return { kind: "refused", faults };
  return hangSound(rig, options);
}

/** As `hang`, for a rig that is known to be sound: what ranges and searches ask thousands of times. */
export function hangSound(rig: Rig, options: HangOptions = {}): HangResult {
  const result = rig.beam || rig.hooks.length > 1 ? hangBodies(rig, options) : hangOne(rig, options);
  if (result.kind === "refused") return result;
  const faults = result.legs.flatMap((leg, i) =>
    overStretched(leg, options.sample?.lengths?.[i] ?? madeLength(rig.legs[i]!)),
  );
  return faults.length > 0 ? { kind: "refused", faults } : result;
}

/** More than a tenth is no stretch of any sling: the leg is too short for where it is led, or far too weak. */
function overStretched({ id, length: reach, tension }: LegState, made: number): Fault[] {
  if (reach <= MOST_STRETCH * made) return [];
  return [{ at: `legs/${id}`, is: "overstretched", made, reach, tension }];
}

/** The legs as springs, with their eyes. */
export function springsOf(rig: Rig, sample: Sample = {}): Spring[] {
  const eyes = new Map(rig.eyes.map((eye) => [eye.id, eye.at]));
  return rig.legs.map((leg, i) => {
    const stiffness = stiffnessIn(sample, leg, i);
    return {
      eye: eyes.get(leg.lower)!,
      length: sample.lengths?.[i] ?? madeLength(leg),
      ...(stiffness === undefined ? {} : { stiffness }),
    };
  });
}

function hangOne(rig: Rig, { sample = {}, stands }: HangOptions): HangResult {
  const springs = springsOf(rig, sample);
  const centre = sample.centre ?? rig.load.centre;
  const weight = (sample.mass ?? rig.load.mass.nominal) * GRAVITY;
  const over: readonly [number, number] = stands ?? [centre[0], centre[1]];
  const states = tautStates(
    springs.map((spring) => spring.eye),
    springs.map((spring) => spring.length),
    centre,
  ).map((state) => ({ ...state, up: unit(subtract(state.hook, centre)) }));
  const rest = restOf(springs, weight, centre, startFrom(springs, centre, over), states);
  if (rest === undefined) return { kind: "refused", faults: [tooShort(rig)] };
  const tensions = rest.tensions;
  const overCentre = distance(rest.hook, centre);
  const up = scale(subtract(rest.hook, centre), 1 / overCentre);
  const attitude = attitudeOf(up);
  const same = (a: Vector, b: Vector): boolean => between(a, b) * DEGREES < SAME;
  const far = (other: Vector): boolean => !same(other, up);

  const hanging: Hanging = {
    kind: "hangs",
    ...attitude,
    hook: rest.hook,
    overCentre,
    hooks: [{ id: rig.hooks[0]!.id, load: weight }],
    legs: springs.map((spring, i) => legState(rig.legs[i]!.id, spring, rest.hook, tensions[i]!, up)),
    stability: {
      ...stabilityOf(rest, weight, centre),
      others: states
        .filter(
          (state, i) =>
            state.stable && far(state.up) && !states.slice(0, i).some((before) => same(before.up, state.up)),
        )
        .map((state) => attitudeOf(state.up))
        .sort((a, b) => tiltOf(a.up) - tiltOf(b.up)),
    },
    liftOff: {
      over: [centre[0], centre[1]],
      overCentre,
      ...(stands === undefined ? {} : { swing: [stands[0] - centre[0], stands[1] - centre[1]] as const }),
    },
    residual: residualOf(springs, tensions, rest.hook, centre, weight),
  };
  const upright = states
    .filter((state) => !state.stable && tiltOf(state.up) < tiltOf(up) - SAME)
    .sort((a, b) => tiltOf(a.up) - tiltOf(b.up))[0];
  if (upright === undefined)
    return hanging.residual > NO_REST ? { kind: "refused", faults: [{ at: "legs", is: "no rest" }] } : hanging;
  return { ...tippingOf(rig, upright.hook, springs, weight, centre), falls: hanging };
}

/** Where it comes to rest; without stretch, at the closed state that the valley leads to. */
function restOf(
  springs: readonly Spring[],
  weight: number,
  centre: Vector,
  from: Vector,
  states: readonly TautState[],
): Rest | undefined {
  if (springs.some((spring) => spring.stiffness !== undefined)) {
    const rest = settle(springs, weight, centre, from);
    return rest.strained ? undefined : rest;
  }
  const near = settle(springs, weight, centre, from, 0);
  let best: TautState | undefined;
  for (const state of states)
    if (state.stable && (best === undefined || distance(state.hook, near.hook) < distance(best.hook, near.hook)))
      best = state;
  if (best === undefined) return undefined;
  const tensions = shareOut(springs, weight, centre, best.hook);
  if (tensions === undefined) return undefined;
  return {
    hook: best.hook,
    tensions,
    curvature: curvatureAt(springs, tensions, weight, centre, best.hook),
    strained: false,
  };
}

/** Degrees within which two attitudes are one and the same. */
const SAME = 2;

/** Right over the place where the hook stands, load level, at the height where the first leg comes taut. */
function startFrom(springs: readonly Spring[], centre: Vector, over: readonly [number, number]): Vector {
  let height = Number.POSITIVE_INFINITY;
  for (const spring of springs) {
    const off = Math.hypot(spring.eye[0] - over[0], spring.eye[1] - over[1]);
    height = Math.min(height, spring.eye[2] + Math.sqrt(Math.max(0, spring.length ** 2 - off ** 2)));
  }
  // A hook at or below the centre has no load hanging under it: begin a little above, and see which way it goes.
  return [over[0], over[1], Math.max(height, centre[2] + 0.05 * Math.max(...springs.map((spring) => spring.length)))];
}

function legState(id: string, spring: Spring, hook: Vector, tension: number, up: Vector): LegState {
  const arm = subtract(hook, spring.eye);
  const reach = length(arm);
  return {
    id,
    tension,
    length: reach,
    slack: tension > 0 ? 0 : Math.max(0, spring.length - reach),
    angle: 90 - between(arm, up) * DEGREES,
    direction: unit(arm),
  };
}

/** Force and moment left over, from the geometry and the tensions alone. */
function residualOf(
  springs: readonly Spring[],
  tensions: readonly number[],
  hook: Vector,
  centre: Vector,
  weight: number,
): number {
  const over = subtract(hook, centre);
  let force = scale(unit(over), -weight);
  let moment: Vector = [0, 0, 0];
  for (const [i, spring] of springs.entries()) {
    const pull = scale(unit(subtract(hook, spring.eye)), tensions[i]!);
    force = add(force, pull);
    moment = add(moment, cross(subtract(spring.eye, centre), pull));
  }
  return Math.max(length(force) / weight, length(moment) / (weight * length(over)));
}

/**
 * What holds the load upright, with up the plumb direction: raising the centre along it by s changes no tension and only the weight's share of the
 * curvature, −W/(h−s) across. The rest of it, with the lengthwise motion left free, has the least value σ across; so it tips at s = h − W/σ.
 */
function stabilityOf(rest: Rest, weight: number, centre: Vector): Omit<Stability, "others"> {
  const over = subtract(rest.hook, centre);
  const height = length(over);
  const up = unit(over);
  const [a, b] = [square(up), cross(up, square(up))];
  const of = (v: Vector, w: Vector): number => {
    let sum = 0;
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) sum += v[i]! * rest.curvature[3 * i + j]! * w[j]!;
    return sum;
  };
  const stiff = of(up, up);
  const folded = (v: Vector, w: Vector): number =>
    of(v, w) + (weight / height) * dot(v, w) - (stiff > 0 ? (of(v, up) * of(w, up)) / stiff : 0);
  const { values, vectors } = symmetricEigen([folded(a, a), folded(a, b), folded(b, a), folded(b, b)], 2);
  const least = values[0]!;
  const [ca, cb] = [vectors[0]![0]!, vectors[0]![1]!];
  const way = add(scale(a, ca), scale(b, cb));
  const margin = least > 0 ? height - weight / least : Number.NEGATIVE_INFINITY;
  return { margin, axis: cross(up, way), righting: (weight * margin) / DEGREES };
}

/** The balance that does not hold, stretch and all, by Newton's steps from where it would be without stretch. */
function tippingOf(
  rig: Rig,
  from: Vector,
  springs: readonly Spring[],
  weight: number,
  centre: Vector,
): Omit<Tipping, "falls"> {
  const rest = balance(springs, weight, centre, from);
  const up = unit(subtract(rest.hook, centre));
  const { margin, axis } = stabilityOf(rest, weight, centre);
  return {
    kind: "tips",
    ...attitudeOf(up),
    hook: rest.hook,
    legs: springs.map((spring, i) => legState(rig.legs[i]!.id, spring, rest.hook, rest.tensions[i]!, up)),
    margin,
    axis,
  };
}

const tooShort = (rig: Rig): Fault => ({ at: "legs", is: "no common hook", legs: rig.legs.map(({ id }) => id) });
