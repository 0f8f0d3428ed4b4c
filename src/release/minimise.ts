// Owns the cheapest assignment of a network with mass limits: free of the limits first, then with a price on mass, then the gap closed by branching.

import { close, type Priced, priceOut } from "./close.ts";
import type { Fixed, Floors } from "./floors.ts";
import type { Network, Row } from "./network.ts";
import { cheapestAt, costOf, dual, type Held, hold, massOf, narrow, under } from "./price.ts";
import { cheapest } from "./search.ts";
import { tablesOf } from "./tables.ts";
import { unlessHalted, type Watch } from "./watch.ts";

export interface Minimum {
  readonly cost: number;
  readonly bound: number;
  readonly values: Uint8Array | undefined;
}

/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;

/** Shares of the variables that are open, one after the other. */
const SHARES = [1 / 8, 1 / 2, 1];
/** Where lines cross so often, the best price is known well enough for most values to be told apart by it. */
const SURVEY = 3;
/** Variables up to which it is no use to tell them apart before the best price is known. */
const FEW = 24;

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
  const { floors, rows } = network;
  // What is stopped must still come to an answer, and there may be none under a ceiling.
  if (floors.isKnown && !watch.stop()) {
    const held = hold(tables, rows[0] as Row, watch);
    if (held === undefined) return { ...NONE, bound: below };
    const found = widened(network, held, watch, below, true);
    if (found.values !== undefined || below < Number.POSITIVE_INFINITY || !watch.stop()) return found;
  }
  const free = cheapest(tables, below, watch);
  if (free.values === undefined) return { ...NONE, bound: free.bound };
  const { values } = free;
  const row = rows.find((r) => massOf(r, values) > limitOf(r));
  if (row === undefined) return { cost: free.cost, bound: free.bound, values };
  const held = hold(tables, row, watch);
  return held === undefined ? NONE : priced(network, held, { bound: free.bound, values }, watch, below, true);
}

/**
 * The cheapest with few variables open first, then more: what is known to cost a ceiling or more is fixed, so an answer below that ceiling is the cheapest of all, and where there
 * is none the ceiling is a bound.
 *
 * @param mayLearn whether more may be learnt of what values cost, and all be gone through again with that
 */
function widened(network: Network, held: Held, watch: Watch, below: number, mayLearn: boolean): Minimum {
  const { floors } = network;
  const { names } = held.folded;
  let best = NONE;
  let bound = 0;
  const search = (): Minimum => {
    for (const share of SHARES) {
      const most = Math.min(below, best.cost);
      const ceiling = share < 1 ? Math.min(most, floors.ceiling(names, share)) : most;
      if (ceiling <= bound) continue;
      const near = narrow(held, floors.fixed(names, ceiling), watch);
      const free = near && cheapestAt(near, 0, watch, ceiling);
      let found: Minimum = { ...NONE, bound: free?.bound ?? ceiling };
      if (near !== undefined && free?.values !== undefined)
        found = priced(
          network,
          near,
          { bound: free.bound, values: free.values },
          watch,
          ceiling,
          mayLearn && share === 1,
        );
      if (found.cost < best.cost) best = found;
      bound = Math.max(bound, Math.min(ceiling, found.bound));
      // Unless it was stopped, nothing is left below the ceiling but what was found.
      if (bound < Math.min(ceiling, best.cost) - GRAIN || bound >= best.cost - GRAIN) break;
    }
    return { ...best, bound: Math.min(bound, best.cost) };
  };
  return unlessHalted(search, () => ({ ...best, bound }));
}

/** The best price on the first limit that is passed, its gap closed; where that cannot be, the heaviest part that the priced answers disagree about is tried both ways. */
function priced(
  network: Network,
  held: Held,
  free: { readonly bound: number; readonly values: Uint8Array },
  watch: Watch,
  below: number,
  mayLearn: boolean,
): Minimum {
  let best: Minimum = { ...NONE, bound: free.bound };
  const take = (values: Uint8Array): void => {
    if (network.rows.some((r) => massOf(r, values) > limitOf(r))) return;
    const cost = costOf(network.cost, values);
    if (cost < best.cost) best = { ...best, cost, values };
  };
  const row = network.rows.find((r) => massOf(r, free.values) > limitOf(r));
  take(free.values);
  if (row === undefined) return best;
  const limit = limitOf(row);
  const root = under(held, row);
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
      const isRoot = node.fixed.length === 0;
      const own = narrow(root, node.fixed, watch);
      if (own === undefined) continue;
      const { values: first, bound: without } = isRoot ? free : cheapestAt(own, 0, watch);
      const isFirst = isRoot && mayLearn && own.folded.rest.count > FEW;
      const found =
        first && dual(own, { values: first, bound: without }, limit, watch, take, known, isFirst ? SURVEY : undefined);
      if (found === undefined) continue;
      // Costs are whole numbers, so a bound may be rounded up.
      let bound = Math.max(node.bound, Math.ceil(found.bound - 10 * GRAIN));
      if (bound < known() && found.split !== undefined && !watch.stop()) {
        const at = priceOut(own, limit, found.price, watch);
        if (at === undefined) continue;
        if (isRoot) learn(network.floors, at, below);
        if (isFirst) {
          const again = widened(network, root, watch, known(), false);
          if (again.cost < best.cost) return again;
          return { ...best, bound: Math.min(best.cost, Math.max(bound, again.bound)) };
        }
        const swept = close(at, limit, found.price, known(), take, watch);
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

/** What values cost at least by a price. What it was asked of leaves out only what costs `below` or more. */
function learn(floors: Floors, { folded, tree, bound }: Priced, below: number): void {
  folded.names.forEach((v, i) => {
    floors.raise(
      v,
      Math.min(below, bound + (tree.low[i] as number)),
      Math.min(below, bound + (tree.high[i] as number)),
    );
  });
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
