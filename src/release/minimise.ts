// Owns the cheapest assignment of a network with mass limits: free of the limits first, then with a price on mass, then the gap closed by branching.

import { calibrate } from "./calibrate.ts";
import type { Eliminated } from "./elimination.ts";
import { sweep } from "./fronts.ts";
import type { Network, Row } from "./network.ts";
import { cheapest, fold } from "./search.ts";
import { type Tables, tablesOf } from "./tables.ts";
import { unlessHalted, type Watch } from "./watch.ts";

export interface Minimum {
  readonly cost: number;
  readonly bound: number;
  readonly values: Uint8Array | undefined;
}

/** Neighbours over which weightless variables are folded before a sweep. */
const FRONT_CAP = 9;
/** The same before a price is put on mass: little enough to make no table wider that has to wait for it. */
const PRICE_CAP = 5;
/** Neighbours in the tree of a sweep: at first, and again and again on the way down. */
const WIDEST = 18;
const WIDE = 12;
/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;
/** So many of the units in which mass is searched make a kilogram: a grain of them is nothing. */
const FINE = 1e4;

type Fixed = readonly (readonly [variable: number, value: number])[];

const NONE: Minimum = { cost: Number.POSITIVE_INFINITY, bound: Number.POSITIVE_INFINITY, values: undefined };

const massOf = (row: Row, values: Uint8Array): number =>
  row.variables.reduce((sum, v, i) => sum + (values[v] === 1 ? (row.masses[i] as number) : 0), 0);

/** Grams matter; the last bits of a sum do not. */
const limitOf = (row: Row): number => row.limit + 1e-9 * Math.max(1, row.limit);

const costOf = (costs: ArrayLike<number>, values: Uint8Array): number =>
  values.reduce((sum, value, v) => sum + (value === 1 ? (costs[v] as number) : 0), 0);

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
  return priced(network, tables, over, free.bound, watch);
}

/**
 * The Lagrange price of the first limit that is passed (A. M. Geoffrion, Mathematical Programming Study 2, 1974), found where the lines of a light and a heavy answer cross;
 * what gap remains is closed by branching on the heaviest part that the priced answers disagree about.
 */
function priced(network: Network, tables: Tables, over: readonly Row[], least: number, watch: Watch): Minimum {
  let best: Minimum = { ...NONE, bound: least };
  const row = over[0] as Row;
  const limit = limitOf(row);
  const take = (values: Uint8Array): void => {
    if (network.rows.some((r) => massOf(r, values) > limitOf(r))) return;
    const cost = costOf(network.cost, values);
    if (cost < best.cost) best = { ...best, cost, values };
  };
  interface Branch {
    readonly fixed: Fixed;
    readonly bound: number;
  }
  const open: Branch[] = [{ fixed: [], bound: least }];
  const search = (): Minimum => {
    // The least bound of what was left without being searched to its end.
    let left = Number.POSITIVE_INFINITY;
    while (open.length > 0) {
      open.sort((a, b) => b.bound - a.bound);
      const node = open.pop() as Branch;
      if (node.bound >= best.cost) break;
      best = { ...best, bound: Math.min(left, node.bound) };
      if (watch.stop()) return best;
      const found = dual(tables, node.fixed, row, limit, watch, take);
      if (found === undefined) continue;
      // Costs are whole numbers, so a bound may be rounded up.
      let bound = Math.max(node.bound, Math.ceil(found.bound - 10 * GRAIN));
      if (bound < best.cost && found.split !== undefined && !watch.stop()) {
        const swept = close(tables, node.fixed, row, limit, found.price, best.cost, take, watch);
        if (swept !== undefined) bound = Math.max(bound, swept);
      }
      if (bound >= best.cost) continue;
      if (found.split === undefined) {
        if (cover(network, found.values)) return minimise(network, watch);
        left = Math.min(left, bound);
        continue;
      }
      for (const to of [0, 1]) open.push({ fixed: [...node.fixed, [found.split, to]], bound });
    }
    return { ...best, bound: Math.min(left, best.cost) };
  };
  return unlessHalted(search, () => best);
}

/**
 * Widens the slack until nothing better can be left out; the bound that this proves, undefined where a pass grew too large or was stopped.
 * `bound` must be what this very price gives: a better one from elsewhere, or one rounded up, would leave out too much.
 */
function close(
  tables: Tables,
  fixed: Fixed,
  row: Row,
  limit: number,
  price: number,
  known: number,
  take: (values: Uint8Array) => void,
  watch: Watch,
): number | undefined {
  const all = new Float64Array(tables.count);
  row.variables.forEach((v, i) => {
    all[v] = row.masses[i] as number;
  });
  const heavy = Uint8Array.from(all, (m) => (m > 0 ? 1 : 0));
  // What has no mass is folded once; its variables follow from the rest.
  const folded = fold({ ...tables, heavy }, FRONT_CAP, { frozen: heavy, fixed }, watch);
  if (!folded.feasible) return known;
  // Heavy variables that the folding has decided weigh in any case.
  const settled = settledMass(folded, row);
  const masses = Float64Array.from(folded.names, (v) => all[v] as number);
  const unary = folded.rest.unary.map((c, i) => c + price * (masses[i] as number));
  const tree = calibrate(folded.rest, unary, fixed.length === 0 ? WIDEST : WIDE, watch.tick);
  if (tree === undefined) return undefined;
  if (tree.least === Number.POSITIVE_INFINITY) return known;
  const bound = folded.base + tree.least + price * (settled - limit);
  let best = known;
  const most = known === Number.POSITIVE_INFINITY ? Math.abs(bound) : known - bound;
  for (let slack = Math.max(1, most / 16); ; slack *= 4) {
    const pass = sweep(folded.rest, tree, masses, limit - settled, price, slack, watch.stop);
    if (!pass.complete) return undefined;
    if (pass.values !== undefined) {
      take(folded.restore(pass.values));
      best = Math.min(best, folded.base + pass.cost);
    }
    if (best <= bound + slack) return best;
    if (slack > 64 * Math.max(1, most)) return undefined;
  }
}

/** The mass of what elimination has fixed to go up, whatever the rest. */
function settledMass(folded: Eliminated, row: Row): number {
  const kept = new Set(folded.names);
  const values = folded.restore(new Uint8Array(folded.rest.count));
  return row.variables.reduce(
    (sum, v, i) => sum + (!kept.has(v) && values[v] === 1 ? (row.masses[i] as number) : 0),
    0,
  );
}

/** The bound of the best price. No `split`: there is nothing to branch on; undefined: nothing within the limit satisfies the clauses, proved. */
function dual(
  tables: Tables,
  fixed: Fixed,
  row: Row,
  limit: number,
  watch: Watch,
  take: (values: Uint8Array) => void,
): { bound: number; price: number; split: number | undefined; values: Uint8Array } | undefined {
  // What has no mass and few neighbours is folded once for every price.
  const folded = fold(tables, PRICE_CAP, { frozen: tables.heavy, fixed }, watch);
  if (!folded.feasible) return undefined;
  const all = new Float64Array(tables.count);
  row.variables.forEach((v, i) => {
    all[v] = row.masses[i] as number;
  });
  const certain = settledMass(folded, row);
  const at = (price: number): { cost: number; mass: number; bound: number; values: Uint8Array } | undefined => {
    const unary = folded.rest.unary.map((c, i) => c + price * (all[folded.names[i] as number] as number));
    const found = cheapest({ ...folded.rest, unary }, Number.POSITIVE_INFINITY, watch);
    if (found.values === undefined) return undefined;
    const values = folded.restore(found.values);
    const bound = found.bound + folded.base + price * certain;
    take(values);
    return { cost: costOf(tables.unary, values), mass: massOf(row, values), bound, values };
  };
  let heavy = at(0);
  if (heavy === undefined) return undefined;
  if (heavy.mass <= limit) return { bound: heavy.bound, price: 0, split: undefined, values: heavy.values };
  // The lightest answer: a price that outweighs every cost by far, then the cheapest of that mass is not needed.
  const unit = tables.unary.reduce((sum, c) => sum + Math.abs(c), 1);
  let light = at(unit / 0.001);
  if (light === undefined) return undefined;
  if (light.mass > limit) {
    // Such a price loses the last grams to rounding, and a stopped search need not find the lightest: mass alone decides.
    const unary = new Float64Array(tables.count);
    row.variables.forEach((v, i) => {
      unary[v] = FINE * (row.masses[i] as number);
    });
    const { values, bound } = cheapest({ ...tables, unary }, Number.POSITIVE_INFINITY, watch, undefined, fixed);
    if (values === undefined || bound > FINE * limit) return undefined;
    const mass = massOf(row, values);
    if (mass > limit) return { bound: heavy.bound, price: 0, split: undefined, values: heavy.values };
    take(values);
    light = { cost: costOf(tables.unary, values), mass, bound: 0, values };
  }
  let bound = heavy.bound;
  let best = 0;
  for (let i = 0; i < 60; i++) {
    const price = (light.cost - heavy.cost) / (heavy.mass - light.mass);
    if (!(price > 0)) break;
    const next = at(price);
    if (next === undefined) return undefined;
    const value = next.cost + price * next.mass;
    if (next.bound - price * limit > bound) {
      bound = next.bound - price * limit;
      best = price;
    }
    if (value >= heavy.cost + price * heavy.mass - 1e-6 * Math.max(1, Math.abs(value))) break;
    if (watch.stop()) break;
    if (next.mass > limit) heavy = next;
    else light = next;
  }
  // Branch where the two answers on either side of the limit differ by most mass.
  let split: number | undefined;
  let most = 0;
  for (const [i, v] of row.variables.entries()) {
    const mass = row.masses[i] as number;
    if (heavy.values[v] !== light.values[v] && mass > most) {
      most = mass;
      split = v;
    }
  }
  return { bound, price: best, split, values: heavy.values };
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
