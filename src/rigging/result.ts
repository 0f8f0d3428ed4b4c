// Owns the answers about a rig: how it hangs, how stable that is, within what ranges, and what each check found.

import type { Vector } from "./problem.ts";
import type { Fault } from "./refusal.ts";

/** Pitch and roll, degrees, ISO 8855: positive pitch is nose down, positive roll lifts the left side. Heading is free and not given. */
export interface Attitude {
  readonly pitch: number;
  readonly roll: number;
  /** World-up in body axes, a unit. */
  readonly up: Vector;
}

/** One leg as it hangs. */
export interface LegState {
  readonly id: string;
  /** Newtons; 0 when slack. */
  readonly tension: number;
  /** Metres between its ends. */
  readonly length: number;
  /** Metres by which it is longer than the distance of its ends; 0 when taut. */
  readonly slack: number;
  /** Degrees from the horizontal. */
  readonly angle: number;
  /** Unit from the lower to the upper end, in the axes of what it is fixed to below. */
  readonly direction: Vector;
}

/** How the load stands against tipping. */
export interface Stability {
  /**
   * Metres that the centre could rise along the plumb line before the load tips over; negative when it tips. On the way up no tension changes, so
   * the figure is exact (docs/rigging.md, "The margin").
   */
  readonly margin: number;
  /** The axis about which it would first give way, a unit in body axes. */
  readonly axis: Vector;
  /** The couple about that axis that turns it by a degree, newton-metres per degree: weight times margin. */
  readonly righting: number;
  /** Other attitudes at which it also hangs, the least tilted first: where it would come to rest if it were turned over. */
  readonly others: readonly Attitude[];
}

/** Where the hook must stand when the weight comes on, in body axes before the lift, and what happens if it does not. */
export interface LiftOff {
  /** Plan position (x, y) of the hook, right over the centre. */
  readonly over: readonly [number, number];
  /** Metres of the hook over the point of the load that hangs lowest under it. */
  readonly overCentre: number;
  /** Metres that the load swings, horizontally x and y, when the hook stands where the question says. */
  readonly swing?: readonly [number, number];
}

export interface Hanging extends Attitude {
  readonly kind: "hangs";
  /** The hook (or the middle of two) in body axes, metres. */
  readonly hook: Vector;
  /** Metres of the hook over the centre of mass. */
  readonly overCentre: number;
  /** Newtons on each hook. */
  readonly hooks: readonly { readonly id: string; readonly load: number }[];
  readonly legs: readonly LegState[];
  /** The beam's own attitude, when there is one. */
  readonly beam?: Attitude;
  readonly stability: Stability;
  readonly liftOff: LiftOff;
  /** Largest of force over weight, and moment over weight times the hook's height over the centre: 0 at perfect equilibrium. */
  readonly residual: number;
}

/** The load balances as it is slung and does not stay so: it turns over to `falls`. */
export interface Tipping extends Attitude {
  readonly kind: "tips";
  /** The hook in body axes and the legs at the balance that does not hold. */
  readonly hook: Vector;
  readonly legs: readonly LegState[];
  /** Metres by which the centre is too high, as a negative margin, −∞ where the beam turns over whatever it carries; and the axis it turns over about. */
  readonly margin: number;
  readonly axis: Vector;
  readonly falls: Hanging;
}

/** How it hangs, or that it tips, or every fault of the question. */
export type HangResult = Hanging | Tipping | { readonly kind: "refused"; readonly faults: readonly Fault[] };
