// Owns bucket elimination: it folds variables of few neighbours into small tables over these, exactly, until nothing is
// left or every variable left has too many. Source: R. Dechter, "Bucket elimination: a unifying framework for reasoning",
// Artificial Intelligence 113 (1999) 41–85.

import { Factors } from "./factors.ts";
import { Folds } from "./folds.ts";
import { ALWAYS_TRUE, EVEN, FALLS, type Look, RISES, Sheet } from "./sheet.ts";
import type { Tables } from "./tables.ts";
import { turnsOf } from "./turns.ts";
import type { Tick } from "./watch.ts";

export interface Eliminated {
  /** False: no assignment satisfies the clauses. */
  readonly feasible: boolean;
  /** Paid in any case. */
  readonly base: number;
  /** What is left, renumbered; count 0 when all is decided. */
  readonly rest: Tables;
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
  /** Asked every few folds; it may throw to end a fold that takes too long. */
  readonly tick?: Tick;
}

/** Eliminates every variable that has at most `cap` neighbours when its turn comes, the fewest first. */
export function eliminate(tables: Tables, cap: number, asked: Asked = {}): Eliminated {
  const e = new Elimination(tables, cap, asked.frozen);
  e.run(asked.fixed ?? [], asked.tick);
  return e.result();
}

const FREE = 2;
/** Widths up to which everything is folded before anything wider is looked at. */
const STAGES = [3, 6, 9];
/** Entries of all tables that may be made to end it from the last of these widths on. */
const DEEP = 1 << 22;
/** Work between two ticks, in table entries. */
const TICK = 1 << 16;

class Elimination {
  private base = 0;
  private feasible = true;
  private readonly cap: number;
  private readonly frozen: Uint8Array | undefined;
  private readonly count: number;
  private readonly unary: Float64Array;
  private readonly heavy: Uint8Array;
  private readonly value: Uint8Array;
  private readonly gone: Uint8Array;
  private readonly factors: Factors;
  private readonly sheet: Sheet;
  private readonly folds: Folds;
  private readonly decided: number[] = [];
  private readonly touched: number[] = [];
  private readonly inTouched: Uint8Array;
  private readonly queued: Int8Array;
  private readonly buckets: number[][];
  private readonly stamp: Int32Array;
  private stampNow = 0;
  private readonly list: number[] = [];
  private stage = 0;
  private hub = 0;
  private ending = false;
  private work = 0;

  constructor(tables: Tables, cap: number, frozen: Uint8Array | undefined) {
    const { count } = tables;
    this.cap = cap;
    this.frozen = frozen;
    this.count = count;
    this.unary = tables.unary.slice();
    this.heavy = tables.heavy;
    this.value = new Uint8Array(count).fill(FREE);
    this.gone = new Uint8Array(count);
    this.inTouched = new Uint8Array(count);
    this.queued = new Int8Array(count).fill(-1);
    this.stamp = new Int32Array(count);
    this.buckets = Array.from({ length: cap + 1 }, () => []);
    this.factors = new Factors(
      count,
      2 * tables.negative.length + count + 8,
      2 * tables.scopes.length + 4 * count + 8,
      tables.costs.length + 32 * count + 64,
    );
    let widest = cap;
    for (let f = 0; f + 1 < tables.starts.length; f++)
      widest = Math.max(widest, (tables.starts[f + 1] as number) - (tables.starts[f] as number));
    this.sheet = new Sheet(count, widest);
    this.folds = new Folds(count);
    for (let f = 0; f + 1 < tables.starts.length && this.feasible; f++) {
      const offset = tables.offsets[f] as number;
      const start = tables.starts[f] as number;
      this.sheet.width = (tables.starts[f + 1] as number) - start;
      for (let i = 0; i < this.sheet.width; i++) this.sheet.scope[i] = tables.scopes[start + i] as number;
      if (offset < 0) this.addClause(tables.negative[f] as number);
      else {
        this.sheet.copy(tables.costs, offset);
        this.addTable();
      }
    }
  }

  private decide(v: number, to: number): void {
    const now = this.value[v] as number;
    if (now === FREE) {
      if (this.gone[v] === 1) return;
      this.value[v] = to;
      this.decided.push(v);
    } else if (now !== to) this.feasible = false;
  }

  private touch(v: number): void {
    if (this.inTouched[v] === 1) return;
    this.inTouched[v] = 1;
    this.touched.push(v);
  }

  /** Adds the clause over the scope of the sheet. */
  private addClause(negative: number): void {
    const { sheet } = this;
    if (sheet.width === 0) this.feasible = false;
    else if (sheet.width === 1) this.decide(sheet.scope[0] as number, negative === 1 ? 0 : 1);
    else this.factors.attach(sheet.scope, sheet.width, -1, negative, negative, ~negative);
  }

  /** Adds the table of the sheet after taking out of it whatever does not need a table. */
  private addTable(): void {
    const { sheet, factors } = this;
    for (;;) {
      const least = sheet.level();
      if (least === Number.POSITIVE_INFINITY) {
        this.feasible = false;
        return;
      }
      this.base += least;
      if (sheet.width === 0) return;
      let low = 0;
      let high = 0;
      let dropped = false;
      for (let i = 0; i < sheet.width && !dropped; i++) {
        const look = sheet.look(i);
        if ((look & RISES) !== 0) low |= 1 << i;
        if ((look & FALLS) !== 0) high |= 1 << i;
        dropped = look >= EVEN;
        if (dropped) this.drop(i, look);
      }
      if (dropped) continue;
      const twin = factors.sameScope(sheet.scope, sheet.width);
      const size = 1 << sheet.width;
      if (twin >= 0) {
        sheet.addSame(factors, twin);
        factors.detach(twin);
        continue;
      }
      const to = factors.allocate(sheet.width);
      const { lo } = sheet;
      const { pool } = factors;
      for (let a = 0; a < size; a++) pool[to + a] = lo[a] as number;
      factors.attach(sheet.scope, sheet.width, to, 0, low, high);
      return;
    }
  }

  /** Takes a variable out of the sheet that needs no table: one of its values is impossible, or it costs the same whatever the others are. */
  private drop(i: number, look: Look): void {
    const { sheet } = this;
    const v = sheet.scope[i] as number;
    if (look === EVEN) {
      this.unary[v] = (this.unary[v] as number) + sheet.step;
      sheet.slice(i, 0);
    } else {
      // Fixing it slices its other factors; of this one that value is taken here.
      const to = look === ALWAYS_TRUE ? 1 : 0;
      this.decide(v, to);
      sheet.slice(i, to);
    }
    this.touch(v);
  }

  /** The neighbours of v into the sheet; false when there are more than `most`. */
  private neighbours(v: number, most: number): boolean {
    const { stamp } = this;
    const { scope } = this.sheet;
    const { variable, head, next, owner, first, width } = this.factors;
    const now = ++this.stampNow;
    stamp[v] = now;
    let found = 0;
    for (let k = head[v] as number; k >= 0; k = next[k] as number) {
      const f = owner[k] as number;
      const begin = first[f] as number;
      const end = begin + (width[f] as number);
      for (let j = begin; j < end; j++) {
        const u = variable[j] as number;
        if (stamp[u] === now) continue;
        if (found === most) return false;
        stamp[u] = now;
        scope[found++] = u;
      }
    }
    this.sheet.width = found;
    return true;
  }

  /** Fixes what has been decided, and slices the factors of it. */
  private settle(): void {
    const { decided, gone, sheet, factors } = this;
    const { head } = factors;
    while (this.feasible && decided.length > 0) {
      const v = decided.pop() as number;
      if (gone[v] === 1) continue;
      gone[v] = 1;
      const to = this.value[v] as number;
      if (to === 1) this.base += this.unary[v] as number;
      for (let k = head[v] as number; k >= 0; k = head[v] as number) {
        const f = factors.owner[k] as number;
        const i = k - (factors.first[f] as number);
        const offset = factors.offset[f] as number;
        const negative = factors.negative[f] as number;
        sheet.open(factors, f);
        for (let j = 0; j < sheet.width; j++) if (j !== i) this.touch(sheet.scope[j] as number);
        if (offset < 0) {
          factors.detach(f);
          if (to !== ((negative >> i) & 1)) continue;
          sheet.width--;
          for (let j = i; j < sheet.width; j++) sheet.scope[j] = sheet.scope[j + 1] as number;
          this.addClause((negative & ((1 << i) - 1)) | ((negative >> (i + 1)) << i));
        } else {
          sheet.copy(factors.pool, offset);
          factors.detach(f);
          sheet.slice(i, to);
          this.addTable();
        }
        if (!this.feasible) return;
      }
    }
  }

  private enqueue(v: number): void {
    if (this.gone[v] === 1 || this.value[v] !== FREE) return;
    const { notLow, notHigh, alive } = this.factors;
    const cost = this.unary[v] as number;
    // A variable that no factor prefers true, and that does not pay for being true, is false; likewise the other way.
    if (notLow[v] === 0 && cost >= 0) {
      this.decide(v, 0);
      return;
    }
    if (notHigh[v] === 0 && cost <= 0 && this.heavy[v] === 0) {
      this.decide(v, 1);
      return;
    }
    if (this.ending || (this.frozen !== undefined && this.frozen[v] === 1)) return;
    if ((alive[v] as number) > this.hub || !this.neighbours(v, this.stage)) {
      this.queued[v] = -1;
      return;
    }
    const { width } = this.sheet;
    if (this.queued[v] !== width) {
      this.queued[v] = width;
      (this.buckets[width] as number[]).push(v);
    }
  }

  private settleAll(): void {
    const { decided, touched } = this;
    while (this.feasible && (decided.length > 0 || touched.length > 0)) {
      this.settle();
      while (touched.length > 0 && decided.length === 0) {
        const v = touched.pop() as number;
        this.inTouched[v] = 0;
        this.enqueue(v);
      }
    }
  }

  /** Folds v, over the scope of the sheet, out of its factors. */
  private foldOver(v: number): void {
    const { sheet, factors, list } = this;
    list.length = 0;
    for (let k = factors.head[v] as number; k >= 0; k = factors.next[k] as number)
      list.push(factors.owner[k] as number);
    sheet.begin(this.unary[v] as number);
    for (const f of list) sheet.add(factors, f, v);
    this.work += (list.length + 1) << sheet.width;
    this.folds.note(v, sheet.scope, sheet.width, sheet.lo, sheet.hi);
    for (const f of list) factors.detach(f);
    for (let i = 0; i < sheet.width; i++) this.touch(sheet.scope[i] as number);
    this.addTable();
  }

  /** Gives these variables these values, and folds until nothing is left that has few neighbours. */
  run(fixed: readonly (readonly [variable: number, value: number])[], tick: Tick | undefined): void {
    for (const [v, to] of fixed) this.decide(v, to);
    for (let v = 0; v < this.count; v++) this.touch(v);
    this.reach(Math.min(this.cap, STAGES[0] as number));
    this.settleAll();
    let width = 0;
    while (this.feasible) {
      this.pulse(tick);
      if (width > this.stage) {
        const next = STAGES.find((s) => s > this.stage);
        if (this.stage >= this.cap) return;
        if (next === undefined) break;
        this.reach(Math.min(this.cap, next));
        for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) this.touch(v);
        this.settleAll();
        width = 0;
        continue;
      }
      const v = (this.buckets[width] as number[]).pop();
      if (v === undefined) {
        width++;
        continue;
      }
      if (this.gone[v] === 1 || this.value[v] !== FREE || this.queued[v] !== width) continue;
      this.queued[v] = -1;
      if (!this.neighbours(v, this.stage)) continue;
      this.gone[v] = 1;
      this.foldOver(v);
      this.settleAll();
      width = 0;
    }
    if (this.feasible) this.end(tick);
  }

  /** Folds all that is left, if the tables on the way are not too many. */
  private end(tick: Tick | undefined): void {
    const names: number[] = [];
    for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) names.push(v);
    const { order, entries } = turnsOf(this.nearOf(names), this.cap);
    if (order.length < names.length || entries > DEEP) return;
    this.ending = true;
    for (const i of order) {
      const v = names[i] as number;
      if (!this.feasible) return;
      if (this.gone[v] === 1) continue;
      this.pulse(tick);
      this.neighbours(v, this.cap);
      this.gone[v] = 1;
      this.foldOver(v);
      this.settleAll();
    }
  }

  /** The neighbours of variables, by their place among these. */
  private nearOf(names: readonly number[]): number[][] {
    const place = new Int32Array(this.count).fill(-1);
    names.forEach((v, i) => {
      place[v] = i;
    });
    const { variable, head, next, owner, first, width } = this.factors;
    return names.map((v) => {
      const now = ++this.stampNow;
      this.stamp[v] = now;
      const near: number[] = [];
      for (let k = head[v] as number; k >= 0; k = next[k] as number) {
        const f = owner[k] as number;
        const begin = first[f] as number;
        for (let j = begin; j < begin + (width[f] as number); j++) {
          const u = variable[j] as number;
          if (this.stamp[u] === now) continue;
          this.stamp[u] = now;
          near.push(place[u] as number);
        }
      }
      return near;
    });
  }

  private pulse(tick: Tick | undefined): void {
    if (this.work <= TICK) return;
    this.work = 0;
    tick?.(this.least());
  }

  /** What is paid in any case: no table costs less than nothing. */
  private least(): number {
    let sum = this.base;
    for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) sum += Math.min(0, this.unary[v] as number);
    return sum;
  }

  /** Variables of so many neighbours are folded from now on. */
  private reach(stage: number): void {
    this.stage = stage;
    this.hub = 4 * stage + 8;
  }

  result(): Eliminated {
    const names: number[] = [];
    if (this.feasible) for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) names.push(v);
    return {
      feasible: this.feasible,
      base: this.base,
      rest: this.factors.rest(names, this.unary, this.heavy),
      names: Int32Array.from(names),
      restore: (rest) => {
        const values = this.value.slice();
        names.forEach((v, i) => {
          values[v] = rest[i] as number;
        });
        this.folds.restore(values);
        return values;
      },
    };
  }
}
