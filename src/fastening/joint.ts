// Owns the question of a joint and the shape of its answer: thread, class, friction and aim in; torque, preload and verdicts out.

import type { Metres, NewtonMetres, Newtons } from "../quantity/index.ts";
import type { Friction } from "./friction.ts";
import type { Bearing } from "./head.ts";
import type { Method } from "./scatter.ts";
import type { Span } from "./span.ts";
import type { Strength } from "./strength.ts";
import type { Thread } from "./thread.ts";
import type { Adapter, Multiplier, Wrench } from "./wrench.ts";

/** Torque to a snug fit, then turned on by an angle. The grip decides how much preload a degree brings. */
export interface Turn {
  readonly torque: NewtonMetres;
  /** Degrees, all turns together. */
  readonly degrees: number;
  /** Length clamped between head and nut or thread. */
  readonly grip: Metres;
}

/**
 * What is wanted of the joint, one of these. A share is of the proof load. `yield` is a share of the yield
 * point by equivalent stress, torsion of tightening included. `propose`: nobody said, so the computation proposes.
 */
export type Aim =
  | { readonly torque: NewtonMetres }
  | { readonly preload: Newtons }
  | { readonly share: number }
  | { readonly yield: number }
  | { readonly turn: Turn }
  | { readonly propose: "to come apart" | "to stay" };

/** One joint as it is asked about: its fasteners are alike. */
export interface Joint {
  readonly thread: Thread;
  /** Absent: the shares of proof and yield are not given, and what needs them is a fault. */
  readonly strength?: Strength;
  /** As the threads are on the day. */
  readonly friction: Friction;
  /** As the threads are supposed to be by whoever gave the torque; absent: the same. */
  readonly statedFor?: Friction;
  /** Absent: by the size, and said in `assumed`. */
  readonly bearing?: Bearing;
  readonly aim: Aim;
  /** How it is tightened; "torque wrench" where it is not said. */
  readonly method?: Method;
  /** Running torque of a locknut or an insert, measured short of the seat. */
  readonly prevailing?: NewtonMetres;
  /** It runs on a self-locking nut: a new one, or one that was on before. */
  readonly locknut?: "new" | "used";
  /** Clamp force that each fastener must hold, where the file states a load or a pressure. */
  readonly clamp?: Newtons;
  /** Torque wrenches the shop has; absent: nothing is said of wrenches. */
  readonly wrenches?: readonly Wrench[];
  readonly adapter?: Adapter;
  readonly multiplier?: Multiplier;
  /** The fastener may be tightened once only. */
  readonly oneTime?: boolean;
  /** It has been tightened before. */
  readonly used?: boolean;
}

/** Of each verdict: the check passed on these figures, lies in doubt within the scatter, failed, or is only to be known. */
export type Standing = "holds" | "doubtful" | "fails" | "note";

export const RULES = [
  "over-proof",
  "over-yield",
  "under-clamp",
  "other-friction",
  "running-torque",
  "past-yield",
  "one-time",
  "proposal",
  "wrench-choice",
  "wrench-range",
  "adapter",
  "multiplier",
] as const;

/** One check with its figures. `value` and `limit` are in `unit`. */
export interface Verdict {
  readonly rule: (typeof RULES)[number];
  readonly standing: Standing;
  readonly what: string;
  /** What to do; absent where there is nothing to do. */
  readonly mend?: string;
  readonly value?: number;
  readonly limit?: number;
  readonly unit?: string;
}

/** Where the torque goes, N·m each: up the thread's slope, rubbed off in the thread, rubbed off under the head. */
export interface Split {
  readonly pitch: NewtonMetres;
  readonly thread: NewtonMetres;
  readonly head: NewtonMetres;
}

export interface Tightening {
  /** What seats the joint, N·m; running torque not in it. */
  readonly torque: NewtonMetres;
  /** What the fastener feels: with the running torque. */
  readonly applied: NewtonMetres;
  /** What is set on the wrench: after adapter and multiplier. */
  readonly set: NewtonMetres;
  /** N in each fastener: nominal friction, and the limits from friction's doubt and the scatter of the method. */
  readonly preload: Span;
  /** Of the proof load and of the yield point; absent without a class. */
  readonly proofShare?: Span;
  readonly yieldShare?: Span;
  /** Absent where friction is a nut factor, which does not tell the parts apart. */
  readonly split?: Split;
  /** N·m to break it loose, nominal; absent where friction is a nut factor. */
  readonly loosening?: NewtonMetres;
  /** The rule the torque comes by: given, or by which aim. */
  readonly by: string;
  /** True: nobody gave this torque. It is no figure for a gate until somebody answers for it. */
  readonly proposal: boolean;
  /** The wrench chosen, by its id. */
  readonly wrench?: string;
  readonly verdicts: readonly Verdict[];
  /** What was taken because it was not said. */
  readonly assumed: readonly string[];
}
