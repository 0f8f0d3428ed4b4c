// Owns what the ranges of a hanging are: bounds that hold whatever the case, and the worst case of each.

import type { Vector } from "./problem.ts";
import type { Remark } from "./remark.ts";

/** One set of figures out of all that may be. */
export interface Case {
  /** Kilograms, metres in body axes, metres of each leg in the rig's order, as loaded. */
  readonly mass: number;
  readonly centre: Vector;
  readonly lengths: readonly number[];
  /** EA of each leg, newtons, where that is one of the doubts. */
  readonly stiffness?: readonly number[];
  /** Legs that carry in it; the others are slack or as good as slack. */
  readonly carrying: readonly string[];
}

/** One end of a range. */
export interface End {
  /** It is not beyond this, whatever the case. */
  readonly bound: number;
  /** The value at `at`, which is possible; as near to the bound as was found. */
  readonly reached: number;
  readonly at: Case;
}

export interface Range {
  readonly low: End;
  readonly high: End;
}

export interface LegRange {
  readonly id: string;
  /** Newtons. */
  readonly tension: Range;
  /** Degrees from the horizontal, while it carries. */
  readonly angle: Range;
  /** Some possible case leaves it slack. */
  readonly maySlack: boolean;
}

export interface Ranges {
  readonly kind: "ranges";
  readonly pitch: Range;
  readonly roll: Range;
  /** Metres of the hook over the centre, and of the margin against tipping. */
  readonly overCentre: Range;
  readonly margin: Range;
  readonly legs: readonly LegRange[];
  /** Newtons on each hook. */
  readonly hooks: readonly { readonly id: string; readonly load: Range }[];
  /** Newtons. */
  readonly weight: readonly [number, number];
  /**
   * "proved": no case lies outside, for the attitude that the nominal figures lead to. "tried": cases that were hung one by one, with no proof.
   */
  readonly status: "proved" | "tried";
  /** Sets of legs that may carry alone: where it is proved under one hook at most three each, where it is tried those of the cases. */
  readonly carrying: readonly (readonly string[])[];
}

export type RangeResult = Ranges | { readonly kind: "unbounded"; readonly why: Remark };
