// Owns the cheapest assignment under one mass limit, once a price on mass has all but found it: elimination again, but each entry of a table now
// keeps every pair of cost and mass that can still matter.

import type { Tables } from "./tables.ts";

/** A clause or table of the question. */
interface Factor {
  readonly scope: readonly number[];
  /** Where its costs begin; −1 for a clause. */
  readonly offset: number;
  readonly negative: number;
}

/** Entries: for each assignment of the scope a list of points, by numbers into the pool, mass rising and cost falling. */
interface Front {
  readonly scope: readonly number[];
  readonly lists: readonly (readonly number[])[];
}

/** What a pass may cost: points in all, and neighbours of a folded variable. */
const MOST_POINTS = 3_000_000;
const WIDEST = 13;

export interface Pass {
  /** False: too large, or stopped; nothing is known. */
  readonly complete: boolean;
  /** The cheapest assignment found within the limit. */
  readonly values: Uint8Array | undefined;
  readonly cost: number;
}

/**
 * The cheapest assignment of mass at most `limit` among those whose cost + price × mass is within `slack` of the least. A better one than
 * it cannot exist when its cost is at most least − price × limit + slack.
 */
export function sweep(
  tables: Tables,
  masses: Float64Array,
  limit: number,
  price: number,
  slack: number,
  stop: () => boolean,
): Pass {
  const { count, unary } = tables;
  // A point is its cost, its mass, and how it came about: a variable's value, or two points put together.
  const cost: number[] = [];
  const mass: number[] = [];
  const left: number[] = [];
  const right: number[] = [];
  const point = (c: number, m: number, l: number, r: number): number => {
    left.push(l);
    right.push(r);
    mass.push(m);
    return cost.push(c) - 1;
  };
  const origin = point(0, 0, -1, -1);

  /** Keeps what is neither dearer at no less mass than another, nor too far from the best at this price. */
  const prune = (list: number[]): number[] => {
    if (list.length < 2) return list;
    let least = Number.POSITIVE_INFINITY;
    for (const i of list) least = Math.min(least, (cost[i] as number) + price * (mass[i] as number));
    list.sort((a, b) => (mass[a] as number) - (mass[b] as number) || (cost[a] as number) - (cost[b] as number));
    const kept: number[] = [];
    let cheapest = Number.POSITIVE_INFINITY;
    for (const i of list) {
      const c = cost[i] as number;
      const m = mass[i] as number;
      if (m > limit || c >= cheapest || c + price * m > least + slack) continue;
      cheapest = c;
      kept.push(i);
    }
    return kept;
  };

  const plain: Set<Factor>[] = Array.from({ length: count }, () => new Set());
  const fronts: Set<Front>[] = Array.from({ length: count }, () => new Set());
  for (let f = 0; f + 1 < tables.starts.length; f++) {
    const factor: Factor = {
      scope: [...tables.scopes.subarray(tables.starts[f], tables.starts[f + 1])],
      offset: tables.offsets[f] as number,
      negative: tables.negative[f] as number,
    };
    for (const v of factor.scope) plain[v]?.add(factor);
  }
  const gone = new Uint8Array(count);
  const scopeOf = (v: number): number[] => {
    const near = new Set<number>();
    for (const f of plain[v] as Set<Factor>) for (const u of f.scope) near.add(u);
    for (const f of fronts[v] as Set<Front>) for (const u of f.scope) near.add(u);
    near.delete(v);
    return [...near].sort((a, b) => a - b);
  };
  let constant: number[] = [origin];
  const join = (a: readonly number[], b: readonly number[]): number[] => {
    const all: number[] = [];
    for (const i of a) {
      for (const j of b) {
        const m = (mass[i] as number) + (mass[j] as number);
        if (m <= limit) all.push(point((cost[i] as number) + (cost[j] as number), m, i, j));
      }
    }
    return prune(all);
  };
  const degree = Int32Array.from({ length: count }, (_, v) => scopeOf(v).length);
  for (let step = 0; step < count; step++) {
    let v = -1;
    for (let u = 0; u < count; u++)
      if (gone[u] === 0 && (v < 0 || (degree[u] as number) < (degree[v] as number))) v = u;
    const scope = scopeOf(v);
    if (scope.length > WIDEST) return { complete: false, values: undefined, cost: Number.POSITIVE_INFINITY };
    gone[v] = 1;
    const place = new Map(scope.map((u, i) => [u, i]));
    const own = [...(plain[v] as Set<Factor>)];
    const ownFronts = [...(fronts[v] as Set<Front>)];
    const at = (f: { readonly scope: readonly number[] }, a: number, value: number): number => {
      let x = 0;
      f.scope.forEach((u, i) => {
        if (u === v ? value === 1 : ((a >> (place.get(u) as number)) & 1) === 1) x |= 1 << i;
      });
      return x;
    };
    const lists: number[][] = [];
    for (let a = 0; a < 1 << scope.length; a++) {
      const both: number[] = [];
      for (let value = 0; value < 2; value++) {
        let paid = value === 1 ? (unary[v] as number) : 0;
        for (const f of own) {
          const x = at(f, a, value);
          if (f.offset >= 0) paid += tables.costs[f.offset + x] as number;
          else if (x === f.negative) paid = Number.POSITIVE_INFINITY;
        }
        const weight = value === 1 ? (masses[v] as number) : 0;
        if (paid === Number.POSITIVE_INFINITY || weight > limit) continue;
        let list: number[] = [point(paid, weight, -2 - (2 * v + value), -1)];
        for (const f of ownFronts) {
          list = join(list, f.lists[at(f, a, value)] as readonly number[]);
          if (list.length === 0) break;
        }
        both.push(...list);
      }
      lists.push(prune(both));
      if (cost.length > MOST_POINTS || stop())
        return { complete: false, values: undefined, cost: Number.POSITIVE_INFINITY };
    }
    for (const f of own) for (const u of f.scope) plain[u]?.delete(f);
    for (const f of ownFronts) for (const u of f.scope) fronts[u]?.delete(f);
    if (scope.length === 0) constant = join(constant, lists[0] as number[]);
    else {
      const front: Front = { scope, lists };
      for (const u of scope) fronts[u]?.add(front);
    }
    for (const u of scope) degree[u] = scopeOf(u).length;
  }
  const last = constant.at(-1);
  if (last === undefined) return { complete: true, values: undefined, cost: Number.POSITIVE_INFINITY };
  // Mass rises and cost falls along a front: its last point within the limit is the cheapest.
  const values = new Uint8Array(count);
  const stack = [last];
  for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
    const l = left[i] as number;
    if (l <= -2) values[(-2 - l) >> 1] = (-2 - l) & 1;
    else if (l >= 0) stack.push(l, right[i] as number);
  }
  return { complete: true, values, cost: cost[last] as number };
}
