// Owns one table while it is made: over which variables, and its costs with the variable that is being folded false and true.

import type { Factors } from "./factors.ts";

/** Entries between two looks at whether enough was seen. */
const PIECE = 32;

export class Sheet {
  /** The variables, `width` of them; more places than that hold nothing. */
  readonly scope: Int32Array;
  width = 0;
  /** Costs by the values of the scope, its first variable the lowest bit. */
  lo = new Float64Array(64);
  hi = new Float64Array(64);
  private at = new Int32Array(64);
  private readonly place: Int32Array;

  /** @param widest the most variables there will be in a scope */
  constructor(variables: number, widest: number) {
    this.scope = new Int32Array(widest + 1);
    this.place = new Int32Array(variables);
  }

  /** Makes the costs at least so many; those in `lo` stay. */
  room(size: number): void {
    if (this.lo.length >= size) return;
    const lo = new Float64Array(size);
    lo.set(this.lo);
    this.lo = lo;
    this.hi = new Float64Array(size);
    this.at = new Int32Array(size);
  }

  /** Takes the scope of a factor. */
  open({ first, width, variable }: Factors, f: number): void {
    const begin = first[f] as number;
    this.width = width[f] as number;
    for (let j = 0; j < this.width; j++) this.scope[j] = variable[begin + j] as number;
  }

  /** Takes costs, as many as the scope has values, each so much less. */
  copy(from: Float64Array, offset: number, less = 0): void {
    const size = 1 << this.width;
    this.room(size);
    const { lo } = this;
    for (let a = 0; a < size; a++) lo[a] = (from[offset + a] as number) - less;
  }

  /** Takes the i-th variable out of scope and table, at a value. */
  slice(i: number, to: number): void {
    const { scope, lo } = this;
    const half = 1 << (this.width - 1);
    const below = (1 << i) - 1;
    const set = to << i;
    for (let a = 0; a < half; a++) lo[a] = lo[((a & ~below) << 1) | set | (a & below)] as number;
    this.width--;
    for (let j = i; j < this.width; j++) scope[j] = scope[j + 1] as number;
  }

  /** Begins the table of a variable that costs so much when true, over the scope, which is put in order. */
  begin(cost: number): void {
    const { scope, width, place } = this;
    sort(scope, width);
    for (let i = 0; i < width; i++) place[scope[i] as number] = i;
    const size = 1 << width;
    this.room(size);
    const { lo, hi } = this;
    for (let a = 0; a < size; a++) {
      lo[a] = 0;
      hi[a] = cost;
    }
  }

  /** Adds a factor of the variable v. */
  add(factors: Factors, f: number, v: number): void {
    if ((factors.offset[f] as number) < 0) this.addClause(factors, f, v);
    else this.addTable(factors, f, v);
  }

  private addClause({ first, width, variable, negative }: Factors, f: number, v: number): void {
    const { lo, hi, place } = this;
    const begin = first[f] as number;
    const own = width[f] as number;
    const negations = negative[f] as number;
    let mask = 0;
    let want = 0;
    let negated = 0;
    for (let i = 0; i < own; i++) {
      const u = variable[begin + i] as number;
      const minus = (negations >> i) & 1;
      if (u === v) negated = minus;
      else {
        const bit = 1 << (place[u] as number);
        mask |= bit;
        if (minus === 1) want |= bit;
      }
    }
    const side = negated === 1 ? hi : lo;
    // Every a with (a & mask) = want: the free bits run through all their values.
    const free = ((1 << this.width) - 1) & ~mask;
    for (let a = free; ; a = (a - 1) & free) {
      side[a | want] = Number.POSITIVE_INFINITY;
      if (a === 0) break;
    }
  }

  private addTable({ first, width, variable, offset, pool }: Factors, f: number, v: number): void {
    const { lo, hi, at, scope } = this;
    const begin = first[f] as number;
    const own = width[f] as number;
    const size = 1 << this.width;
    // Where in the factor's table the values of the scope lead, bit by bit of the scope.
    at[0] = offset[f] as number;
    let mine = 0;
    for (let j = 0, i = 0; j < this.width; j++) {
      const u = scope[j] as number;
      // Both scopes rise, so one look at each variable of the factor is enough.
      while (i < own && (variable[begin + i] as number) < u) {
        if (variable[begin + i] === v) mine = 1 << i;
        i++;
      }
      const gain = i < own && variable[begin + i] === u ? 1 << i : 0;
      if (gain > 0) i++;
      const half = 1 << j;
      for (let a = 0; a < half; a++) at[half + a] = (at[a] as number) + gain;
    }
    if (mine === 0) for (let i = 0; i < own; i++) if (variable[begin + i] === v) mine = 1 << i;
    for (let a = 0; a < size; a++) {
      const x = at[a] as number;
      lo[a] = (lo[a] as number) + (pool[x] as number);
      hi[a] = (hi[a] as number) + (pool[x + mine] as number);
    }
  }

  /** Adds a table over the same scope. */
  addSame({ pool, offset }: Factors, f: number): void {
    const { lo } = this;
    const from = offset[f] as number;
    for (let a = 0; a < 1 << this.width; a++) lo[a] = (lo[a] as number) + (pool[from + a] as number);
  }

  /** Takes the least of all costs off them, and says what it was. */
  level(): number {
    const { lo } = this;
    const size = 1 << this.width;
    let least = Number.POSITIVE_INFINITY;
    for (let a = 0; a < size; a++) {
      const x = lo[a] as number;
      if (x < least) least = x;
    }
    if (least !== 0 && least !== Number.POSITIVE_INFINITY)
      for (let a = 0; a < size; a++) lo[a] = (lo[a] as number) - least;
    return least;
  }

  /** What costs so much or more is of no use. */
  bar(most: number): void {
    const { lo } = this;
    const size = 1 << this.width;
    for (let a = 0; a < size; a++) if ((lo[a] as number) >= most) lo[a] = Number.POSITIVE_INFINITY;
  }

  /** How the costs change with the i-th variable. */
  look(i: number): Look {
    const { lo } = this;
    const size = 1 << this.width;
    const bit = 1 << i;
    let some0 = false;
    let some1 = false;
    let rises = true;
    let falls = true;
    let even = true;
    let step = Number.NaN;
    // Most variables show soon that they matter both ways: a block of a high bit is looked through by pieces, so that it can end there.
    const piece = Math.min(bit, PIECE);
    for (let begin = 0; begin < size; begin += piece) {
      if ((begin & bit) !== 0) begin += bit;
      if (begin >= size) break;
      const end = begin + piece;
      for (let a = begin; a < end; a++) {
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
    this.step = step;
    if (!some0) return ALWAYS_TRUE;
    if (!some1) return ALWAYS_FALSE;
    if (even) return EVEN;
    return (rises ? RISES : 0) | (falls ? FALLS : 0);
  }

  /** What the variable last looked at costs more when true, where that is the same whatever the others are. */
  step = 0;
}

/** What a look finds: one value is impossible; the same difference everywhere; or whether true never costs less (rises), never more (falls). */
export type Look = number;
export const RISES = 1;
export const FALLS = 2;
export const EVEN = 4;
const ALWAYS_FALSE = 8;
export const ALWAYS_TRUE = 16;

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
