// Owns the question of how a load hangs, as plain data: ids, SI numbers and degrees, of the vehicle file only the names of its eye rules.
//
// Axes are ISO 8855: x forward, y left, z up. Body axes are the load's own while it stands as it was built in (pitch 0, roll 0). Angles
// are degrees. "From the horizontal" and "from the vertical" are never left unsaid.

import type { EYE_RULES } from "../vehicle/index.ts";

/** A point or a direction: metres, or a unit. */
export type Vector = readonly [number, number, number];

/** A value known within limits, low ≤ nominal ≤ high. */
export interface Spread {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
}

/** A box with faces square to its axes, metres. A side view alone gives it ±Infinity across. */
export interface Box {
  readonly id: string;
  readonly low: Vector;
  readonly high: Vector;
}

/** What a piece of gear may carry, straight: kilograms, with where the figure comes from. */
export interface Rating {
  readonly kilograms: number;
  readonly source: string;
  /** From a built-in table of a standard, not from the file. */
  readonly assumed: boolean;
}

export interface Load {
  /** Kilograms. */
  readonly mass: Spread;
  /** Centre of mass, body axes, and by how much each coordinate may be out, ± metres. */
  readonly centre: Vector;
  readonly within: Vector;
  /** What it fills, body axes; needed for clearing and for the picture. */
  readonly outline: readonly Box[];
}

/** How an eye loses by the angle of the pull: see eye.ts for each. */
export type EyeRule = (typeof EYE_RULES)[number];

export interface Eye {
  readonly id: string;
  readonly at: Vector;
  /** Direction of the bolt's axis out of the load; absent: straight up. */
  readonly axis?: Vector;
  /** Direction square to the ring's flat; absent: whether the pull lies in the plane of the ring is not checked. */
  readonly face?: Vector;
  readonly rating?: Rating;
  /** Absent: what the angle takes is not checked. */
  readonly rule?: EyeRule;
}

/** One thing in a leg, from the eye up: each is checked by itself, so mixed gear takes the weakest. */
export interface Gear {
  readonly id: string;
  readonly what: "chain" | "wire rope" | "web" | "shackle" | "adjuster" | "link" | "hook";
  readonly rating?: Rating;
  /** What is left of the rating for a reason of its own: choked, hot, over an edge. */
  readonly reductions: readonly { readonly share: number; readonly why: string }[];
  /** Shackles: degrees of the pull from the line square to the pin. Absent: 0. */
  readonly side?: number;
}

/** What can be taken up in a leg: whole links, hook-in positions of a web, notches of an adjuster. */
export interface TakeUp {
  /** Metres that one step shortens by. */
  readonly step: number;
  readonly most: number;
  /** Steps taken up now. */
  readonly taken: number;
}

/**
 * A leg from an eye or a point of the beam up to a point of the beam or a hook. It only pulls: with `stiffness` (EA, newtons) its
 * tension is EA·(stretch/length); without, it does not stretch.
 */
export interface Leg {
  readonly id: string;
  readonly lower: string;
  readonly upper: string;
  /** Metres without load, nothing taken up; and how far that may be out, ± metres. */
  readonly length: number;
  readonly within: number;
  readonly stiffness?: number;
  /** Between which figures it is known to lie, where the file says what it is; absent: of a table (`stiffnessBounds`). */
  readonly stiffnessWithin?: readonly [number, number];
  readonly gear: readonly Gear[];
  readonly takeUp?: TakeUp;
}

/** A lifting beam or spreader: a rigid body between hook and legs, in body axes of its own, level as drawn. */
export interface Beam {
  readonly mass: number;
  readonly centre: Vector;
  readonly points: readonly { readonly id: string; readonly at: Vector }[];
  /** The point that hangs on the hook itself, by a shackle or lug; absent: legs go from hook to beam. */
  readonly pin?: string;
  readonly rating?: Rating;
}

export interface Hook {
  readonly id: string;
  /** Where it is, world axes: with two hooks. With one it may be left out. */
  readonly at?: Vector;
  readonly rating?: Rating;
}

export interface Hoist {
  readonly id: string;
  /** Metres of reach and kilograms, reach rising. */
  readonly curve: readonly (readonly [number, number])[];
  readonly reach?: number;
  /** Between two listed reaches: the lower of the two (common practice), or the straight line. Absent: the lower. */
  readonly between?: "lower" | "line";
  /** Hook block, shackles and whatever else hangs there besides load and beam, kilograms. */
  readonly tackle?: number;
}

/** The whole rig. With one hook, body axes are all that matters; with two, `hooks` say where they are. */
export interface Rig {
  readonly load: Load;
  readonly eyes: readonly Eye[];
  readonly legs: readonly Leg[];
  readonly hooks: readonly Hook[];
  readonly beam?: Beam;
  /** Figures given besides, which the rest already fixes: measured twice, or copied from another sheet. */
  readonly stated?: readonly Stated[];
}

/** A figure that the rest already fixes; refused with its misclosure when the two disagree by more than `within` metres. */
export type Stated =
  | {
      /** The triangle of a leg under a hook that hangs over the load: its length closes it, by any two of the three. */
      readonly leg: string;
      /** Metres, horizontally from the eye to the hook's plumb line. */
      readonly across?: number;
      /** Metres from the eye up to the hook. */
      readonly height?: number;
      /** Degrees from the horizontal. */
      readonly angle?: number;
      readonly within: number;
    }
  | { readonly from: string; readonly to: string; readonly span: number; readonly within: number };

/** What is lifted gently is still more than its weight: the share on top, with its source. */
export interface DynamicFactor {
  readonly factor: number;
  readonly source: string;
  readonly assumed: boolean;
}

/** How many legs the checks let carry when there are three or more; tensions by elastic statics stand beside it. */
export const SHARING_RULES = ["two carry", "three carry", "as computed"] as const;
export type SharingRule = (typeof SHARING_RULES)[number];

/** What the checks need beyond the rig. */
export interface CheckRules {
  readonly sharing: SharingRule;
  readonly dynamic: DynamicFactor;
  /** Degrees from the horizontal below which a leg fails, and below which it is worth a word. */
  readonly leastAngle: number;
  readonly lowAngle: number;
  readonly hoist?: Hoist;
}
