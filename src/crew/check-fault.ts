// Owns what can be wrong with a schedule, as data, and what the parts of the checker share: works as they were placed, and the slack of a comparison.

import type { Problem, Task, Work } from "./problem.ts";

export type Rule = "C1" | "C2" | "C3" | "C4" | "C5" | "C6" | "C7" | "C8" | "C9" | "C10" | "C11" | "C12" | "C13";

/** A task, or the change of a state that comes as the `turn`-th of that state, from 0. */
export type WorkName =
  | { readonly task: string }
  | { readonly state: string; readonly to: boolean; readonly turn: number };

/** What broke a rule: `kind` says how, the rest names what. Minutes. */
export type Breach =
  /** C1: not placed. */
  | { readonly kind: "missing"; readonly task: string }
  /** C1: placed more than once. */
  | { readonly kind: "twice"; readonly task: string }
  /** C1: the problem has no such task, state or person. */
  | { readonly kind: "unknown"; readonly id: string }
  /** C1: not a minute. */
  | { readonly kind: "no time"; readonly of: WorkName }
  /** C1: before `now`, and had not begun. */
  | { readonly kind: "early"; readonly of: WorkName; readonly now: number }
  /** C1: had begun at another minute, or with other people. */
  | { readonly kind: "begun"; readonly task: string; readonly start: number; readonly people: readonly string[] }
  /** C2: not there when the work begins, or, where it does not pause, until it is done. */
  | { readonly kind: "away"; readonly of: WorkName; readonly person: string }
  /** C2: its people leave at `free`, and `due` is when the work is done (Infinity: never). */
  | { readonly kind: "free"; readonly of: WorkName; readonly free: number; readonly due: number }
  /** C2 */
  | { readonly kind: "end"; readonly of: WorkName; readonly end: number; readonly due: number }
  /** C3 */
  | { readonly kind: "count"; readonly of: WorkName; readonly people: number; readonly seats: number }
  /** C3: the same person in two seats. */
  | { readonly kind: "same"; readonly of: WorkName; readonly person: string }
  /** C3: the first seat that stays empty however its people are seated. */
  | { readonly kind: "skill"; readonly of: WorkName; readonly skill: string }
  /** C4 */
  | { readonly kind: "both"; readonly person: string; readonly works: readonly [WorkName, WorkName] }
  /** C5: comes from `from` (absent: the position is the same or none) and cannot be at work before `due`. */
  | {
      readonly kind: "way";
      readonly of: WorkName;
      readonly person: string;
      readonly from?: string;
      readonly to: string;
      readonly due: number;
    }
  /** C6 */
  | {
      readonly kind: "crowded";
      readonly position: string;
      readonly works: readonly WorkName[];
      readonly people: number;
      readonly room: number;
    }
  /** C7 */
  | { readonly kind: "not empty"; readonly position: string; readonly of: WorkName; readonly with: WorkName }
  /** C8: taken by works, and by holds named by their two tasks. */
  | {
      readonly kind: "overdrawn";
      readonly stock: string;
      readonly taken: number;
      readonly count: number;
      readonly works: readonly WorkName[];
      readonly holds: readonly (readonly [string, string])[];
    }
  /** C9: before `due`, the earliest. */
  | { readonly kind: "soon"; readonly task: string; readonly after: string; readonly due: number }
  /** C9: after `due`, the latest. */
  | { readonly kind: "late"; readonly task: string; readonly after: string; readonly due: number }
  /** C10: the state is so already. */
  | { readonly kind: "turned"; readonly of: WorkName }
  /** C10: begins before the change before it ends. */
  | { readonly kind: "changing"; readonly of: WorkName; readonly due: number }
  /** C10: does not have the state so from its start to its end. */
  | { readonly kind: "unlike"; readonly of: WorkName; readonly state: string; readonly on: boolean }
  /** C10 */
  | { readonly kind: "left"; readonly state: string; readonly on: boolean }
  /** C11: begins before this task, listed in its `after`, has ended. */
  | { readonly kind: "change soon"; readonly of: WorkName; readonly task: string; readonly due: number }
  /** C11: ends after this task, listed in its `before`, has begun. */
  | { readonly kind: "change late"; readonly of: WorkName; readonly task: string; readonly due: number }
  /** C12 */
  | { readonly kind: "together"; readonly tasks: readonly [string, string] }
  /** C13 */
  | { readonly kind: "own verifier"; readonly task: string; readonly of: string; readonly person: string };

export interface Fault {
  readonly rule: Rule;
  /** When it is so, minutes; NaN where no minute can be given. */
  readonly minute: number;
  readonly what: Breach;
}

/** A work where the schedule places it. */
export interface Laid {
  readonly name: WorkName;
  readonly work: Work;
  readonly task?: Task;
  readonly start: number;
  readonly free: number;
  readonly end: number;
  readonly people: readonly string[];
}

/** What the parts of the checker look at. */
export interface Scene {
  readonly problem: Problem;
  readonly works: readonly Laid[];
  readonly fault: (rule: Rule, minute: number, what: Breach) => void;
}

/** Minutes: what differs by less is the same minute, since sums of fractions round. Far below any figure of a plan. */
const SLACK = 1e-6;

/** Whether `a` is a minute before `b`. */
export const before = (a: number, b: number): boolean => a < b - SLACK;

/** Whether two half-open spans have a minute in common; one without length has none. */
export const meet = (from: number, until: number, otherFrom: number, otherUntil: number): boolean =>
  before(from, until) && before(otherFrom, otherUntil) && before(from, otherUntil) && before(otherFrom, until);
