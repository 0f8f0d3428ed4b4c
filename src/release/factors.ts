// Owns factors over 0/1 variables while variables are folded out of them: clauses and tables that come and go, each found from its
// variables. All of it is numbers in flat arrays that grow; the tables lie in one pool.

import type { Tables } from "./tables.ts";

/** A flat array twice as long. */
export const grown = (from: Int32Array): Int32Array<ArrayBuffer> => {
  const to = new Int32Array(from.length * 2);
  to.set(from);
  return to;
};

/** Factors by number. Their scopes rise and are nodes, one after another; the nodes of a variable's live factors are a list in both directions. */
export class Factors {
  count = 0;
  /** Factor → its first node, its variables, where its table begins in the pool (−1: a clause), the negations of a clause, bit by bit. */
  first: Int32Array;
  width: Int32Array;
  offset: Int32Array;
  negative: Int32Array;
  live: Uint8Array;
  /** Node → variable, factor, next and previous node of the variable. */
  variable: Int32Array;
  owner: Int32Array;
  next: Int32Array;
  previous: Int32Array;
  /** Variable → its first node. */
  readonly head: Int32Array;
  /** Variable → its live factors, those that may prefer it true (notLow), and false (notHigh). */
  readonly alive: Int32Array;
  readonly notLow: Int32Array;
  readonly notHigh: Int32Array;
  pool: Float64Array;
  /** Factor → variables, bit by bit, that it never prefers true, and false. */
  private low: Int32Array;
  private high: Int32Array;
  private nodes = 0;
  private used = 0;
  private readonly spare: number[][] = [];

  /** Room to begin with: for variables (this does not grow), factors, nodes, table entries. */
  constructor(variables: number, factors: number, nodes: number, entries: number) {
    this.first = new Int32Array(factors);
    this.width = new Int32Array(factors);
    this.offset = new Int32Array(factors);
    this.negative = new Int32Array(factors);
    this.live = new Uint8Array(factors);
    this.low = new Int32Array(factors);
    this.high = new Int32Array(factors);
    this.variable = new Int32Array(nodes);
    this.owner = new Int32Array(nodes);
    this.next = new Int32Array(nodes);
    this.previous = new Int32Array(nodes);
    this.head = new Int32Array(variables).fill(-1);
    this.alive = new Int32Array(variables);
    this.notLow = new Int32Array(variables);
    this.notHigh = new Int32Array(variables);
    this.pool = new Float64Array(entries);
  }

  /** A place in the pool for a table over so many variables; `pool` may be another array afterwards. */
  allocate(width: number): number {
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

  /** A new factor over the first `width` variables of a scope. */
  attach(scope: Int32Array, width: number, offset: number, negative: number, low: number, high: number): void {
    if (this.count === this.first.length) {
      this.first = grown(this.first);
      this.width = grown(this.width);
      this.offset = grown(this.offset);
      this.negative = grown(this.negative);
      this.low = grown(this.low);
      this.high = grown(this.high);
      const live = new Uint8Array(2 * this.live.length);
      live.set(this.live);
      this.live = live;
    }
    while (this.nodes + width > this.variable.length) {
      this.variable = grown(this.variable);
      this.owner = grown(this.owner);
      this.next = grown(this.next);
      this.previous = grown(this.previous);
    }
    const f = this.count++;
    const first = this.nodes;
    this.nodes += width;
    this.first[f] = first;
    this.width[f] = width;
    this.offset[f] = offset;
    this.negative[f] = negative;
    this.low[f] = low;
    this.high[f] = high;
    this.live[f] = 1;
    const { head, next, previous, alive, notLow, notHigh, variable, owner } = this;
    for (let i = 0; i < width; i++) {
      const k = first + i;
      const v = scope[i] as number;
      variable[k] = v;
      owner[k] = f;
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

  /** Takes a factor out of the lists of its variables; the place of its table is used for another. */
  detach(f: number): void {
    const { head, next, previous, alive, notLow, notHigh, variable } = this;
    this.live[f] = 0;
    const low = this.low[f] as number;
    const high = this.high[f] as number;
    const first = this.first[f] as number;
    const width = this.width[f] as number;
    for (let i = 0; i < width; i++) {
      const k = first + i;
      const v = variable[k] as number;
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
    const list = this.spare[width];
    if (list === undefined) this.spare[width] = [offset];
    else list.push(offset);
  }

  /** A live table over exactly the first `width` variables of a scope, or −1. */
  sameScope(scope: Int32Array, width: number): number {
    const { alive, variable } = this;
    let rarest = scope[0] as number;
    for (let i = 1; i < width; i++) {
      const v = scope[i] as number;
      if ((alive[v] as number) < (alive[rarest] as number)) rarest = v;
    }
    for (let k = this.head[rarest] as number; k >= 0; k = this.next[k] as number) {
      const f = this.owner[k] as number;
      if ((this.offset[f] as number) < 0 || this.width[f] !== width) continue;
      const first = this.first[f] as number;
      let i = 0;
      while (i < width && variable[first + i] === scope[i]) i++;
      if (i === width) return f;
    }
    return -1;
  }

  /** The factors of these variables, which are all that live factors are over, renumbered by their place in the list. */
  rest(names: readonly number[], unary: Float64Array, heavy: Uint8Array): Tables {
    const { first, width, offset, negative, variable } = this;
    const place = new Int32Array(unary.length);
    names.forEach((v, i) => {
      place[v] = i;
    });
    const kept: number[] = [];
    let nodes = 0;
    let entries = 0;
    for (let f = 0; names.length > 0 && f < this.count; f++) {
      if (this.live[f] === 0) continue;
      kept.push(f);
      nodes += width[f] as number;
      if ((offset[f] as number) >= 0) entries += 1 << (width[f] as number);
    }
    const starts = new Int32Array(kept.length + 1);
    const scopes = new Int32Array(nodes);
    const offsets = new Int32Array(kept.length).fill(-1);
    const costs = new Float64Array(entries);
    let node = 0;
    let entry = 0;
    kept.forEach((f, i) => {
      const begin = first[f] as number;
      for (let k = begin; k < begin + (width[f] as number); k++)
        scopes[node++] = place[variable[k] as number] as number;
      starts[i + 1] = node;
      const from = offset[f] as number;
      if (from < 0) return;
      offsets[i] = entry;
      const size = 1 << (width[f] as number);
      costs.set(this.pool.subarray(from, from + size), entry);
      entry += size;
    });
    return {
      count: names.length,
      unary: Float64Array.from(names, (v) => unary[v] as number),
      heavy: Uint8Array.from(names, (v) => heavy[v] as number),
      starts,
      scopes,
      negative: Int32Array.from(kept, (f) => negative[f] as number),
      offsets,
      costs,
    };
  }
}
