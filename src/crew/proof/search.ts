// Owns the search: propagate, learn from the conflict and go back, or decide; with restarts in Luby's sequence.
//
// Lazy clause generation (A. Schutt et al., "Solving RCPSP/max by lazy clause generation", Journal of Scheduling 16, 2013) on bounds alone; decisions by activity, towards the best known starts.

import type { Model } from "../model.ts";
import { Activity } from "./activity.ts";
import { Analysis } from "./analysis.ts";
import { Clauses } from "./clauses.ts";
import { Edges } from "./edges.ts";
import { Energy } from "./energy.ts";
import type { Layout } from "./lanes.ts";
import { Profile } from "./profile.ts";
import type { Question } from "./question.ts";
import { Spells } from "./spells.ts";
import { CLAUSE, DECISION, Trail } from "./trail.ts";

export interface Limits {
  /** Conflicts that this call may meet at most. */
  readonly conflicts: number;
  /** Looked at every 32 conflicts; true ends the call. */
  readonly stop?: () => boolean;
}

export interface Tuning {
  /** Clauses kept at first. */
  readonly clauses: number;
  /** Conflicts to the first restart. */
  readonly unit: number;
  /** How much of its activity a literal keeps from one conflict to the next. */
  readonly fade: number;
  /** How often, at first, work is checked against room: each so many propagations. */
  readonly energy: number;
  /** Decides between literals of equal activity; 0: the order in which they were met. */
  readonly seed: number;
  /** Told of each learnt clause (side, value, …; its size). */
  readonly heard?: (learnt: Int32Array, size: number) => void;
}

/** Luby's sequence 1 1 2 1 1 2 4 … at a place from 1 on (M. Luby, A. Sinclair, D. Zuckerman, 1993). */
const luby = (place: number): number => {
  let [size, power, at] = [1, 0, place - 1];
  while (size < at + 1) {
    size = size * 2 + 1;
    power += 1;
  }
  while (size - 1 !== at) {
    size = (size - 1) >> 1;
    power -= 1;
    at %= size;
  }
  return 2 ** power;
};

export type Found = "found" | "refuted" | "blocked" | "spent";

export class Search {
  readonly items: number;
  readonly trail: Trail;
  conflicts = 0;
  /** Nothing satisfies all that holds at the root. */
  refuted = false;
  private readonly question: Question;
  private readonly edges: Edges;
  private readonly spells: Spells;
  private readonly clauses: Clauses;
  private readonly activity: Activity;
  private readonly analysis: Analysis;
  private readonly profile: Profile;
  private readonly energy: Energy;
  private readonly tuning: Tuning;
  private head = 0;
  private restarts = 0;
  private untilRestart: number;
  /** By variable: the value that decisions tend to. */
  private readonly target: Int32Array;
  /** Literals that a call decides before all others: side, value, … */
  private assumed: Int32Array = new Int32Array(0);

  constructor(model: Model, layout: Layout, question: Question, tuning: Tuning) {
    this.question = question;
    this.items = question.items;
    this.tuning = tuning;
    const { low, high } = question;
    for (let variable = 0; variable < low.length; variable += 1) {
      if (low[variable]! <= high[variable]!) continue;
      this.refuted = true;
      high[variable] = low[variable]!;
    }
    this.trail = new Trail(low, high);
    this.edges = new Edges(question.edges, low.length * 2, this.trail);
    this.spells = new Spells(this.trail, model);
    this.clauses = new Clauses(this.trail, tuning.clauses);
    this.activity = new Activity(this.trail, this.clauses, tuning.fade, tuning.seed);
    this.profile = new Profile(this.trail, layout, model.size);
    this.energy = new Energy(this.trail, layout, tuning.energy);
    this.analysis = new Analysis(this.trail, this.edges, this.clauses, this.activity, this.profile, this.energy);
    this.target = Int32Array.from(low);
    this.untilRestart = tuning.unit;
    if (!this.refuted) this.atRoot();
  }

  /** The first propagation: everything counts as moved. */
  private atRoot(): void {
    const { trail } = this;
    for (let side = 0; side < trail.low.length; side += 1)
      if (!this.edges.propagate(side) || !this.spells.propagate(side)) this.refuted = true;
    if (!this.refuted && !this.propagate()) this.refuted = true;
    else if (!this.refuted) this.settle();
  }

  private settle(): void {
    this.trail.settle();
    this.head = 0;
  }

  /** Bound of the makespan without any decision. */
  get least(): number {
    return this.trail.root[this.items * 2]!;
  }

  /** Only a makespan below this is of interest from now on. */
  below(makespan: number): void {
    this.toRoot();
    const side = this.items * 2 + 1;
    if (this.refuted || this.trail.low[side]! >= 1 - makespan) return;
    if (!this.trail.raise(side, 1 - makespan, DECISION, 0, 0) || !this.propagate()) this.refuted = true;
    else this.settle();
  }

  /** Decisions tend to these starts. */
  towards(starts: ArrayLike<number>): void {
    const { target, items, question } = this;
    for (let item = 0; item < items; item += 1) target[item] = starts[item]!;
    const { from, to, lag } = question.orders;
    for (let order = 0; order < lag.length; order += 1)
      target[items + 1 + order] = starts[to[order]!]! >= starts[from[order]!]! + lag[order]! ? 1 : 0;
  }

  private toRoot(): void {
    this.trail.back(0);
    this.activity.back(0);
    // A unit learnt last may still wait to be propagated.
    this.head = Math.min(this.head, this.trail.length);
  }

  private propagate(): boolean {
    const { trail, edges, clauses, spells, profile, energy } = this;
    for (;;) {
      while (this.head < trail.length) {
        const entry = this.head;
        this.head = entry + 1;
        const side = trail.side[entry]!;
        if (!edges.propagate(side)) return false;
        if (!clauses.propagate(side, trail.old[entry]!, trail.value[entry]!)) return false;
        if (!spells.propagate(side)) return false;
      }
      if (!profile.propagate()) return false;
      if (this.head === trail.length) return energy.propagate(trail.level === 0);
    }
  }

  /**
   * Searches on: `found`, the starts are the low bounds of the trail; `refuted`: there is nothing; `blocked`: nothing under what is assumed; `spent`.
   * `reach` ≥ 0, upwards: again and again it is assumed that the makespan is at most so much above the least that is possible at the root.
   */
  run(limits: Limits, assumed: Int32Array, reach: number): Found {
    const { trail, analysis } = this;
    this.assumed = assumed;
    const most = this.conflicts + limits.conflicts;
    this.toRoot();
    while (!this.refuted) {
      if (!this.propagate()) {
        this.conflicts += 1;
        this.untilRestart -= 1;
        if (trail.level === 0 || !analysis.learn()) {
          this.refuted = true;
          break;
        }
        this.follow();
        if (this.conflicts >= most) break;
        if ((this.conflicts & 31) === 0 && limits.stop?.() === true) break;
        continue;
      }
      if (trail.level === 0) {
        this.settle();
        if (this.clauses.full) this.clauses.reduce();
      } else if (this.untilRestart <= 0) {
        this.restarts += 1;
        this.untilRestart = luby(this.restarts + 1) * this.tuning.unit;
        this.toRoot();
        continue;
      }
      const step = this.decide(reach);
      if (step !== "spent") return step;
    }
    this.toRoot();
    return this.refuted ? "refuted" : "spent";
  }

  /** Goes back to where the learnt clause says something new, and takes it in. */
  private follow(): void {
    const { trail, analysis, activity, clauses } = this;
    const { learnt, size } = analysis;
    this.tuning.heard?.(learnt, size);
    trail.back(analysis.backTo);
    activity.back(analysis.backTo);
    this.head = trail.length;
    const place = size > 1 ? clauses.add(learnt, size, analysis.width, this.conflicts) : 0;
    trail.raise(learnt[0]!, learnt[1]!, size > 1 ? CLAUSE : DECISION, place, 0);
    activity.fade();
  }

  /** Decides one literal (`spent`: go on), or says that there is nothing left to decide. */
  private decide(reach: number): Found {
    const { trail, assumed, activity, target } = this;
    const { low } = trail;
    if (reach >= 0 && trail.level === 0) {
      const side = this.items * 2;
      if (low[side]! + reach < -low[side ^ 1]!) {
        trail.decide(side ^ 1, -low[side]! - reach);
        return "spent";
      }
    }
    for (let place = 0; place < assumed.length; place += 2) {
      const side = assumed[place]!;
      const value = assumed[place + 1]!;
      if (low[side]! >= value) continue;
      if (low[side ^ 1]! >= 1 - value) {
        this.toRoot();
        return "blocked";
      }
      trail.decide(side, value);
      return "spent";
    }
    if (activity.choose()) {
      const { side, value } = activity;
      if (target[side >> 1]! >= value) trail.decide(side, value);
      else trail.decide(side ^ 1, 1 - value);
      return "spent";
    }
    let chosen = -1;
    let least = 0;
    for (let item = 0; item < this.items; item += 1) {
      const start = low[item * 2]!;
      if (start === -low[item * 2 + 1]! || (chosen >= 0 && start >= least)) continue;
      chosen = item;
      least = start;
    }
    if (chosen < 0) return "found";
    trail.decide(chosen * 2 + 1, -least);
    return "spent";
  }
}
