// Owns bucket elimination: it folds variables of few neighbours into small tables over these, exactly, until nothing is
// left or every variable left has too many. Source: R. Dechter, "Bucket elimination: a unifying framework for reasoning",
// Artificial Intelligence 113 (1999) 41–85.

import type { Tables } from "./tables.ts";
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
  const e = new Elimination(tables, cap, asked);
  e.run();
  return e.result();
}

const FREE = 2;
/** Widths up to which everything is folded before anything wider is looked at. */
const STAGES = [3, 6, 9, 12];
/** From a width on, the share of the variables that may be left for it to be worth a wider one; so few may always. */
const WORTH = [
  [12, 0.04],
  [9, 0.08],
] as const;
const FEW = 24;
/** Work between two ticks, in table entries. */
const TICK = 1 << 16;

/** A flat array that grows. */
const grown = (from: Int32Array): Int32Array<ArrayBuffer> => {
  const to = new Int32Array(from.length * 2);
  to.set(from);
  return to;
};

class Elimination {
  base = 0;
  feasible = true;
  private readonly tables: Tables;
  private readonly cap: number;
  private readonly frozen: Uint8Array | undefined;
  private readonly fixed: readonly (readonly [number, number])[];
  private readonly tick: Tick | undefined;
  private work = 0;
  private readonly count: number;
  private readonly unary: Float64Array;
  private readonly heavy: Uint8Array;
  private readonly value: Uint8Array;
  private readonly gone: Uint8Array;
  /** Factors of a variable, of those that may prefer it true (notLow), and false (notHigh). */
  private readonly alive: Int32Array;
  private readonly notLow: Int32Array;
  private readonly notHigh: Int32Array;

  // Factors, by number. Their scopes are nodes, one after another; a variable's nodes are a list in both directions.
  private factors = 0;
  private first: Int32Array;
  private width: Int32Array;
  private offset: Int32Array;
  private negative: Int32Array;
  private low: Int32Array;
  private high: Int32Array;
  private live: Int32Array;
  private nodes = 0;
  private variable: Int32Array;
  private owner: Int32Array;
  private next: Int32Array;
  private previous: Int32Array;
  private readonly head: Int32Array;

  // Costs of tables; freed places are used again, by size.
  private pool: Float64Array;
  private used = 0;
  private readonly spare: number[][] = [];

  // Folds, in order: variable, scope, and the better value by the values of the scope, one bit each.
  private readonly foldVariable: number[] = [];
  private readonly foldStart: number[] = [0];
  private foldScope: Int32Array;
  private foldNodes = 0;
  private readonly choiceStart: number[] = [];
  private choices: Int32Array;
  private choiceWords = 0;

  private readonly stamp: Int32Array;
  private stampNow = 0;
  private readonly place: Int32Array;
  private readonly decided: number[] = [];
  private readonly touched: number[] = [];
  private readonly inTouched: Uint8Array;
  private readonly queued: Int8Array;
  private readonly buckets: number[][];
  private stage = 0;
  private hub = 0;

  // Scratch for one table: over which variables, and its costs with the folded variable false and true.
  private readonly scope: Int32Array;
  private scopeWidth = 0;
  private lo: Float64Array;
  private hi: Float64Array;
  private at: Int32Array;
  private readonly list: number[] = [];

  constructor(tables: Tables, cap: number, asked: Asked) {
    const { count } = tables;
    this.tables = tables;
    this.cap = cap;
    this.frozen = asked.frozen;
    this.fixed = asked.fixed ?? [];
    this.tick = asked.tick;
    this.count = count;
    this.unary = tables.unary.slice();
    this.heavy = tables.heavy;
    this.value = new Uint8Array(count).fill(FREE);
    this.gone = new Uint8Array(count);
    this.alive = new Int32Array(count);
    this.notLow = new Int32Array(count);
    this.notHigh = new Int32Array(count);
    const factors = 2 * tables.negative.length + count + 8;
    this.first = new Int32Array(factors);
    this.width = new Int32Array(factors);
    this.offset = new Int32Array(factors);
    this.negative = new Int32Array(factors);
    this.low = new Int32Array(factors);
    this.high = new Int32Array(factors);
    this.live = new Int32Array(factors);
    const nodes = 2 * tables.scopes.length + 4 * count + 8;
    this.variable = new Int32Array(nodes);
    this.owner = new Int32Array(nodes);
    this.next = new Int32Array(nodes);
    this.previous = new Int32Array(nodes);
    this.head = new Int32Array(count).fill(-1);
    this.pool = new Float64Array(tables.costs.length + 32 * count + 64);
    this.foldScope = new Int32Array(4 * count + 8);
    this.choices = new Int32Array(4 * count + 8);
    this.stamp = new Int32Array(count);
    this.place = new Int32Array(count);
    this.inTouched = new Uint8Array(count);
    this.queued = new Int8Array(count).fill(-1);
    this.buckets = Array.from({ length: cap + 1 }, () => []);
    let widest = cap;
    for (let f = 0; f + 1 < tables.starts.length; f++)
      widest = Math.max(widest, (tables.starts[f + 1] as number) - (tables.starts[f] as number));
    this.scope = new Int32Array(widest + 1);
    this.lo = new Float64Array(64);
    this.hi = new Float64Array(64);
    this.at = new Int32Array(64);
  }

  private room(size: number): void {
    if (this.lo.length >= size) return;
    const lo = new Float64Array(size);
    lo.set(this.lo);
    this.lo = lo;
    this.hi = new Float64Array(size);
    this.at = new Int32Array(size);
  }

  private allocate(width: number): number {
    const again = this.spare[width]?.pop();
    if (again !== undefined) return again;
    const size = 1 << width;
    if (this.used + size > this.pool.length) {
      const pool = new Float64Array(Math.max(2 * this.pool.length, this.used + size));
      pool.set(this.pool);
      this.pool = pool;
    }
    const at = this.used;
    this.used += size;
    return at;
  }

  /** A new factor over the scope in scratch. */
  private attach(offset: number, negative: number, low: number, high: number): void {
    const width = this.scopeWidth;
    if (this.factors === this.first.length) {
      this.first = grown(this.first);
      this.width = grown(this.width);
      this.offset = grown(this.offset);
      this.negative = grown(this.negative);
      this.low = grown(this.low);
      this.high = grown(this.high);
      this.live = grown(this.live);
    }
    while (this.nodes + width > this.variable.length) {
      this.variable = grown(this.variable);
      this.owner = grown(this.owner);
      this.next = grown(this.next);
      this.previous = grown(this.previous);
    }
    const f = this.factors++;
    this.first[f] = this.nodes;
    this.width[f] = width;
    this.offset[f] = offset;
    this.negative[f] = negative;
    this.low[f] = low;
    this.high[f] = high;
    this.live[f] = 1;
    const { scope, head, next, previous, alive, notLow, notHigh } = this;
    for (let i = 0; i < width; i++) {
      const v = scope[i] as number;
      const k = this.nodes++;
      this.variable[k] = v;
      this.owner[k] = f;
      const old = head[v] as number;
      next[k] = old;
      previous[k] = -1;
      if (old >= 0) previous[old] = k;
      head[v] = k;
      alive[v] = (alive[v] as number) + 1;
      if (((low >> i) & 1) === 0) notLow[v] = (notLow[v] as number) + 1;
      if (((high >> i) & 1) === 0) notHigh[v] = (notHigh[v] as number) + 1;
    }
  }

  private detach(f: number): void {
    const { head, next, previous, alive, notLow, notHigh } = this;
    this.live[f] = 0;
    const low = this.low[f] as number;
    const high = this.high[f] as number;
    const width = this.width[f] as number;
    const first = this.first[f] as number;
    for (let i = 0; i < width; i++) {
      const k = first + i;
      const v = this.variable[k] as number;
      const after = next[k] as number;
      const before = previous[k] as number;
      if (before >= 0) next[before] = after;
      else head[v] = after;
      if (after >= 0) previous[after] = before;
      alive[v] = (alive[v] as number) - 1;
      if (((low >> i) & 1) === 0) notLow[v] = (notLow[v] as number) - 1;
      if (((high >> i) & 1) === 0) notHigh[v] = (notHigh[v] as number) - 1;
    }
    const offset = this.offset[f] as number;
    if (offset < 0) return;
    let spare = this.spare[width];
    if (spare === undefined) {
      spare = [];
      this.spare[width] = spare;
    }
    spare.push(offset);
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

  /** Adds the clause over the scope in scratch. */
  private addClause(negative: number): void {
    if (this.scopeWidth === 0) this.feasible = false;
    else if (this.scopeWidth === 1) this.decide(this.scope[0] as number, negative === 1 ? 0 : 1);
    else this.attach(-1, negative, negative, ~negative);
  }

  /** Takes variable i out of the scratch scope and table, at a value. */
  private sliceScratch(i: number, to: number): void {
    const { scope, lo } = this;
    const half = 1 << (this.scopeWidth - 1);
    const below = (1 << i) - 1;
    const set = to << i;
    for (let a = 0; a < half; a++) lo[a] = lo[((a & ~below) << 1) | set | (a & below)] as number;
    this.scopeWidth--;
    for (let j = i; j < this.scopeWidth; j++) scope[j] = scope[j + 1] as number;
  }

  /** Adds the table in scratch (scope, lo) after taking out of it whatever does not need a table. */
  private addTable(): void {
    const { lo, scope, unary } = this;
    for (;;) {
      const size = 1 << this.scopeWidth;
      let least = Number.POSITIVE_INFINITY;
      for (let a = 0; a < size; a++) {
        const x = lo[a] as number;
        if (x < least) least = x;
      }
      if (least === Number.POSITIVE_INFINITY) {
        this.feasible = false;
        return;
      }
      if (least !== 0) {
        this.base += least;
        for (let a = 0; a < size; a++) lo[a] = (lo[a] as number) - least;
      }
      if (this.scopeWidth === 0) return;
      let low = 0;
      let high = 0;
      let dropped = false;
      for (let i = 0; i < this.scopeWidth; i++) {
        const bit = 1 << i;
        let some0 = false;
        let some1 = false;
        let rises = true;
        let falls = true;
        let even = true;
        let step = Number.NaN;
        for (let block = 0; block < size; block += bit << 1) {
          const end = block + bit;
          for (let a = block; a < end; a++) {
            const x0 = lo[a] as number;
            const x1 = lo[a + bit] as number;
            if (x0 !== Number.POSITIVE_INFINITY) some0 = true;
            else if (x1 === Number.POSITIVE_INFINITY) continue;
            if (x1 !== Number.POSITIVE_INFINITY) some1 = true;
            if (x1 < x0) rises = false;
            else if (x0 < x1) falls = false;
            if (even) {
              const d = x1 - x0;
              if (Number.isNaN(step)) step = d;
              else if (d !== step) even = false;
            }
          }
          if (!even && !rises && !falls && some0 && some1) break;
        }
        const v = scope[i] as number;
        if (!some0 || !some1) {
          // One value is impossible whatever the others are: fix it, and let the fixing slice this table.
          this.decide(v, some0 ? 0 : 1);
          this.sliceScratch(i, some0 ? 0 : 1);
          dropped = true;
        } else if (even) {
          unary[v] = (unary[v] as number) + step;
          this.sliceScratch(i, 0);
          dropped = true;
        }
        if (dropped) {
          this.touch(v);
          break;
        }
        if (rises) low |= bit;
        if (falls) high |= bit;
      }
      if (dropped) continue;
      const twin = this.sameScope();
      if (twin >= 0) {
        const from = this.offset[twin] as number;
        const { pool } = this;
        for (let a = 0; a < size; a++) lo[a] = (lo[a] as number) + (pool[from + a] as number);
        this.detach(twin);
        continue;
      }
      const to = this.allocate(this.scopeWidth);
      const { pool } = this;
      for (let a = 0; a < size; a++) pool[to + a] = lo[a] as number;
      this.attach(to, 0, low, high);
      return;
    }
  }

  /** A table over exactly the scope in scratch, or −1. */
  private sameScope(): number {
    const { scope, scopeWidth, alive, variable } = this;
    let rarest = scope[0] as number;
    for (let i = 1; i < scopeWidth; i++) {
      const v = scope[i] as number;
      if ((alive[v] as number) < (alive[rarest] as number)) rarest = v;
    }
    for (let k = this.head[rarest] as number; k >= 0; k = this.next[k] as number) {
      const f = this.owner[k] as number;
      if ((this.offset[f] as number) < 0 || this.width[f] !== scopeWidth) continue;
      const first = this.first[f] as number;
      let i = 0;
      while (i < scopeWidth && variable[first + i] === scope[i]) i++;
      if (i === scopeWidth) return f;
    }
    return -1;
  }

  /** The neighbours of v into the scratch scope; false when there are more than `most`. */
  private neighbours(v: number, most: number): boolean {
    const { stamp, scope, variable } = this;
    const now = ++this.stampNow;
    stamp[v] = now;
    let width = 0;
    for (let k = this.head[v] as number; k >= 0; k = this.next[k] as number) {
      const f = this.owner[k] as number;
      const first = this.first[f] as number;
      const end = first + (this.width[f] as number);
      for (let j = first; j < end; j++) {
        const u = variable[j] as number;
        if (stamp[u] === now) continue;
        if (width === most) return false;
        stamp[u] = now;
        scope[width++] = u;
      }
    }
    this.scopeWidth = width;
    return true;
  }

  /** Fixes what has been decided, and slices the factors of it. */
  private settle(): void {
    const { decided, gone, scope } = this;
    while (this.feasible && decided.length > 0) {
      const v = decided.pop() as number;
      if (gone[v] === 1) continue;
      gone[v] = 1;
      const to = this.value[v] as number;
      if (to === 1) this.base += this.unary[v] as number;
      for (let k = this.head[v] as number; k >= 0; k = this.head[v] as number) {
        const f = this.owner[k] as number;
        const i = k - (this.first[f] as number);
        const width = this.width[f] as number;
        const first = this.first[f] as number;
        const offset = this.offset[f] as number;
        const negative = this.negative[f] as number;
        for (let j = 0; j < width; j++) if (j !== i) this.touch(this.variable[first + j] as number);
        if (offset < 0) {
          this.detach(f);
          if (to !== ((negative >> i) & 1)) continue;
          let n = 0;
          for (let j = 0; j < width; j++) if (j !== i) scope[n++] = this.variable[first + j] as number;
          this.scopeWidth = n;
          this.addClause((negative & ((1 << i) - 1)) | ((negative >> (i + 1)) << i));
        } else {
          for (let j = 0; j < width; j++) scope[j] = this.variable[first + j] as number;
          this.scopeWidth = width;
          this.room(1 << width);
          const { lo, pool } = this;
          for (let a = 0; a < 1 << width; a++) lo[a] = pool[offset + a] as number;
          this.detach(f);
          this.sliceScratch(i, to);
          this.addTable();
        }
        if (!this.feasible) return;
      }
    }
  }

  private enqueue(v: number): void {
    if (this.gone[v] === 1 || this.value[v] !== FREE) return;
    const cost = this.unary[v] as number;
    // A variable that no factor prefers true, and that does not pay for being true, is false; likewise the other way.
    if (this.notLow[v] === 0 && cost >= 0) {
      this.decide(v, 0);
      return;
    }
    if (this.notHigh[v] === 0 && cost <= 0 && this.heavy[v] === 0) {
      this.decide(v, 1);
      return;
    }
    if (this.frozen !== undefined && this.frozen[v] === 1) return;
    if ((this.alive[v] as number) > this.hub || !this.neighbours(v, this.stage)) {
      this.queued[v] = -1;
      return;
    }
    if (this.queued[v] !== this.scopeWidth) {
      this.queued[v] = this.scopeWidth;
      (this.buckets[this.scopeWidth] as number[]).push(v);
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

  private factorsOf(v: number): number[] {
    const { list } = this;
    list.length = 0;
    for (let k = this.head[v] as number; k >= 0; k = this.next[k] as number) list.push(this.owner[k] as number);
    return list;
  }

  /** Folds v, over the scope in scratch, out of its factors. */
  private foldOver(v: number): void {
    const group = this.factorsOf(v);
    const cost = this.unary[v] as number;
    const { scope, scopeWidth: width, place, variable } = this;
    sort(scope, width);
    for (let i = 0; i < width; i++) place[scope[i] as number] = i;
    const size = 1 << width;
    this.room(size);
    const { lo, hi, at, pool } = this;
    for (let a = 0; a < size; a++) {
      lo[a] = 0;
      hi[a] = cost;
    }
    for (const f of group) {
      const first = this.first[f] as number;
      const own = this.width[f] as number;
      const offset = this.offset[f] as number;
      if (offset < 0) {
        const negative = this.negative[f] as number;
        let mask = 0;
        let want = 0;
        let negated = 0;
        for (let i = 0; i < own; i++) {
          const u = variable[first + i] as number;
          const minus = (negative >> i) & 1;
          if (u === v) negated = minus;
          else {
            const bit = 1 << (place[u] as number);
            mask |= bit;
            if (minus === 1) want |= bit;
          }
        }
        const side = negated === 1 ? hi : lo;
        // Every a with (a & mask) = want: the free bits run through all their values.
        const free = (size - 1) & ~mask;
        for (let a = free; ; a = (a - 1) & free) {
          side[a | want] = Number.POSITIVE_INFINITY;
          if (a === 0) break;
        }
      } else {
        let gain = 0;
        // Where in the factor's table the values of the scope lead, bit by bit of the scope.
        at[0] = offset;
        let mine = 0;
        for (let j = 0, i = 0; j < width; j++) {
          const u = scope[j] as number;
          // Both scopes rise, so one look at each variable of the factor is enough.
          while (i < own && (variable[first + i] as number) < u) {
            if (variable[first + i] === v) mine = 1 << i;
            i++;
          }
          gain = i < own && variable[first + i] === u ? 1 << i : 0;
          if (gain > 0) i++;
          const half = 1 << j;
          for (let a = 0; a < half; a++) at[half + a] = (at[a] as number) + gain;
        }
        if (mine === 0) for (let i = 0; i < own; i++) if (variable[first + i] === v) mine = 1 << i;
        for (let a = 0; a < size; a++) {
          const x = at[a] as number;
          lo[a] = (lo[a] as number) + (pool[x] as number);
          hi[a] = (hi[a] as number) + (pool[x + mine] as number);
        }
      }
    }
    this.work += size * (group.length + 1);
    this.note(v, width, size);
    for (const f of group) this.detach(f);
    for (let i = 0; i < width; i++) this.touch(scope[i] as number);
    this.addTable();
  }

  /** Keeps the better of the two in `lo`, and which it was for the way back. */
  private note(v: number, width: number, size: number): void {
    const { lo, hi, scope } = this;
    while (this.foldNodes + width > this.foldScope.length) this.foldScope = grown(this.foldScope);
    for (let i = 0; i < width; i++) this.foldScope[this.foldNodes++] = scope[i] as number;
    this.foldVariable.push(v);
    this.foldStart.push(this.foldNodes);
    this.choiceStart.push(this.choiceWords);
    const words = (size + 31) >> 5;
    while (this.choiceWords + words > this.choices.length) this.choices = grown(this.choices);
    for (let word = 0, a = 0; word < words; word++) {
      let bits = 0;
      const end = Math.min(size, a + 32);
      for (let b = 0; a < end; a++, b++) {
        if ((hi[a] as number) < (lo[a] as number)) {
          bits |= 1 << b;
          lo[a] = hi[a] as number;
        }
      }
      this.choices[this.choiceWords++] = bits;
    }
  }

  run(): void {
    const { tables, scope } = this;
    this.stage = Math.min(this.cap, STAGES[0] as number);
    this.hub = 4 * this.stage + 8;
    for (let f = 0; f + 1 < tables.starts.length && this.feasible; f++) {
      const start = tables.starts[f] as number;
      const width = (tables.starts[f + 1] as number) - start;
      for (let i = 0; i < width; i++) scope[i] = tables.scopes[start + i] as number;
      this.scopeWidth = width;
      const offset = tables.offsets[f] as number;
      if (offset < 0) this.addClause(tables.negative[f] as number);
      else {
        this.room(1 << width);
        for (let a = 0; a < 1 << width; a++) this.lo[a] = tables.costs[offset + a] as number;
        this.addTable();
      }
    }
    for (const [v, to] of this.fixed) this.decide(v, to);
    for (let v = 0; v < this.count; v++) this.touch(v);
    this.settleAll();
    let width = 0;
    while (this.feasible) {
      if (this.work > TICK) {
        this.work = 0;
        this.tick?.(this.least());
      }
      if (width > this.stage) {
        if (!this.widen()) break;
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
  }

  /** What is paid in any case: no table costs less than nothing. */
  private least(): number {
    let sum = this.base;
    for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) sum += Math.min(0, this.unary[v] as number);
    return sum;
  }

  /** Nothing is left at this width: on to the next, unless so much is left that wide tables would not end it. */
  private widen(): boolean {
    if (this.stage >= this.cap) return false;
    let left = 0;
    for (let v = 0; v < this.count; v++) left += 1 - (this.gone[v] as number);
    const [, share] = WORTH.find(([width]) => this.stage >= width) ?? [0, 1];
    if (left > Math.max(FEW, share * this.count)) return false;
    const wider = STAGES.find((s) => s > this.stage) ?? this.stage + 2;
    this.stage = Math.min(this.cap, wider);
    this.hub = 4 * this.stage + 8;
    for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) this.touch(v);
    return true;
  }

  result(): Eliminated {
    const names: number[] = [];
    if (this.feasible) for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) names.push(v);
    return {
      feasible: this.feasible,
      base: this.base,
      rest: this.rest(names),
      names: Int32Array.from(names),
      restore: (rest) => this.restore(names, rest),
    };
  }

  private rest(names: readonly number[]): Tables {
    const { place } = this;
    const kept: number[] = [];
    let nodes = 0;
    let costs = 0;
    if (names.length > 0) {
      for (let f = 0; f < this.factors; f++) {
        if (this.live[f] === 0) continue;
        kept.push(f);
        nodes += this.width[f] as number;
        if ((this.offset[f] as number) >= 0) costs += 1 << (this.width[f] as number);
      }
    }
    names.forEach((v, i) => {
      place[v] = i;
    });
    const starts = new Int32Array(kept.length + 1);
    const scopes = new Int32Array(nodes);
    const offsets = new Int32Array(kept.length).fill(-1);
    const flat = new Float64Array(costs);
    let node = 0;
    let cost = 0;
    kept.forEach((f, i) => {
      const first = this.first[f] as number;
      const width = this.width[f] as number;
      for (let k = first; k < first + width; k++) scopes[node++] = place[this.variable[k] as number] as number;
      starts[i + 1] = node;
      const offset = this.offset[f] as number;
      if (offset < 0) return;
      offsets[i] = cost;
      for (let a = 0; a < 1 << width; a++) flat[cost++] = this.pool[offset + a] as number;
    });
    return {
      count: names.length,
      unary: Float64Array.from(names, (v) => this.unary[v] as number),
      heavy: Uint8Array.from(names, (v) => this.heavy[v] as number),
      starts,
      scopes,
      negative: Int32Array.from(kept, (f) => this.negative[f] as number),
      offsets,
      costs: flat,
    };
  }

  private restore(names: readonly number[], rest: Uint8Array): Uint8Array {
    const full = this.value.slice();
    names.forEach((v, i) => {
      full[v] = rest[i] as number;
    });
    for (let i = this.foldVariable.length - 1; i >= 0; i--) {
      const start = this.foldStart[i] as number;
      const end = this.foldStart[i + 1] as number;
      let a = 0;
      for (let k = start; k < end; k++) if (full[this.foldScope[k] as number] === 1) a |= 1 << (k - start);
      const word = this.choices[(this.choiceStart[i] as number) + (a >> 5)] as number;
      full[this.foldVariable[i] as number] = (word >> (a & 31)) & 1;
    }
    return full;
  }
}

/** Insertion sort: a scope is short. */
function sort(list: Int32Array, length: number): void {
  for (let i = 1; i < length; i++) {
    const x = list[i] as number;
    let j = i;
    while (j > 0 && (list[j - 1] as number) > x) {
      list[j] = list[j - 1] as number;
      j--;
    }
    list[j] = x;
  }
}
