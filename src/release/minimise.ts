// Owns the cheapest assignment of a network with mass limits: free of the limits first, then with a price on mass, then the gap closed by branching.

import { close } from "./close.ts";
import type { Network, Row } from "./network.ts";
import { cheapestAt, costOf, dual, type Fixed, hold, massOf } from "./price.ts";
import { cheapest, type Found } from "./search.ts";
import { type Tables, tablesOf } from "./tables.ts";
import { unlessHalted, type Watch } from "./watch.ts";

export interface Minimum {
  readonly cost: number;
  readonly bound: number;
  readonly values: Uint8Array | undefined;
}

/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;

const NONE: Minimum = { cost: Number.POSITIVE_INFINITY, bound: Number.POSITIVE_INFINITY, values: undefined };

/** Grams matter; the last bits of a sum do not. */
const limitOf = (row: Row): number => row.limit + 1e-9 * Math.max(1, row.limit);

/**
 * The cheapest assignment within the limits; of a search that was halted, what it knew of the least cost.
 *
 * @param below a cost that is known to be had: where none costs less, none is given, and the bound is that cost
 */
export function minimise(network: Network, watch: Watch, below = Number.POSITIVE_INFINITY): Minimum {
  return unlessHalted(
    () => minimised(network, watch, below),
    ({ bound }) => ({ ...NONE, bound: Math.max(0, bound) }),
  );
}

function minimised(network: Network, watch: Watch, below: number): Minimum {
  const tables = tablesOf(network);
  const free = cheapest(tables, below, watch);
  if (free.values === undefined) return { ...NONE, bound: free.bound };
  const { values } = free;
  const over = network.rows.filter((row) => massOf(row, values) > limitOf(row));
  if (over.length === 0) return { cost: free.cost, bound: free.bound, values };
  return priced(network, tables, over, { ...free, values }, watch, below);
}

/** The best price on the first limit that is passed, its gap closed; where that cannot be, the heaviest part that the priced answers disagree about is tried both ways. */
function priced(
  network: Network,
  tables: Tables,
  over: readonly Row[],
  free: Found & { readonly values: Uint8Array },
  watch: Watch,
  below: number,
): Minimum {
  let best: Minimum = { ...NONE, bound: free.bound };
  const row = over[0] as Row;
  const limit = limitOf(row);
  const take = (values: Uint8Array): void => {
    if (network.rows.some((r) => massOf(r, values) > limitOf(r))) return;
    const cost = costOf(network.cost, values);
    if (cost < best.cost) best = { ...best, cost, values };
  };
  const known = (): number => Math.min(below, best.cost);
  interface Branch {
    readonly fixed: Fixed;
    readonly bound: number;
  }
  const open: Branch[] = [{ fixed: [], bound: free.bound }];
  const search = (): Minimum => {
    // The least bound of what was left without being searched to its end.
    let left = Number.POSITIVE_INFINITY;
    while (open.length > 0) {
      open.sort((a, b) => b.bound - a.bound);
      const node = open.pop() as Branch;
      if (node.bound >= known()) break;
      best = { ...best, bound: Math.min(left, node.bound) };
      if (watch.stop()) return best;
      const held = hold(tables, node.fixed, row, watch);
      if (held === undefined) continue;
      const { values: first, bound: without } = node.fixed.length === 0 ? free : cheapestAt(held, 0, watch);
      const found = first && dual(held, { values: first, bound: without }, limit, watch, take);
      if (found === undefined) continue;
      // Costs are whole numbers, so a bound may be rounded up.
      let bound = Math.max(node.bound, Math.ceil(found.bound - 10 * GRAIN));
      if (bound < known() && found.split !== undefined && !watch.stop()) {
        const swept = close(held, limit, found.price, known(), take, watch);
        if (swept !== undefined) bound = Math.max(bound, swept);
      }
      if (bound >= known()) continue;
      if (found.split === undefined) {
        if (cover(network, found.values)) return minimise(network, watch, below);
        left = Math.min(left, bound);
        continue;
      }
      for (const to of [0, 1]) open.push({ fixed: [...node.fixed, [found.split, to]], bound });
    }
    return { ...best, bound: Math.min(left, known()) };
  };
  return unlessHalted(search, () => best);
}

/** For every limit that the values pass: its heaviest parts that together pass it do not all go up. False: they pass none. */
function cover(network: Network, values: Uint8Array): boolean {
  let any = false;
  for (const row of network.rows) {
    if (massOf(row, values) <= limitOf(row)) continue;
    const up = row.variables
      .map((v, i) => ({ v, mass: row.masses[i] as number }))
      .filter(({ v }) => values[v] === 1)
      .sort((a, b) => b.mass - a.mass);
    let sum = 0;
    const clause: number[] = [];
    for (const { v, mass } of up) {
      clause.push((v << 1) | 1);
      sum += mass;
      if (sum > limitOf(row)) break;
    }
    network.clause(clause);
    any = true;
  }
  return any;
}
