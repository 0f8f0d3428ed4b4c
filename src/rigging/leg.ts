// Owns what a leg is before it bears anything: its length as it is hooked in, and how stiff it may be.

import type { Sample } from "./hang-options.ts";
import type { Leg } from "./problem.ts";

/** Metres of a leg as it is made up now, without load. */
export const madeLength = (leg: Leg): number => leg.length - (leg.takeUp ? leg.takeUp.taken * leg.takeUp.step : 0);

/** Of its length without load, what a leg may be pulled to before it counts as too short. */
export const MOST_STRETCH = 1.1;

/** EA of the rig's leg i in a case, newtons; undefined: it does not stretch. */
export const stiffnessIn = (sample: Sample, { stiffness }: Leg, i: number): number | undefined =>
  stiffness === undefined ? undefined : (sample.stiffness?.[i] ?? stiffness);

/** What the stiffness of a table is good to (gear.ts). */
const TABLE_FACTOR = 2;

/** EA at the least and at the most, newtons; undefined: it does not stretch. */
export function stiffnessBounds({ stiffness, stiffnessWithin }: Leg): readonly [number, number] | undefined {
  if (stiffness === undefined) return undefined;
  return stiffnessWithin ?? [stiffness / TABLE_FACTOR, stiffness * TABLE_FACTOR];
}
