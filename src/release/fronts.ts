// Owns the cheapest assignment under one mass limit, once a price on mass has all but found it: elimination again, but each entry of a table now
// keeps every pair of cost and mass that can still matter.

import { type Calibrated, type Cluster, costIn, placesIn, scopeIn } from "./calibrate.ts";
import type { Tables } from "./tables.ts";

/** Points that a pass may keep, in all. */
const MOST_POINTS = 2_000_000;
const EMPTY: readonly number[] = [];
/** What sums of fractions may be off by. */
const GRAIN = 1e-3;

export interface Pass {
  /** False: too large, or stopped; nothing is known. */
  readonly complete: boolean;
  /** The cheapest assignment found within the limit. */
  readonly values: Uint8Array | undefined;
  readonly cost: number;
}

/**
 * The cheapest assignment of mass at most `limit` among those whose cost + price × mass is within `slack` of the least, which `tree` knows: it was
 * calibrated at this price. A better one than it cannot exist when its cost is at most least − price × limit + slack.
 */
export function sweep(
  tables: Tables,
  tree: Calibrated,
  masses: Float64Array,
  limit: number,
  price: number,
  slack: number,
  stop: () => boolean,
): Pass {
  const { clusters } = tree;
  // A point is its cost, its mass, and how it came about: a variable's value, or two points put together.
  const cost: number[] = [0];
  const mass: number[] = [0];
  const left: number[] = [-1];
  const right: number[] = [-1];
  const point = (c: number, m: number, l: number, r: number): number => {
    left.push(l);
    right.push(r);
    mass.push(m);
    return cost.push(c) - 1;
  };
  const failed: Pass = { complete: false, values: undefined, cost: Number.POSITIVE_INFINITY };
  const byMass = (a: number, b: number): number =>
    (mass[a] as number) - (mass[b] as number) || (cost[a] as number) - (cost[b] as number);
  /** Keeps what is not dearer at no less mass than another. */
  const prune = (list: number[]): number[] => {
    if (list.length < 2) return list;
    list.sort(byMass);
    let kept = 0;
    let cheapest = Number.POSITIVE_INFINITY;
    for (const i of list) {
      if ((cost[i] as number) >= cheapest) continue;
      cheapest = cost[i] as number;
      list[kept++] = i;
    }
    list.length = kept;
    return list;
  };
  /** Sums of a point of each list whose price stays within `most`. */
  const join = (a: readonly number[], b: readonly number[], most: number): number[] => {
    const all: number[] = [];
    for (const i of a) {
      for (const j of b) {
        const m = (mass[i] as number) + (mass[j] as number);
        const c = (cost[i] as number) + (cost[j] as number);
        if (m <= limit && c + price * m <= most) all.push(point(c, m, i, j));
      }
    }
    return prune(all);
  };
  const root = rootsOf(clusters);
  const lists: (readonly number[])[][] = [];
  let last: number[] = [0];
  let paidFor = 0;
  for (let i = 0; i < clusters.length; i++) {
    const cluster = clusters[i] as Cluster;
    const { variable, scope, up, down } = cluster;
    const size = 1 << scope.length;
    const factorPlaces = cluster.factors.map((f) => placesIn(cluster, scopeIn(tables, f)));
    const innerPlaces = cluster.inner.map((j) => placesIn(cluster, (clusters[j] as Cluster).scope));
    const least = (clusters[root[i] as number] as Cluster).up[0] as number;
    const own: (readonly number[])[] = [];
    for (let a = 0; a < size; a++) {
      // With the rest of the tree this entry costs so much at least: what it may cost itself is what is left of the slack.
      const most = least - (down[a] as number) + slack + GRAIN;
      if (!((up[a] as number) <= most)) {
        own.push(EMPTY);
        continue;
      }
      const both: number[] = [];
      for (let value = 0; value < 2; value++) {
        const entry = a + value * size;
        let paid = value === 1 ? (tables.unary[variable] as number) : 0;
        cluster.factors.forEach((f, k) => {
          paid += costIn(tables, f, (factorPlaces[k] as Int32Array)[entry] as number);
        });
        const weight = value === 1 ? (masses[variable] as number) : 0;
        let rest = 0;
        cluster.inner.forEach((j, k) => {
          rest += (clusters[j] as Cluster).up[(innerPlaces[k] as Int32Array)[entry] as number] as number;
        });
        if (!(paid + price * weight + rest <= most) || weight > limit) continue;
        let list: number[] = [point(paid, weight, -2 - (2 * variable + value), -1)];
        for (let k = 0; k < cluster.inner.length && list.length > 0; k++) {
          const j = cluster.inner[k] as number;
          const at = (innerPlaces[k] as Int32Array)[entry] as number;
          rest -= (clusters[j] as Cluster).up[at] as number;
          list = join(list, (lists[j] as (readonly number[])[])[at] as readonly number[], most - rest);
        }
        both.push(...list);
      }
      own.push(prune(both));
      if (cost.length > MOST_POINTS || ((a & 63) === 0 && stop())) return failed;
    }
    lists.push(own);
    for (const j of cluster.inner) lists[j] = [];
    if (scope.length > 0) continue;
    paidFor += up[0] as number;
    last = join(last, own[0] as readonly number[], paidFor + slack + GRAIN);
  }
  const end = last.at(-1);
  if (end === undefined) return { complete: true, values: undefined, cost: Number.POSITIVE_INFINITY };
  // Mass rises and cost falls along a front: its last point within the limit is the cheapest.
  const values = new Uint8Array(tables.count);
  const stack = [end];
  for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
    const l = left[i] as number;
    if (l <= -2) values[(-2 - l) >> 1] = (-2 - l) & 1;
    else if (l >= 0) stack.push(l, right[i] as number);
  }
  return { complete: true, values, cost: cost[end] as number };
}

/** Cluster → the last of its tree. */
function rootsOf(clusters: readonly Cluster[]): Int32Array {
  const root = Int32Array.from(clusters, (_, i) => i);
  for (let i = clusters.length - 1; i >= 0; i--)
    for (const j of (clusters[i] as Cluster).inner) root[j] = root[i] as number;
  return root;
}
