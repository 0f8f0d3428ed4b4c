// Owns bucket elimination: it folds variables of few neighbours into small tables over these, exactly, until nothing is
// left or every variable left has too many. Source: R. Dechter, "Bucket elimination: a unifying framework for reasoning",
// Artificial Intelligence 113 (1999) 41–85.

import { Reduction } from "./reduction.ts";
import type { Tables } from "./tables.ts";
import { turnsOf } from "./turns.ts";
import type { Tick } from "./watch.ts";

export interface Eliminated {
  /** False: no assignment satisfies the clauses, below the ceiling if there was one. */
  readonly feasible: boolean;
  /** Paid in any case. */
  readonly base: number;
  /** What is left, renumbered; count 0 when all is decided. */
  readonly rest: Tables;
  /** Table entries that it would take to fold what is left as well; infinite where that is out of the question. */
  readonly entries: number;
  /** Variable of the rest → variable here. */
  readonly names: Int32Array;
  /** Completes a cheapest assignment from one of the rest. */
  readonly restore: (rest: Uint8Array) => Uint8Array;
}

export interface Asked {
  /** Variables kept for the rest, unless something fixes them. */
  readonly frozen?: Uint8Array;
  /** Variables with a given value. */
  readonly fixed?: readonly (readonly [variable: number, value: number])[];
  /** Assignments that cost so much or more are of no use. */
  readonly ceiling?: number;
  /** Asked every few folds; it may throw to end a fold that takes too long. */
  readonly tick?: Tick;
}

/** Eliminates every variable that has at most `cap` neighbours when its turn comes, the fewest first. */
export function eliminate(tables: Tables, cap: number, asked: Asked = {}): Eliminated {
  const e = new Elimination(tables, cap, asked);
  e.run(asked.fixed ?? []);
  return e.result();
}

/** Widths up to which everything is folded before anything wider is looked at. */
const STAGES = [3, 6, 9];
/**
 * Entries of all tables that may be made to end it from the last of these widths on. Else a variable is tried both ways, which folds all that is left a few
 * times over to halve the entries: the more is left, the later that pays.
 */
const enough = (left: number): number => Math.min(1 << 23, Math.max(1 << 18, 20 * left * left));
/** Neighbours from which on nobody asks any more how many entries it would take. */
const WIDEST = 40;
/** Work between two ticks, in table entries. */
const TICK = 1 << 16;

class Elimination {
  private readonly net: Reduction;
  private readonly cap: number;
  private readonly frozen: Uint8Array | undefined;
  private readonly tick: Tick | undefined;
  private readonly queued: Int8Array;
  private readonly buckets: number[][];
  private stage = 0;
  private hub = 0;
  private ending = false;
  private ticked = 0;
  private entries = Number.POSITIVE_INFINITY;

  constructor(tables: Tables, cap: number, { frozen, ceiling, tick }: Asked) {
    this.net = new Reduction(tables, cap, ceiling ?? Number.POSITIVE_INFINITY);
    this.cap = cap;
    this.frozen = frozen;
    this.tick = tick;
    this.queued = new Int8Array(tables.count).fill(-1);
    this.buckets = Array.from({ length: cap + 1 }, () => []);
  }

  /** Puts a variable down to be folded when its turn comes, by the number of its neighbours. */
  private readonly enqueue = (v: number): void => {
    const { net } = this;
    if (this.ending || (this.frozen !== undefined && this.frozen[v] === 1)) return;
    if ((net.factors.alive[v] as number) > this.hub || !net.neighbours(v, this.stage)) {
      this.queued[v] = -1;
      return;
    }
    const { width } = net.sheet;
    if (this.queued[v] !== width) {
      this.queued[v] = width;
      (this.buckets[width] as number[]).push(v);
    }
  };

  /** Gives these variables these values, and folds until nothing is left that has few neighbours. */
  run(fixed: readonly (readonly [variable: number, value: number])[]): void {
    const { net } = this;
    for (const [v, to] of fixed) net.decide(v, to);
    this.reach(Math.min(this.cap, STAGES[0] as number));
    net.settleAll(this.enqueue);
    let width = 0;
    while (net.feasible) {
      this.pulse();
      if (width > this.stage) {
        const next = STAGES.find((s) => s > this.stage);
        if (this.stage >= this.cap) return;
        if (next === undefined) break;
        this.reach(Math.min(this.cap, next));
        for (let v = 0; v < net.count; v++) if (net.gone[v] === 0) net.touch(v);
        net.settleAll(this.enqueue);
        width = 0;
        continue;
      }
      const v = (this.buckets[width] as number[]).pop();
      if (v === undefined) {
        width++;
        continue;
      }
      if (!net.isOpen(v) || this.queued[v] !== width) continue;
      this.queued[v] = -1;
      if (!net.neighbours(v, this.stage)) continue;
      net.foldOver(v);
      net.settleAll(this.enqueue);
      width = 0;
    }
    if (net.feasible) this.end();
  }

  /** Folds all that is left, if the tables on the way are not too many. */
  private end(): void {
    const { net } = this;
    const names = net.left();
    const { order, entries, width } = turnsOf(net.nearOf(names), WIDEST);
    this.entries = order.length < names.length ? Number.POSITIVE_INFINITY : entries;
    if (this.entries > enough(names.length) || width > this.cap) return;
    this.ending = true;
    for (const i of order) {
      const v = names[i] as number;
      if (!net.feasible) return;
      if (net.gone[v] === 1) continue;
      this.pulse();
      net.neighbours(v, this.cap);
      net.foldOver(v);
      net.settleAll(this.enqueue);
    }
    this.entries = 0;
  }

  private pulse(): void {
    const { work } = this.net;
    if (work - this.ticked <= TICK) return;
    this.ticked = work;
    this.tick?.(this.net.least());
  }

  /** Variables of so many neighbours are folded from now on. */
  private reach(stage: number): void {
    this.stage = stage;
    this.hub = 4 * stage + 8;
  }

  result(): Eliminated {
    const { net, entries } = this;
    const names = net.left();
    return {
      feasible: net.feasible,
      base: net.base,
      rest: net.rest(names),
      entries,
      names: Int32Array.from(names),
      restore: (rest) => net.restore(names, rest),
    };
  }
}
