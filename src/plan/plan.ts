// Owns the plan as a document: plain data that says all of it, out, work and back, with the proofs; whoever prints or sends it needs nothing else.

import type { BackFault } from "./back-check.ts";
import type { Caution } from "./cautions.ts";
import type { StepTightening } from "./hardware-step.ts";
import type { Assumed, Swap } from "./question.ts";
import type { TorqueLimits } from "./torque-limits.ts";

/** What was put in, or is taken out, at a step. */
export interface Item {
  readonly item: string;
  readonly count: number;
}

/** One numbered step. Times are minutes for all the people named, one step after the other. */
export interface PlanStep {
  /** From 1, through the whole plan. */
  readonly number: number;
  readonly action:
    | "release"
    | "loosen"
    | "do"
    | "undo"
    | "work"
    | "verify"
    | "refit"
    | "tighten"
    | "return"
    | "perform";
  /** The connection, task, hang or work; of a last look the step that it stands before. */
  readonly id: string;
  readonly way?: string;
  readonly label: string;
  readonly minutes: number;
  readonly people: number;
  /** Minutes afterwards that nobody need stand by. */
  readonly wait?: number;
  readonly skill?: string;
  readonly tools: readonly string[];
  readonly cautions: readonly Caution[];
  readonly mark?: string;
  readonly protect?: string;
  readonly catch?: string;
  readonly keep?: string;
  readonly note?: string;
  /** Temporary things put in at this step, plugs among them, and taken out at it. */
  readonly putIn: readonly Item[];
  readonly takeOut: readonly Item[];
  /** Fasteners that come out at this step and go back in. */
  readonly hardware: readonly Item[];
  /** Pieces of it that are thrown away at release and new at refit. */
  readonly scrap?: number;
  readonly fresh: readonly string[];
  /** Newton-metres, as the file gives it. */
  readonly torque?: number;
  /** What a reading of it may be, where the file says: at the fastener, running torque in it. */
  readonly torqueLimits?: TorqueLimits;
  readonly pattern?: string;
  /** How its fasteners are tightened: stages, order, and a marked proposal where the file gives no torque. */
  readonly tightening?: StepTightening;
  /** What goes on or in and is used up: "anti-seize paste 5 g". */
  readonly uses?: readonly string[];
  readonly check?: string;
  /** Parts put aside by hand, or fetched again. */
  readonly setAside: readonly string[];
  readonly fetch: readonly string[];
  /** Figures of this step that the file does not give. */
  readonly assumed: readonly string[];
  /** Of a last look: what is verified, hidden things first, and what closes over it. */
  readonly verify?: readonly { readonly id: string; readonly label: string; readonly hidden: boolean }[];
  readonly closes?: string;
}

/** Steps at one position, one after the other. */
export interface Visit {
  readonly position?: string;
  readonly label: string;
  readonly minutes: number;
  readonly tools: readonly string[];
  readonly steps: readonly PlanStep[];
}

/** Nominal, and from and to over all that is not known where that is proved. */
export interface Between {
  readonly nominal: number;
  readonly low?: number;
  readonly high?: number;
}

/** How it hangs: the few figures that whoever does the job needs. */
export interface LiftInShort {
  readonly kind: "hangs" | "tips" | "stands" | "not reckoned";
  /** Why it is not reckoned: what the file lacks or has wrong. */
  readonly why?: string;
  /** Degrees, ISO 8855: nose down and left side up are positive. */
  readonly pitch?: Between;
  readonly roll?: Between;
  /** Newtons, and degrees from the horizontal. */
  readonly legs: readonly { readonly id: string; readonly tension: Between; readonly angle: number }[];
  /** Metres that the centre could be higher, or lies inside what it stands on, at the least. */
  readonly margin?: number;
  /** How many checks passed, and which did not. */
  readonly passed: number;
  readonly open: readonly {
    readonly check: string;
    readonly at: string;
    readonly verdict: "attention" | "fails" | "not checked";
    readonly figures: string;
  }[];
  /** Metres, negative where it touches. */
  readonly clearance?: { readonly gap: number; readonly box: string; readonly obstacle: string };
  /** Newtons on the cell, tackle and all, above which to stop hoisting. */
  readonly stop?: number;
}

export interface PlannedLift {
  readonly task: string;
  readonly label: string;
  readonly parts: readonly { readonly id: string; readonly label: string; readonly mass: number | null }[];
  /** Kilograms, the upper end of every tolerance; parts without a mass in the file count nothing and are listed. */
  readonly mass: number;
  readonly withoutMass: readonly string[];
  /** Kilograms; null where the file limits nothing. */
  readonly limit: number | null;
  readonly hoist?: {
    readonly id: string;
    readonly label: string;
    readonly limit: number;
    readonly reach?: number;
    readonly tackle?: number;
  };
  readonly eyes?: { readonly ids: readonly string[]; readonly limit: number };
  readonly beam?: { readonly id: string; readonly mass: number; readonly limit?: number };
  /** How it hangs, in short; unmoor lift says all of it. */
  readonly hanging?: LiftInShort;
}

/** A temporary thing, by the numbers of the steps that it goes in and comes out with. */
export interface TemporaryThing extends Item {
  readonly in: number;
  /** Absent: nothing takes it out. The check of the way back then says so. */
  readonly out?: number;
}

/** Person-minutes, but for the waiting. */
export interface Figures {
  /** Release and refit together. */
  readonly labour: number;
  /** No legal plan takes less. */
  readonly bound: number;
  /** The jobs' own work, which the labour leaves out. */
  readonly work: number;
  /** Turning states of the vehicle oftener on the way back than on the way out: beyond what was proved least. */
  readonly beyond: number;
  /** Minutes afterwards that nobody stands by for, in all: draining, cooling. */
  readonly waiting: number;
}

/** What the independent replays say. */
export interface Checks {
  readonly out: {
    readonly legal: boolean;
    readonly steps: number;
    /** Connections still made at the end, over which no lifted group reaches anything fixed. */
    readonly searched: number;
    /** Connections released at the vehicle after a lift took the parts that they join: the file gives no better way, or not with these others. */
    readonly late: readonly string[];
  };
  readonly back: { readonly holds: boolean; readonly steps: number; readonly faults: readonly BackFault[] };
  /** Bodies that sat for a while on mounts whose bolts were out; metres from their centre of mass to the nearest edge. */
  readonly rested: readonly {
    readonly parts: readonly string[];
    readonly on: readonly string[];
    readonly inside: number;
  }[];
}

/** Visits to positions, each with a number that no order of the same steps gets below. */
export interface Moves {
  readonly out: number;
  readonly outFewest: number;
  readonly back: number;
  readonly backFewest: number;
}

export interface Plan {
  readonly format: "unmoor/plan/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly jobs: readonly { readonly id: string; readonly label: string }[];
  readonly crew: { readonly people?: number; readonly names: readonly string[] };
  readonly status: "optimal" | "feasible";
  readonly figures: Figures;
  readonly lifts: readonly PlannedLift[];
  readonly setAside: readonly string[];
  readonly hung: readonly { readonly part: string; readonly to: string }[];
  /** Released before this plan began; their refit is no part of it. */
  readonly releasedBefore: readonly string[];
  readonly swaps: readonly Swap[];
  readonly checks: Checks;
  readonly moves: Moves;
  readonly out: readonly Visit[];
  /** From the first step of the jobs' work to the last. */
  readonly work: readonly Visit[];
  readonly back: readonly Visit[];
  readonly temporary: readonly TemporaryThing[];
  /** What must be new, by the number of the step that needs it. */
  readonly fresh: readonly { readonly item: string; readonly step: number }[];
  readonly removed: readonly { readonly id: string; readonly label: string; readonly why: string }[];
  readonly assumed: readonly Assumed[];
  /** What each id of the plan is called: parts, connections, tasks. */
  readonly labels: Readonly<Record<string, string>>;
}
