// Owns the door of the proof: are there starts with a lesser makespan, and how small can it be at the least?

import type { Model } from "../model.ts";

export interface Limits {
  /** Conflicts that this call may meet at most. */
  readonly conflicts: number;
  /** Looked at every 32 conflicts; true ends the call. */
  readonly stop?: () => boolean;
}

/**
 * `better`: `starts` have a lesser makespan than before the call. `closed`: no starts have a makespan below `makespan` (Infinity and never begun: there are none at all), and `bound` says so.
 * `spent`: the limits are used up; what was learnt stays for the next call.
 */
export type Verdict = "better" | "closed" | "spent";

export interface Proving {
  /** No starts have a makespan below this, ticks. */
  readonly bound: number;
  /** Of the best starts known, or what `below` was told, ticks; Infinity at first. */
  readonly makespan: number;
  /** The best starts known. */
  readonly starts: Int32Array | undefined;
  /** Conflicts met so far, in all calls: the measure of work that is the same in every run. */
  readonly conflicts: number;
  /** Items of a circle of arcs with a lag above 0 in all, when there is one: then nothing satisfies the model. */
  readonly circle: readonly number[] | undefined;
  /** Takes starts that satisfy the model as the best known, if their makespan is less; the search looks for better ones, and near these first. */
  begin(starts: ArrayLike<number>): void;
  /** From now on only a makespan below this is of interest. */
  below(makespan: number): void;
  /** Downwards: looks for starts below `makespan` until there are some, or the proof that there are none. */
  run(limits: Limits): Verdict;
  /** Upwards: refutes one makespan after the other from `bound` on. `better` when the starts found are least (`bound` = `makespan`; the next call is `closed`). */
  raise(limits: Limits): Verdict;
  /** As `run`, with every item but the free ones where the best known starts have it, or `earlier` ticks before. `spent` also when these leave nothing: it says nothing of the others. */
  reoptimise(free: Uint8Array, earlier: Int32Array, limits: Limits): Verdict;
}

export interface ProverOptions {
  readonly seed?: number;
}

export type MakeProver = (model: Model, options?: ProverOptions) => Proving;
