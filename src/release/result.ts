// Owns the answer to what must come off: the plan out, its labour, and how near to the least labour it is known to be.

/** One step of the way out. A toggle may be done and undone more than once. */
export type Step =
  | { readonly release: string; readonly way: string }
  | { readonly do: string }
  | { readonly undo: string };

export interface Plan {
  /** Every step out, in an order in which each can be made. */
  readonly order: readonly Step[];
  readonly releases: readonly { readonly id: string; readonly way: string }[];
  /** Tasks of the way out, in the order in which they are first done, then the back tasks that are called for. */
  readonly tasks: readonly string[];
  /** What goes up with each lift. */
  readonly lifts: readonly { readonly task: string; readonly parts: readonly string[]; readonly mass: number }[];
  /** Parts whose every connection is released at the end and that no lift took. */
  readonly setAside: readonly string[];
  /** Parts hung aside, by the task that hangs them. */
  readonly hung: readonly string[];
  /** Minutes. */
  readonly labour: number;
}

export type Status = "optimal" | "feasible" | "infeasible" | "unknown";

export interface Result {
  readonly status: Status;
  /** Absent when infeasible or unknown. */
  readonly plan?: Plan;
  /** Minutes: no legal plan costs less. Infinity when infeasible. */
  readonly bound: number;
  readonly ms: number;
  /** Times the question was put again after an answer that could not be carried out. */
  readonly rounds: number;
  /** Branchings of the search; 0 when elimination alone decided. */
  readonly nodes: number;
}

/** When to stop before the proof. Times are milliseconds since the start. */
export interface Limits {
  readonly milliseconds?: number;
  /** Relative gap (labour − bound) / labour that is good enough. */
  readonly gap?: number;
  /** Most states of a small question that are kept, each of some hundred bytes; 300,000 where it is not said, 0: rounds alone. */
  readonly states?: number;
  readonly stop?: () => boolean;
  readonly now?: () => number;
  readonly onBest?: (labour: number, bound: number) => void;
}
