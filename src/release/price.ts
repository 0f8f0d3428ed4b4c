// Owns the price on mass: tables of which all but what has mass is folded once, their cheapest assignment at a price, and the price whose bound is best.
// Source: A. M. Geoffrion, "Lagrangean relaxation for integer programming", Mathematical Programming Study 2 (1974) 82–114.

import type { Eliminated } from "./elimination.ts";
import type { Fixed } from "./floors.ts";
import type { Row } from "./network.ts";
import { cheapest, fold } from "./search.ts";
import type { Tables } from "./tables.ts";
import type { Watch } from "./watch.ts";

/** Neighbours over which weightless variables are folded before a price is put on mass. */
const HELD_CAP = 9;
/** How far from the price of the last search the next one looks first, as a share of it. */
const ASTRIDE = 0.04;
/** Prices tried at most. */
const PRICES = 60;
/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;
/** So many of the units in which mass is searched make a kilogram: a grain of them is nothing. */
const FINE = 1e4;

export const massOf = (row: Row, values: Uint8Array): number =>
  row.variables.reduce((sum, v, i) => sum + (values[v] === 1 ? (row.masses[i] as number) : 0), 0);

export const costOf = (costs: ArrayLike<number>, values: Uint8Array): number =>
  values.reduce((sum, value, v) => sum + (value === 1 ? (costs[v] as number) : 0), 0);

/** Tables of which what has no mass and few neighbours was folded, once for every price; its variables follow from the rest. */
export interface Held {
  readonly tables: Tables;
  readonly fixed: Fixed;
  readonly row: Row;
  readonly folded: Eliminated;
  /** Variable of the rest → its mass. */
  readonly masses: Float64Array;
  /** The mass of what the folding has decided to go up: it weighs in any case. */
  readonly settled: number;
}

/** Undefined: nothing satisfies the clauses. */
export const hold = (tables: Tables, row: Row, watch: Watch): Held | undefined =>
  heldOf(tables, [], row, fold(tables, HELD_CAP, { frozen: tables.heavy }, watch));

/** The same with values fixed, which folds more; undefined: nothing satisfies the clauses with them. */
export function narrow(held: Held, fixed: Fixed, watch: Watch): Held | undefined {
  if (fixed.length === 0) return held;
  const { tables, row, folded } = held;
  const place = new Map(Array.from(folded.names, (v, i) => [v, i]));
  // A variable that was folded away is not there to be fixed: what follows is true of more, and no less.
  const own = fixed.flatMap(([v, to]) => (place.has(v) ? [[place.get(v) as number, to] as const] : []));
  const more = fold(folded.rest, HELD_CAP, { frozen: folded.rest.heavy, fixed: own }, watch);
  return heldOf(tables, [...held.fixed, ...fixed], row, {
    ...more,
    base: folded.base + more.base,
    names: more.names.map((i) => folded.names[i] as number),
    restore: (rest) => folded.restore(more.restore(rest)),
  });
}

/** The same, with the masses of a row. */
export const under = (held: Held, row: Row): Held =>
  row === held.row ? held : (heldOf(held.tables, held.fixed, row, held.folded) as Held);

function heldOf(tables: Tables, fixed: Fixed, row: Row, folded: Eliminated): Held | undefined {
  if (!folded.feasible) return undefined;
  const all = new Float64Array(tables.count);
  row.variables.forEach((v, i) => {
    all[v] = row.masses[i] as number;
  });
  const masses = Float64Array.from(folded.names, (v) => all[v] as number);
  const values = folded.restore(new Uint8Array(folded.rest.count));
  for (const v of folded.names) values[v] = 0;
  return { tables, fixed, row, folded, masses, settled: massOf(row, values) };
}

export const pricedCosts = ({ folded, masses }: Held, price: number): Float64Array =>
  folded.rest.unary.map((c, i) => c + price * (masses[i] as number));

/** The cheapest at a price whose cost + price × mass is below a ceiling, none where there is none; and what that sum is at least. */
export function cheapestAt(
  held: Held,
  price: number,
  watch: Watch,
  ceiling = Number.POSITIVE_INFINITY,
): { readonly bound: number; readonly values: Uint8Array | undefined } {
  const { folded, settled } = held;
  const paid = folded.base + price * settled;
  const unary = pricedCosts(held, price);
  const { values, bound } = cheapest({ ...folded.rest, unary }, ceiling - paid, watch);
  return { values: values && folded.restore(values), bound: bound + paid };
}

interface Answer {
  readonly cost: number;
  readonly mass: number;
  readonly values: Uint8Array;
}

export interface Dual {
  /** Nothing within the limit costs less. */
  readonly bound: number;
  readonly price: number;
  /** The heaviest part on which a light and a heavy answer differ; undefined: there is none. */
  readonly split: number | undefined;
  /** The heavy answer. */
  readonly values: Uint8Array;
}

/**
 * The bound of the best price, found where the lines of a light and a heavy answer cross; undefined: nothing within the limit satisfies the clauses.
 *
 * @param free the cheapest at no price
 * @param take is given every answer that is met
 * @param known a cost that is known to be had: a bound as great is enough
 * @param most prices that are tried where lines cross
 */
export function dual(
  held: Held,
  free: { readonly bound: number; readonly values: Uint8Array },
  limit: number,
  watch: Watch,
  take: (values: Uint8Array) => void,
  known: () => number,
  most = PRICES,
): Dual | undefined {
  const { tables, row } = held;
  const met: Answer[] = [];
  const answer = (values: Uint8Array): Answer => {
    take(values);
    const one = { cost: costOf(tables.unary, values), mass: massOf(row, values), values };
    met.push(one);
    return one;
  };
  let heavy = answer(free.values);
  let light: Answer | undefined;
  let bound = free.bound;
  let best = 0;
  if (heavy.mass <= limit) return { bound, price: best, split: undefined, values: heavy.values };
  const at = (price: number): Answer => {
    // What was met at another price is hardly ever beaten by much at this one: only what beats it is looked for.
    const sum = (one: Answer): number => one.cost + price * one.mass;
    const had = met.reduce((x, y) => (sum(y) < sum(x) ? y : x));
    const found = cheapestAt(held, price, watch, Math.min(sum(had), known() + price * limit));
    const next = found.values === undefined ? had : answer(found.values);
    if (found.bound - price * limit > bound) {
      bound = found.bound - price * limit;
      best = price;
    }
    if (next.mass > limit) heavy = next;
    else light = next;
    return next;
  };
  const isEnough = (): boolean => bound >= known() - GRAIN;
  if (row.price !== undefined) {
    const isLight = at(row.price).mass <= limit;
    // Further and further from the last price, until there is an answer on the other side of the limit.
    for (let share = ASTRIDE; share < 1 && (isLight || light === undefined); share *= 4) {
      if (isEnough() || at(row.price * (isLight ? 1 - share : 1 + share)).mass > limit === isLight) break;
    }
  }
  if (isEnough()) return { bound, price: best, split: undefined, values: heavy.values };
  if (light === undefined) {
    const found = lightest(held, limit, watch);
    if (found === "none") return undefined;
    if (found === "unknown") return { bound, price: best, split: undefined, values: heavy.values };
    light = answer(found);
  }
  for (let i = 0; i < most && !isEnough(); i++) {
    const price = (light.cost - heavy.cost) / (heavy.mass - light.mass);
    const crossing = heavy.cost + price * (heavy.mass - limit);
    if (!(price > 0)) break;
    const next = at(price);
    if (next.cost + price * (next.mass - limit) >= crossing - 1e-6 * Math.max(1, Math.abs(crossing))) break;
    if (watch.stop()) break;
  }
  if (best > 0) row.price = best;
  return { bound, price: best, split: splitOf(row, heavy.values, light.values), values: heavy.values };
}

/** An answer within the limit; "none": there is none, proved. */
function lightest(held: Held, limit: number, watch: Watch): Uint8Array | "none" | "unknown" {
  const { tables, row, fixed } = held;
  // A price that outweighs every cost by far; that the cheapest of that mass is found is not needed.
  const unit = tables.unary.reduce((sum, c) => sum + Math.abs(c), 1);
  const found = cheapestAt(held, unit / 0.001, watch);
  if (found.values === undefined) return "none";
  if (massOf(row, found.values) <= limit) return found.values;
  // Such a price loses the last grams to rounding, and a stopped search need not find the lightest: mass alone decides.
  const unary = new Float64Array(tables.count);
  row.variables.forEach((v, i) => {
    unary[v] = FINE * (row.masses[i] as number);
  });
  const { values, bound } = cheapest({ ...tables, unary }, Number.POSITIVE_INFINITY, watch, undefined, fixed);
  if (values === undefined || bound > FINE * limit) return "none";
  return massOf(row, values) > limit ? "unknown" : values;
}

function splitOf(row: Row, heavy: Uint8Array, light: Uint8Array): number | undefined {
  let split: number | undefined;
  let most = 0;
  for (const [i, v] of row.variables.entries()) {
    const mass = row.masses[i] as number;
    if (heavy[v] !== light[v] && mass > most) {
      most = mass;
      split = v;
    }
  }
  return split;
}
