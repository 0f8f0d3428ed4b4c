// Owns the answer to who does what when: where each task and each change of state is placed, how near to the least time, and what makes it that long.

/** A task placed, or a change of state. `end` counts what runs on alone; `free` is when its people leave. Minutes. */
export interface Placed {
  readonly task: string;
  readonly start: number;
  readonly free: number;
  readonly end: number;
  readonly people: readonly string[];
}

/** A change of a state, in the order of time for each state. */
export interface Changed extends Omit<Placed, "task"> {
  readonly state: string;
  readonly to: boolean;
}

export interface Schedule {
  /** In the order of the problem's tasks. */
  readonly tasks: readonly Placed[];
  readonly changes: readonly Changed[];
}

/** What a schedule costs. */
export interface Figures {
  /** Minutes from `now` to the end of the last task and change. */
  readonly elapsed: number;
  /** Person-minutes of tasks and changes, breaks not counted. */
  readonly labour: number;
  /** How often somebody goes from one position to another. */
  readonly moves: number;
  /** Tasks that others do than were told; 0 where nobody was. */
  readonly retold: number;
}

/** One link of what makes the schedule as long as it is, the last first in time: why this begins no earlier. */
export interface Link {
  readonly task: string;
  readonly start: number;
  readonly end: number;
  readonly because:
    | { readonly kind: "beginning" }
    | { readonly kind: "after"; readonly task: string }
    | {
        readonly kind: "person" | "stock" | "position" | "state" | "shift";
        readonly id: string;
        readonly task?: string;
      };
}

/** What is ill-posed or cannot be, before any search: `at` names task, person, position or state; the sentence is made by who shows it. */
export type Lack =
  | {
      readonly what: "no such skill";
      readonly at: string;
      readonly skill: string;
      readonly count: number;
      readonly have: number;
    }
  /** Enough for each of these skills, but not for all of them at once: the people are the same. */
  | {
      readonly what: "too few skilled";
      readonly at: string;
      readonly skills: readonly string[];
      readonly count: number;
      readonly have: number;
    }
  | { readonly what: "too few people"; readonly at: string; readonly count: number; readonly have: number }
  | {
      readonly what: "position too small";
      readonly at: string;
      readonly position: string;
      readonly count: number;
      readonly room: number;
    }
  | {
      readonly what: "stock too small";
      readonly at: string;
      readonly stock: string;
      readonly count: number;
      readonly have: number;
    }
  /** Whoever does these tasks, nobody is left who may do `at`. */
  | { readonly what: "no verifier"; readonly at: string; readonly of: readonly string[] }
  | { readonly what: "no spell long enough"; readonly at: string; readonly minutes: number }
  /** The work empties the position that it is done at. */
  | { readonly what: "empties its own position"; readonly at: string; readonly position: string }
  | { readonly what: "on and off"; readonly at: string; readonly state: string }
  /** A change that wants its own state on or off: it is neither meanwhile. */
  | { readonly what: "wants what it changes"; readonly at: string }
  /** Tasks, and states that they want changed, each of which waits for the next; or must follow too soon. */
  | { readonly what: "circle"; readonly tasks: readonly string[] }
  | { readonly what: "unknown id"; readonly at: string; readonly id: string }
  | { readonly what: "twice"; readonly at: string }
  | { readonly what: "not a figure"; readonly at: string; readonly field: string; readonly value: number }
  /** The spells of a person do not rise, or touch. */
  | { readonly what: "spells not rising"; readonly at: string }
  /** `moves` has not as many rows, or a row not as many figures, as there are positions. */
  | { readonly what: "not square"; readonly at: string; readonly count: number; readonly have: number }
  | {
      readonly what: "shorter way round";
      readonly at: string;
      readonly to: string;
      readonly over: string;
      readonly minutes: number;
      readonly round: number;
    }
  | { readonly what: "contradiction"; readonly tasks: readonly string[]; readonly rules: readonly string[] };

export type Status = "optimal" | "feasible" | "infeasible" | "unknown";

export interface Result {
  readonly status: Status;
  readonly schedule?: Schedule;
  readonly figures?: Figures;
  /** Minutes from `now`: no legal schedule is shorter. Infinity when none is legal. */
  readonly bound: number;
  /** What the bound comes from, in the words of the search: "longest chain", "people", "proof by clauses" … */
  readonly boundBy: string;
  /** Why there is none; empty unless infeasible. */
  readonly lacks: readonly Lack[];
  readonly chain: readonly Link[];
  readonly effort: { readonly schedules: number; readonly conflicts: number };
}

/** When to stop; whatever comes first. Counts, not time, give the same answer twice. */
export interface Limits {
  readonly seconds?: number;
  readonly schedules?: number;
  readonly conflicts?: number;
  /** Stop when the bound is within this share of the best: 0.05. */
  readonly gap?: number;
  /** Stop when a schedule takes no more than so many minutes, or when none can. */
  readonly due?: number;
  readonly seed?: number;
  /** Milliseconds, rising; asked for now and then. Needed for `seconds`. */
  readonly clock?: () => number;
  readonly stop?: () => boolean;
  /** Schedules known beforehand; the answer is no worse than the best of those that are legal. What is no whole number of the search's ticks is left out. */
  readonly known?: readonly Schedule[];
  readonly watch?: Watch;
}

/** Told as the search goes; does nothing to it. */
export interface Watch {
  readonly better?: (schedule: Schedule, figures: Figures, bound: number) => void;
  readonly bound?: (bound: number) => void;
}
