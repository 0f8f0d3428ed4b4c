// Owns the course of the search over a plain question: when to breed, when to prove, when to do a part of the schedule over, until bound and makespan meet or a limit is reached.
//
// What can be proved is mostly proved soon, and what cannot is better bred; so first a little of each, then by the gap that is left mostly the one or the other.

import { type Plain, plainOf } from "./genetic/plain.ts";
import { Genetic } from "./genetic/search.ts";
import { SerialDecoder } from "./genetic/serial.ts";
import { lowerBound, tightened } from "./lower.ts";
import type { Model } from "./model.ts";
import { makeProver, type Proving } from "./proof/prove.ts";
import type { Limits, Status } from "./result.ts";

/** As the limits of the whole question; the hooks tell of starts and ticks. */
export interface PlainLimits extends Omit<Limits, "watch"> {
  readonly better?: (starts: Int32Array, makespan: number, bound: number) => void;
  readonly raised?: (bound: number, by: string) => void;
}

export interface PlainAnswer {
  readonly status: Status;
  /** Starts of the items, ticks; absent when none were found. */
  readonly starts: Int32Array | undefined;
  /** Infinity without starts. */
  readonly makespan: number;
  /** No starts have a makespan below it; Infinity when there are none at all. */
  readonly bound: number;
  readonly boundBy: string;
  readonly effort: { readonly schedules: number; readonly conflicts: number };
}

/** Without limits: so much, which is some seconds for a hundred items. */
const SCHEDULES = 200_000;
const CONFLICTS = 60_000;
/** The first breeding: a small population, until nothing new has lived for so long. */
const FIRST = { population: 100, schedules: 40_000, idle: 2500, few: 1500 };
/** The first proof, conflicts. */
const TRY = 4000;
/** Questions that a proof closes as quickly as anything: items. */
const FEW = 40;
/** Where the proof is still promising: items, or share of the bound that is left. */
const SOME = 70;
const NEAR = 0.03;
/** Schedules of one item's worth that a second gives at the least; only to size populations. */
const PLACINGS = 8e6;

/** Schedules that live at once at most. By trial some 130 do best for 5,000 schedules in all and some 2,000 for 400,000. */
const MOST_ALIVE = 3000;

class PlainCourse {
  private readonly model: Model;
  private readonly decoder: SerialDecoder;
  private readonly limits: PlainLimits;
  private readonly began: number;
  private readonly prover: Proving;
  private readonly seed: number;
  private starts: Int32Array | undefined;
  private makespan = Number.POSITIVE_INFINITY;
  private bound: number;
  private boundBy: string;

  constructor(model: Model, plain: Plain, limits: PlainLimits) {
    this.model = model;
    this.limits = limits;
    this.seed = limits.seed ?? 1;
    this.began = limits.clock?.() ?? 0;
    this.decoder = new SerialDecoder(plain);
    const lower = lowerBound(model);
    this.bound = lower.bound;
    this.boundBy = lower.lane < 0 ? "longest chain" : "work in one lane";
    this.prover = makeProver(tightened(model, lower), { seed: this.seed });
  }

  run(): PlainAnswer {
    const { size } = this.model;
    if (this.limits.conflicts === 0) this.breedOnly();
    else {
      const small = size <= FEW;
      this.breed(FIRST.population, small ? FIRST.few : FIRST.schedules, FIRST.idle, 0.06);
      this.prove(TRY, 0.16);
      const promising = size <= SOME || this.makespan - this.bound <= NEAR * this.bound;
      if (small) this.prove(Number.POSITIVE_INFINITY, 0.5);
      this.breedFor(promising ? 0.45 : 0.92);
      this.prove(Number.POSITIVE_INFINITY, 1, !promising);
    }
    return this.answer();
  }

  /** Share of the time that is gone; 0 where there is no time to keep. */
  private gone(): number {
    const { seconds, clock } = this.limits;
    return seconds === undefined || clock === undefined ? 0 : (clock() - this.began) / (seconds * 1000);
  }

  /** Whether there is nothing more to do, or this share of the time is gone. */
  private over(share = 1): boolean {
    const { gap, stop } = this.limits;
    if (this.bound >= this.makespan || stop?.() === true || this.gone() >= share) return true;
    return gap !== undefined && this.makespan - this.bound <= gap * this.makespan;
  }

  private get timed(): boolean {
    return this.limits.seconds !== undefined && this.limits.clock !== undefined;
  }

  private schedulesLeft(): number {
    const most = this.limits.schedules ?? (this.timed ? Number.POSITIVE_INFINITY : SCHEDULES);
    return Math.max(0, most - this.decoder.schedules);
  }

  private conflictsLeft(): number {
    const most = this.limits.conflicts ?? (this.timed ? Number.POSITIVE_INFINITY : CONFLICTS);
    return Math.max(0, most - this.prover.conflicts);
  }

  /** No proof is wanted: one population, as large as the schedules that there are allow. */
  private breedOnly(): void {
    while (!this.over() && this.schedulesLeft() > 0) this.breedFor(1);
  }

  /** A population for all the schedules that the time up to this share of it allows. */
  private breedFor(share: number): void {
    const { seconds = 0 } = this.limits;
    const inTime = this.timed
      ? (Math.max(0, share - this.gone()) * seconds * PLACINGS) / Math.max(1, this.model.size)
      : Number.POSITIVE_INFINITY;
    const planned = Math.min(inTime, this.schedulesLeft());
    const population = Math.round(Math.min(MOST_ALIVE, Math.max(20, 0.4 * planned ** 0.68)));
    this.breed(population, planned, Number.POSITIVE_INFINITY, share);
  }

  private breed(population: number, schedules: number, idle: number, share: number): void {
    const count = Math.min(schedules, this.schedulesLeft());
    if (count < 2 || this.over(share)) return;
    const genetic = new Genetic(this.decoder, { population, seed: this.seed + this.decoder.schedules, planned: count });
    genetic.run({
      schedules: count,
      bound: this.bound,
      idle,
      stop: () => this.over(share),
      better: () => this.found(genetic.starts, genetic.makespan),
    });
  }

  private found(starts: Int32Array, makespan: number): void {
    if (makespan >= this.makespan) return;
    this.makespan = makespan;
    this.starts = Int32Array.from(starts);
    this.prover.begin(this.ended(this.starts, makespan));
    this.limits.better?.(this.starts, makespan, this.bound);
  }

  /** The starts as the prover has them: one more item stands for the end. */
  private ended(starts: Int32Array, makespan: number): Int32Array {
    const all = new Int32Array(starts.length + 1);
    all.set(starts);
    all[starts.length] = makespan;
    return all;
  }

  /** Downwards from the best known; or upwards from the bound, where the two are too far from each other to meet. */
  private prove(conflicts: number, share: number, upwards = false): void {
    const until = this.prover.conflicts + Math.min(conflicts, this.conflictsLeft());
    while (this.prover.conflicts < until && !this.over(share)) {
      const limits = {
        conflicts: until - this.prover.conflicts,
        stop: () => this.over(share),
      };
      const verdict = upwards ? this.prover.raise(limits) : this.prover.run(limits);
      if (verdict === "better" && this.prover.starts !== undefined)
        this.found(this.prover.starts.subarray(0, this.model.size), this.prover.makespan);
      this.raise(this.prover.bound);
      if (verdict === "spent") return;
    }
  }

  private raise(bound: number): void {
    if (bound <= this.bound) return;
    this.bound = bound;
    this.boundBy = "proof by clauses";
    this.limits.raised?.(bound, this.boundBy);
  }

  private answer(): PlainAnswer {
    const { starts, makespan, bound, boundBy, decoder, prover } = this;
    const closed = bound >= makespan;
    const status = starts === undefined ? (closed ? "infeasible" : "unknown") : closed ? "optimal" : "feasible";
    const effort = { schedules: decoder.schedules, conflicts: prover.conflicts };
    return { status, starts, makespan, bound, boundBy, effort };
  }
}

/** Searches a plain model; undefined when it is not plain. */
export const solvePlain = (model: Model, limits: PlainLimits): PlainAnswer | undefined => {
  const plain = plainOf(model);
  return plain === undefined ? undefined : new PlainCourse(model, plain, limits).run();
};
