// Owns what the readings of a trial lift ask, and what is said of them: the ties and masses that may explain them, and how likely each is.

import type { Rig, Vector } from "./problem.ts";
import type { Remark } from "./remark.ts";
import type { Foot } from "./taking.ts";
import type { TieStiffness } from "./tie.ts";

export interface TrialTie {
  readonly id: string;
  /** Where it holds the load, body axes as built in. */
  readonly at: Vector;
  readonly stiffness: TieStiffness;
  /** Metres that it gives before it pulls. */
  readonly slack: number;
  /** How likely it was before the reading that it is still on: 0 to 1, both left out. */
  readonly chance: number;
}

/** A part that may have been left on, a fluid not drained: known mass at a known place. */
export interface Suspect {
  readonly id: string;
  readonly mass: number;
  readonly centre: Vector;
  readonly chance: number;
}

export interface Reading {
  /** Newtons on the hook, or on both together, without tackle and beam, degrees of pitch and roll, metres of rise since the legs came taut; each with its standard error. */
  readonly load: Measured;
  readonly pitch?: Measured;
  readonly roll?: Measured;
  readonly rise?: Measured;
}
export interface Measured {
  readonly value: number;
  readonly error: number;
}

export interface Trial {
  /** Sound. Mass and centre are uncertain by its limits, taken as two standard errors each way. */
  readonly rig: Rig;
  readonly ties: readonly TrialTie[];
  readonly suspects: readonly Suspect[];
  /** A mass nobody knows of: how likely, how many kilograms as a middle guess, how far from the centre, metres. */
  readonly unknown: { readonly chance: number; readonly kilograms: number; readonly within: number };
  /** How likely it is that it still stands on something at all readings. */
  readonly standing: number;
  /** What it stands on before the lift; fewer than three: not known. */
  readonly feet: readonly Foot[];
  readonly readings: readonly Reading[];
}

/** One tie, or two together, as an explanation of the readings. */
export interface Held {
  readonly ids: readonly string[];
  readonly probability: number;
  /** Newtons that each would pull now. */
  readonly pulls: readonly number[];
}

export interface TrialAnswer {
  readonly kind: "weighed";
  /** They add up to one, with the ties' explanations. */
  readonly free: number;
  readonly unknownMass: { readonly probability: number; readonly kilograms: number };
  readonly suspects: readonly { readonly id: string; readonly probability: number }[];
  /** That part of its weight still rests on something. */
  readonly standing: number;
  /** Each tie that can be told: the probability that it still holds, alone or with another; the likeliest first, which is what to look at first. */
  readonly ties: readonly { readonly id: string; readonly probability: number; readonly pull: number }[];
  /** The likeliest explanations by ties, one or two together. */
  readonly explanations: readonly Held[];
  /** Ties that would pull nothing yet at the highest reading, so that the readings say nothing of them; and the metres of slack they would have left. */
  readonly cannotTell: readonly { readonly id: string; readonly chance: number; readonly slackLeft: number }[];
  /** What the readings would be freed, in their order. */
  readonly expected: readonly Expected[];
  /** Squared distance of the readings from the best explanation in standard errors, and how many readings there are: far more than that, nothing here explains them. */
  readonly misfit: { readonly value: number; readonly readings: number };
}
/** What a reading would be freed: the middle and two standard errors each way. */
export interface Expected {
  readonly load: Middle;
  readonly pitch: Middle;
  readonly roll: Middle;
  /** The freed load would still press on its feet at that rise: such a reading is not weighed. */
  readonly early?: Early;
}
/** Newtons that the freed load would press on its feet, the most that its hook would show, and whether more than that was read. */
export interface Early {
  readonly onFeet: number;
  readonly most: number;
  readonly isMore: boolean;
}
export interface Middle {
  readonly value: number;
  /** Two standard errors; absent where it was not read. */
  readonly within?: number;
}

export type TrialResult = TrialAnswer | { readonly kind: "cannot"; readonly why: Remark };
