// Owns the quick forecast of a load on its hook: attitude and height for any weight at any point, near how it hangs freed.
//
// What pulls straight down with P at a point r acts as a weight W+P at (W·G+P·r)/(W+P); that is exact. The hook's place in body axes then follows from the legs
// that carry the freed load, as long as they are: three fix it, two leave it in the plane of their eyes and the weight's centre.

import { attitudeOf } from "./attitude.ts";
import { GRAVITY } from "./gravity.ts";
import { hangSound, type Sample } from "./hang.ts";
import type { Rig, Vector } from "./problem.ts";
import { madeLength } from "./refuse.ts";
import { hookOfThree, hookOfTwo } from "./taut.ts";
import { add, along, distance, scale, subtract, unit } from "./vector.ts";

export interface Freed {
  readonly weight: number;
  readonly centre: Vector;
  /** The hook in body axes when the weight acts at this centre. */
  readonly hookFor: (centre: Vector) => Vector;
  /** Metres of the hook over the centre, loaded. */
  readonly height: number;
  /** Metres that the legs give for a newton more on the hook. */
  readonly give: number;
  /** Metres of the hook over the centre when the legs just come taut over the load as it stood. */
  readonly taut: number;
}

/** The freed load's forecast; undefined when the rig does not hang freed. The rig is sound and has one hook and no beam. */
export function freedOf(rig: Rig, sample: Sample = {}): Freed | undefined {
  const hanging = hangSound(rig, { sample });
  if (hanging.kind !== "hangs") return undefined;
  const centre = sample.centre ?? rig.load.centre;
  const weight = (sample.mass ?? rig.load.mass.nominal) * GRAVITY;
  const eyes = new Map(rig.eyes.map(({ id, at }) => [id, at]));
  const carrying = hanging.legs
    .map((leg, i) => ({ ...leg, eye: eyes.get(rig.legs[i]!.lower)!, i }))
    .filter(({ tension }) => tension > 1e-6 * weight)
    .sort((a, b) => b.tension - a.tension);
  const [a, b, c] = carrying;
  const near = hanging.hook;
  const hookFor = (at: Vector): Vector => {
    if (c !== undefined) return near;
    if (b !== undefined) return hookOfTwo(a!.eye, b.eye, a!.length, b.length, at, 1) ?? near;
    return along(a!.eye, unit(subtract(a!.eye, at)), a!.length);
  };
  // With the hook's place known by three of the legs, what it is for the lengths of a sample follows too.
  const three =
    c === undefined
      ? undefined
      : [1, -1]
          .map((side) => hookOfThree([a!.eye, b!.eye, c.eye], [a!.length, b!.length, c.length], side))
          .find((hook) => hook !== undefined && distance(hook, near) < 1e-3);
  let stiff = 0;
  for (const { i, angle, length } of carrying) {
    const { stiffness } = rig.legs[i]!;
    if (stiffness !== undefined) stiff += (stiffness / length) * Math.sin((angle * Math.PI) / 180) ** 2;
  }
  const taut = Math.min(
    ...rig.legs.map((leg, i) => {
      const eye = eyes.get(leg.lower)!;
      const reach = sample.lengths?.[i] ?? madeLength(leg);
      return (
        eye[2] - centre[2] + Math.sqrt(Math.max(0, reach ** 2 - (eye[0] - centre[0]) ** 2 - (eye[1] - centre[1]) ** 2))
      );
    }),
  );
  return {
    weight,
    centre,
    hookFor: three === undefined ? hookFor : () => three,
    height: hanging.overCentre,
    give: stiff === 0 ? 0 : 1 / stiff,
    taut,
  };
}

/** What pulls down beside the weight: newtons at points of the load. */
export interface Downward {
  readonly newtons: number;
  readonly at: Vector;
}

export interface Forecast {
  readonly load: number;
  /** Degrees. */
  readonly pitch: number;
  readonly roll: number;
  readonly up: Vector;
  readonly hook: Vector;
}

/** Load and attitude with these pulling down as well. */
export function forecast(freed: Freed, pulls: readonly Downward[]): Forecast {
  let load = freed.weight;
  let moment = scale(freed.centre, freed.weight);
  for (const { newtons, at } of pulls) {
    load += newtons;
    moment = add(moment, scale(at, newtons));
  }
  const centre = scale(moment, 1 / load);
  const hook = freed.hookFor(centre);
  const up = unit(subtract(hook, centre));
  const { pitch, roll } = attitudeOf(up);
  return { load, pitch, roll, up, hook };
}

/**
 * Metres that a point of the load has risen from where it was built in, when the hook has risen by `rise` since the legs came taut and hangs over the
 * load's centre.
 */
export function risen(freed: Freed, at: Forecast, point: Vector, rise: number): number {
  const hookHeight = freed.centre[2] + freed.taut + rise - (at.load - freed.weight) * freed.give;
  const below = subtract(at.hook, point);
  return hookHeight - (below[0] * at.up[0] + below[1] * at.up[1] + below[2] * at.up[2]) - point[2];
}
