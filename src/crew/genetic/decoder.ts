// Owns what the genetic search asks of whoever builds schedules: starts wished for in, a legal schedule near them out.

/** Times are whole ticks from 0. The same wishes give the same schedule. */
export interface Decoder {
  /** Items of a schedule. */
  readonly size: number;
  /** From the start of an item to its end. */
  readonly ticks: Int32Array;
  /** What an item weighs in the question where a schedule is busy: its ticks by the share that it takes of what is scarce. */
  readonly work: Float64Array;
  /** The first keys: starts in an order that does well, without chance, given in ticks. */
  readonly order: Int32Array;
  /** No wish may be larger, in units of `GRAIN` to the tick. */
  readonly farthest: number;
  /** Schedules built so far. Builders that pass twice over the items count two. */
  readonly schedules: number;
  /** Of the schedule built last; overwritten by the next. */
  readonly starts: Int32Array;
  readonly makespan: number;
  /** Of two schedules with the same makespan the one with less of this is better; equal in both means the same schedule. */
  readonly secondary: number;
  /**
   * Builds the schedule that follows the wishes, units of 1/`GRAIN` tick, at least 0; false when it found none. `late`: what is wished for late is placed first, from the end,
   * where the builder knows how to.
   */
  decode(wishes: Int32Array, late: boolean): boolean;
}

/** Wishes are finer than ticks, so that among equal ones chance decides. */
export const GRAIN = 8;
