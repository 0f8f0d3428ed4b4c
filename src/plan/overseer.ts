// Owns what a long computation is given beside its question: the clock, whether to stop, and whom to tell how far it is.

/** How far a long computation is. */
export type Progress =
  /** It begins something else; what was the best so far was of the thing before. */
  | { readonly kind: "doing"; readonly what: string }
  /** The best so far and a bound that nothing is below, in person-minutes of labour or in minutes elapsed. */
  | { readonly kind: "best"; readonly of: "labour" | "elapsed"; readonly best: number; readonly bound: number };

/** Who watches over a long computation. Chance is part of the question. */
export interface Overseer {
  /** Milliseconds of a clock that never goes back. */
  now(): number;
  /** True from when it is to end with what it has. */
  stop(): boolean;
  report(progress: Progress): void;
}
