// Owns a network while it is made smaller: variables that are given a value, or folded into a table over their neighbours, and the factors that this leaves.
// Source of the folding: R. Dechter, "Bucket elimination: a unifying framework for reasoning", Artificial Intelligence 113 (1999) 41–85.

import { Factors } from "./factors.ts";
import { Folds } from "./folds.ts";
import { ALWAYS_TRUE, EVEN, FALLS, type Look, RISES, Sheet } from "./sheet.ts";
import type { Tables } from "./tables.ts";

const FREE = 2;
/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;

export class Reduction {
  readonly count: number;
  /** Paid in any case. */
  base = 0;
  /** False: nothing satisfies the clauses and costs less than the ceiling. */
  feasible = true;
  /** Work done so far, in table entries. */
  work = 0;
  readonly sheet: Sheet;
  readonly factors: Factors;
  readonly gone: Uint8Array;
  private readonly ceiling: number;
  private readonly unary: Float64Array;
  private readonly heavy: Uint8Array;
  private readonly value: Uint8Array;
  private readonly folds: Folds;
  private readonly decided: number[] = [];
  private readonly touched: number[] = [];
  private readonly inTouched: Uint8Array;
  private readonly stamp: Int32Array;
  private stampNow = 0;
  private readonly list: number[] = [];
  /** What the variables that are left cost at least: each nothing, or less when it is cheaper true. */
  private floor = 0;

  /** @param cap the most neighbours over which a variable is folded; what costs `ceiling` or more is of no use */
  constructor(tables: Tables, cap: number, ceiling: number) {
    const { count } = tables;
    this.count = count;
    this.ceiling = ceiling - GRAIN;
    this.unary = tables.unary.slice();
    this.heavy = tables.heavy;
    this.value = new Uint8Array(count).fill(FREE);
    this.gone = new Uint8Array(count);
    this.inTouched = new Uint8Array(count);
    this.stamp = new Int32Array(count);
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
    for (let v = 0; v < count; v++) {
      this.floor += Math.min(0, this.unary[v] as number);
      this.touch(v);
    }
    this.take(tables);
  }

  /** Adds the factors of tables; what all entries of a table cost is paid before the first is added, so that none of them is below nothing. */
  private take(tables: Tables): void {
    const factors = tables.starts.length - 1;
    const least = new Float64Array(factors);
    for (let f = 0; f < factors; f++) {
      const offset = tables.offsets[f] as number;
      if (offset < 0) continue;
      const size = 1 << ((tables.starts[f + 1] as number) - (tables.starts[f] as number));
      let x = Number.POSITIVE_INFINITY;
      for (let a = offset; a < offset + size; a++) if ((tables.costs[a] as number) < x) x = tables.costs[a] as number;
      least[f] = x;
      this.base += x;
    }
    this.feasible = this.base < Number.POSITIVE_INFINITY;
    for (let f = 0; f < factors && this.feasible; f++) {
      const offset = tables.offsets[f] as number;
      const start = tables.starts[f] as number;
      this.sheet.width = (tables.starts[f + 1] as number) - start;
      for (let i = 0; i < this.sheet.width; i++) this.sheet.scope[i] = tables.scopes[start + i] as number;
      if (offset < 0) this.addClause(tables.negative[f] as number);
      else {
        this.sheet.copy(tables.costs, offset, least[f] as number);
        this.addTable();
      }
    }
  }

  /** Whether a variable has neither a value nor was folded. */
  isOpen(v: number): boolean {
    return this.gone[v] === 0 && this.value[v] === FREE;
  }

  /** Nothing costs less: no table costs less than nothing. */
  least(): number {
    return this.base + this.floor;
  }

  decide(v: number, to: number): void {
    const now = this.value[v] as number;
    if (now === FREE) {
      if (this.gone[v] === 1) return;
      this.value[v] = to;
      this.decided.push(v);
    } else if (now !== to) this.feasible = false;
  }

  touch(v: number): void {
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
      this.base += least;
      const slack = this.ceiling - this.base - this.floor;
      if (least === Number.POSITIVE_INFINITY || slack <= 0) {
        this.feasible = false;
        return;
      }
      if (sheet.width === 0) return;
      if (slack < Number.POSITIVE_INFINITY) sheet.bar(slack);
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
      if (twin >= 0) {
        sheet.addSame(factors, twin);
        factors.detach(twin);
        continue;
      }
      const to = factors.allocate(sheet.width);
      factors.pool.set(sheet.lo.subarray(0, 1 << sheet.width), to);
      factors.attach(sheet.scope, sheet.width, to, 0, low, high);
      return;
    }
  }

  /** Takes a variable out of the sheet that needs no table: one of its values is impossible, or it costs the same whatever the others are. */
  private drop(i: number, look: Look): void {
    const { sheet } = this;
    const v = sheet.scope[i] as number;
    if (look === EVEN) {
      const had = this.unary[v] as number;
      const has = had + sheet.step;
      this.unary[v] = has;
      this.floor += Math.min(0, has) - Math.min(0, had);
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
  neighbours(v: number, most: number): boolean {
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
      this.leave(v);
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

  /** Folds v, over the scope of the sheet, which are its neighbours, out of its factors. */
  foldOver(v: number): void {
    const { sheet, factors, list } = this;
    this.leave(v);
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

  private leave(v: number): void {
    this.gone[v] = 1;
    this.floor -= Math.min(0, this.unary[v] as number);
  }

  /** Fixes and slices until nothing follows any more; what was touched and is left as it is, `changed` is told. */
  settleAll(changed: (v: number) => void): void {
    const { decided, touched } = this;
    while (this.feasible && (decided.length > 0 || touched.length > 0)) {
      this.settle();
      while (touched.length > 0 && decided.length === 0) {
        const v = touched.pop() as number;
        this.inTouched[v] = 0;
        if (this.isOpen(v) && !this.isPlain(v)) changed(v);
      }
    }
    this.feasible &&= this.least() < this.ceiling;
  }

  /** Decides a variable that no factor prefers true and that does not pay for being true: it is false; likewise the other way. */
  private isPlain(v: number): boolean {
    const { notLow, notHigh } = this.factors;
    const cost = this.unary[v] as number;
    if (notLow[v] === 0 && cost >= 0) this.decide(v, 0);
    else if (notHigh[v] === 0 && cost <= 0 && this.heavy[v] === 0) this.decide(v, 1);
    else return false;
    return true;
  }

  /** The neighbours of variables, by their place among these. */
  nearOf(names: readonly number[]): number[][] {
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

  /** The variables that are left, none where nothing is feasible. */
  left(): number[] {
    const names: number[] = [];
    if (this.feasible) for (let v = 0; v < this.count; v++) if (this.gone[v] === 0) names.push(v);
    return names;
  }

  /** The factors over these, renumbered by their place in the list. */
  rest(names: readonly number[]): Tables {
    return this.factors.rest(names, this.unary, this.heavy);
  }

  /** Completes values of these variables. */
  restore(names: readonly number[], rest: Uint8Array): Uint8Array {
    const values = this.value.slice();
    names.forEach((v, i) => {
      values[v] = rest[i] as number;
    });
    this.folds.restore(values);
    return values;
  }
}
