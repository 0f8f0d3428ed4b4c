// Owns costs over few 0/1 variables each, end to end in flat arrays: clauses (infinite where every literal fails) and tables.

import type { Network } from "./network.ts";

/** Variables with a cost when true (`unary`) and factors over them. A heavy variable has a price beyond its cost (its mass). */
export interface Tables {
  readonly count: number;
  readonly unary: Float64Array;
  readonly heavy: Uint8Array;
  /** Factor i is over scopes[starts[i]] … scopes[starts[i + 1] − 1], rising. */
  readonly starts: Int32Array;
  readonly scopes: Int32Array;
  /** Clause: bit k set when its literal on the k-th variable of its scope is a negation. */
  readonly negative: Int32Array;
  /** Where the factor's costs begin, by the values of its scope, its first variable the lowest bit; −1 for a clause. */
  readonly offsets: Int32Array;
  readonly costs: Float64Array;
}

const NONE = new Float64Array(0);

/** The clauses of a network, tautologies left out. */
export function tablesOf(network: Network): Tables {
  const { literals, starts } = network;
  const clauses = starts.length - 1;
  const ends = new Int32Array(clauses + 1);
  const scopes = new Int32Array(literals.length);
  const negative = new Int32Array(clauses);
  let kept = 0;
  let at = 0;
  const own: number[] = [];
  for (let i = 0; i < clauses; i++) {
    own.length = 0;
    // Insertion sort: a clause has four literals at most.
    for (let k = starts[i] as number; k < (starts[i + 1] as number); k++) {
      const literal = literals[k] as number;
      let j = own.length;
      while (j > 0 && (own[j - 1] as number) > literal) {
        own[j] = own[j - 1] as number;
        j--;
      }
      own[j] = literal;
    }
    const begin = at;
    let mask = 0;
    let tautology = false;
    for (let k = 0; k < own.length; k++) {
      const literal = own[k] as number;
      if (k > 0 && own[k - 1] === literal) continue;
      if (k > 0 && own[k - 1] === literal - 1 && (literal & 1) === 1) {
        tautology = true;
        break;
      }
      if ((literal & 1) === 1) mask |= 1 << (at - begin);
      scopes[at++] = literal >> 1;
    }
    if (tautology) {
      at = begin;
      continue;
    }
    negative[kept++] = mask;
    ends[kept] = at;
  }
  const heavy = new Uint8Array(network.cost.length);
  for (const row of network.rows) for (const v of row.variables) heavy[v] = 1;
  return {
    count: network.cost.length,
    unary: Float64Array.from(network.cost),
    heavy,
    starts: ends.slice(0, kept + 1),
    scopes: scopes.slice(0, at),
    negative: negative.slice(0, kept),
    offsets: new Int32Array(kept).fill(-1),
    costs: NONE,
  };
}

/** Variables that factors join, directly or through others, each group on its own; `names`: variable of the group → variable here. */
export function componentsOf(tables: Tables): { readonly tables: Tables; readonly names: Int32Array }[] {
  const { count, starts, scopes } = tables;
  const root = Int32Array.from({ length: count }, (_, v) => v);
  const find = (v: number): number => {
    let at = v;
    while (root[at] !== at) {
      root[at] = root[root[at] as number] as number;
      at = root[at] as number;
    }
    return at;
  };
  const factors = starts.length - 1;
  for (let f = 0; f < factors; f++) {
    const first = starts[f] as number;
    for (let k = first + 1; k < (starts[f + 1] as number); k++)
      root[find(scopes[k] as number)] = find(scopes[first] as number);
  }
  const groupOf = new Int32Array(count).fill(-1);
  const names: number[][] = [];
  const at = new Int32Array(count);
  for (let v = 0; v < count; v++) {
    const r = find(v);
    if ((groupOf[r] as number) < 0) groupOf[r] = names.push([]) - 1;
    at[v] = (names[groupOf[r] as number] as number[]).push(v) - 1;
  }
  if (names.length === 1) return [{ tables, names: Int32Array.from(names[0] as number[]) }];
  const own: number[][] = names.map(() => []);
  for (let f = 0; f < factors; f++) own[groupOf[find(scopes[starts[f] as number] as number)] as number]?.push(f);
  return names.map((list, g) => {
    const mine = own[g] as number[];
    const begins = new Int32Array(mine.length + 1);
    const over: number[] = [];
    mine.forEach((f, i) => {
      for (let k = starts[f] as number; k < (starts[f + 1] as number); k++)
        over.push(at[scopes[k] as number] as number);
      begins[i + 1] = over.length;
    });
    return {
      names: Int32Array.from(list),
      tables: {
        count: list.length,
        unary: Float64Array.from(list, (v) => tables.unary[v] as number),
        heavy: Uint8Array.from(list, (v) => tables.heavy[v] as number),
        starts: begins,
        scopes: Int32Array.from(over),
        negative: Int32Array.from(mine, (f) => tables.negative[f] as number),
        offsets: Int32Array.from(mine, (f) => tables.offsets[f] as number),
        costs: tables.costs,
      },
    };
  });
}
