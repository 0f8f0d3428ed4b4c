// Owns the door of the proof: are there starts with a lesser makespan, and how small can it be at the least?

import type { Model } from "../model.ts";
import { type Layout, layoutOf } from "./lanes.ts";
import { circleOf, putQuestion } from "./question.ts";
import { type Found, type Limits, Search, type Tuning } from "./search.ts";

export type { Limits } from "./search.ts";

/**
 * `better`: `starts` have a lesser makespan than before the call. `closed`: no starts have a makespan below `makespan` (Infinity: there are none at all), and `bound` says so.
 * `spent`: the limits are used up; what was learnt stays for the next call.
 */
export type Verdict = "better" | "closed" | "spent";

const TUNING: Tuning = { clauses: 2000, unit: 100, fade: 0.95, energy: 4, seed: 0 };
/** Values in all windows together; beyond, the search would take too much memory and is left out. */
const WIDEST = 8_000_000;
const DOWNWARDS = -1;
const NOTHING = new Int32Array(0);

/**
 * Proves how small the makespan of a model can be. Begin with good starts if there are any (`begin`), or with a makespan that is known (`below`): they make the windows small, which are laid out once, at the first call
 * that searches (very wide ones, some million values in all, are not: then all is `spent` at once). Then `run` (downwards) and `raise` (upwards) in any order, as long as they are worth it: what one learns serves the other. The same calls with the same limits in conflicts give the same answers.
 */
export interface Proving {
  /** No starts have a makespan below this, ticks. */
  readonly bound: number;
  /** Of the best starts known, or what `below` was told, ticks; Infinity at first. */
  readonly makespan: number;
  /** The best starts known. */
  readonly starts: Int32Array | undefined;
  /** Conflicts met so far, in all calls: the measure of work that is the same in every run. */
  readonly conflicts: number;
  /** Items of a circle of arcs with lags above 0 in all, when there is one: then nothing satisfies the model. */
  readonly circle: readonly number[] | undefined;
  /** Takes starts that satisfy the model as the best known, if their makespan is less; the search looks for better ones, and near these first. */
  begin(starts: ArrayLike<number>): void;
  /** From now on only a makespan below this is of interest. */
  below(makespan: number): void;
  /** Downwards: looks for starts below `makespan` until there are some, or the proof that there are none. */
  run(limits: Limits): Verdict;
  /** Upwards: refutes one makespan after the other, `reach` ticks (default 0) above `bound`. With 0, starts that it finds are least, and the next call says `closed`. */
  raise(limits: Limits, reach?: number): Verdict;
  /** As `run`, but every item that is not free stays where the best starts known have it, or so many ticks `earlier`. `spent` also when this leaves nothing, which says nothing of the whole. */
  reoptimise(free: Uint8Array, earlier: Int32Array, limits: Limits): Verdict;
}

/** All have defaults. A seed gives another search, and the same one each time. */
export type ProverOptions = Partial<Tuning>;

/** The prover of a model. */
export const makeProver = (model: Model, options: ProverOptions = {}): Proving => new Prover(model, options);

class Prover implements Proving {
  makespan: number = Number.POSITIVE_INFINITY;
  starts: Int32Array | undefined;
  readonly circle: readonly number[] | undefined;
  private readonly model: Model;
  private readonly layout: Layout;
  private readonly tuning: Tuning;
  private search: Search | undefined;
  private closed: boolean;
  /** The bound by the arcs alone. */
  private floor = 0;

  constructor(model: Model, options: ProverOptions) {
    this.model = model;
    this.tuning = { ...TUNING, ...options };
    this.layout = layoutOf(model);
    this.circle = circleOf(model);
    this.closed = this.circle !== undefined || this.layout.impossible;
  }

  get bound(): number {
    if (this.closed) return this.makespan;
    return Math.min(this.makespan, this.search?.least ?? this.floor);
  }

  get conflicts(): number {
    return this.search?.conflicts ?? 0;
  }

  begin(starts: ArrayLike<number>): void {
    const makespan = this.lengthOf(starts);
    if (makespan >= this.makespan && this.starts !== undefined) return;
    this.starts = Int32Array.from(starts);
    this.search?.towards(starts);
    this.below(makespan);
  }

  below(makespan: number): void {
    if (makespan >= this.makespan) return;
    this.makespan = makespan;
    this.search?.below(makespan);
  }

  run(limits: Limits): Verdict {
    return this.take((search) => search.run(limits, NOTHING, DOWNWARDS));
  }

  raise(limits: Limits, reach = 0): Verdict {
    return this.take((search) => search.run(limits, NOTHING, reach));
  }

  reoptimise(free: Uint8Array, earlier: Int32Array, limits: Limits): Verdict {
    const { starts } = this;
    if (starts === undefined) return "spent";
    const fixed: number[] = [];
    for (let item = 0; item < this.model.size; item += 1) {
      if (free[item] === 1) continue;
      const start = starts[item]! - earlier[item]!;
      fixed.push(item * 2, start, item * 2 + 1, -start);
    }
    return this.take((search) => search.run(limits, Int32Array.from(fixed), DOWNWARDS));
  }

  private take(run: (search: Search) => Found): Verdict {
    if (this.closed) return "closed";
    const search = this.search ?? this.open();
    if (search === undefined) return "spent";
    const found = run(search);
    if (search.refuted) this.closed = true;
    if (found === "refuted") return "closed";
    if (found !== "found") return "spent";
    const starts = new Int32Array(this.model.size);
    for (let item = 0; item < starts.length; item += 1) starts[item] = search.trail.low[item * 2]!;
    this.starts = starts;
    this.makespan = this.lengthOf(starts);
    search.towards(starts);
    search.below(this.makespan);
    this.closed = search.refuted;
    return "better";
  }

  /** Lays out the windows; undefined when they are too wide, and only the arcs give a bound. */
  private open(): Search | undefined {
    const question = putQuestion(this.model, this.layout, this.makespan);
    const { low, high, items } = question;
    this.floor = low[items]!;
    let values = 0;
    for (let variable = 0; variable < low.length; variable += 1) values += high[variable]! - low[variable]! + 1;
    if (values > WIDEST) return undefined;
    this.search = new Search(this.model, this.layout, question, this.tuning);
    if (this.starts !== undefined) this.search.towards(this.starts);
    return this.search;
  }

  private lengthOf(starts: ArrayLike<number>): number {
    let length = 0;
    for (let item = 0; item < this.model.size; item += 1)
      if (this.model.counted[item] === 1) length = Math.max(length, starts[item]! + this.model.ticks[item]!);
    return length;
  }
}
