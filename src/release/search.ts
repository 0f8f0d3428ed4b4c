// Owns the cheapest assignment of tables: elimination first; of what it leaves a bound, an answer, what these two fix, and branching, depth first.

import { type Ascended, ascend } from "./ascent.ts";
import { type Asked, type Eliminated, eliminate } from "./elimination.ts";
import { probe } from "./probe.ts";
import { componentsOf, type Tables } from "./tables.ts";
import { beside, Halted, unlessHalted, type Watch } from "./watch.ts";

/** Neighbours of a variable that elimination folds; a table has 2^cap entries. */
const CAP = 20;
/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;

export interface Found {
  /** Infinity: nothing below the ceiling. */
  readonly cost: number;
  readonly values: Uint8Array | undefined;
  /** No assignment costs less (equal to the cost, or the ceiling, unless stopped early). */
  readonly bound: number;
}

/** Passes of the bound that a search which was halted is given for an end. */
const BRIEF = 4;
/** Table entries up to which trying variables both ways is quicker than a bound. */
const FEW = 2 ** 32;

type Fixed = readonly (readonly [variable: number, value: number])[];

const nothing = (bound: number): Found => ({ cost: Number.POSITIVE_INFINITY, values: undefined, bound });

/** Eliminates under a watch. */
export const fold = (tables: Tables, cap: number, asked: Asked, { tick }: Watch): Eliminated =>
  eliminate(tables, cap, tick === undefined ? asked : { ...asked, tick });

/** The cheapest assignment below `ceiling`. Without a ceiling, none found means that there is none, stopped or not. */
export function cheapest(tables: Tables, ceiling: number, watch: Watch, cap = CAP, fixed: Fixed = []): Found {
  const folded = fold(tables, cap, { fixed, ceiling }, watch);
  const brief = (): number => folded.base + ascend(folded.rest, Number.POSITIVE_INFINITY, undefined, BRIEF).bound;
  const found = unlessHalted(
    () => beyond(folded, ceiling, watch, cap),
    ({ bound }) => {
      throw new Halted(Math.max(bound, brief()));
    },
  );
  if (found.values === undefined) return found;
  // Costs that were moved to and fro have lost their last bits.
  const cost = costOf(tables, found.values);
  return { ...found, cost, bound: found.bound >= found.cost - GRAIN ? cost : Math.max(found.bound, brief()) };
}

function costOf({ unary, starts, scopes, offsets, costs }: Tables, values: Uint8Array): number {
  let sum = 0;
  unary.forEach((c, v) => {
    if (values[v] === 1) sum += c;
  });
  offsets.forEach((offset, f) => {
    if (offset < 0) return;
    const start = starts[f] as number;
    let a = offset;
    for (let k = start; k < (starts[f + 1] as number); k++) a += (values[scopes[k] as number] as number) << (k - start);
    sum += costs[a] as number;
  });
  return sum;
}

/** Folding may leave a variable that is cheaper true than false; its tables cost nothing or more. */
const floorOf = ({ unary }: Tables): number => unary.reduce((sum, c) => sum + Math.min(0, c), 0);

/** Whether a search that is stopped may end with this: without a ceiling it must have an answer, if there is one. */
const isEnough = ({ values }: Found, ceiling: number): boolean =>
  values !== undefined || ceiling < Number.POSITIVE_INFINITY;

const leastOf = ({ base, rest }: Eliminated): number => base + floorOf(rest);

function below(tables: Tables, ceiling: number, watch: Watch, cap: number, fixed: Fixed): Found {
  return beyond(fold(tables, cap, { fixed, ceiling }, watch), ceiling, watch, cap);
}

/** The cheapest of what was folded as far as it goes. */
function beyond(folded: Eliminated, ceiling: number, watch: Watch, cap: number): Found {
  if (!folded.feasible || leastOf(folded) >= ceiling - GRAIN) return nothing(ceiling);
  if (folded.rest.count === 0)
    return { cost: folded.base, values: folded.restore(new Uint8Array(0)), bound: folded.base };
  const rest = beside(folded.base, () => apart(folded.rest, folded.entries, ceiling - folded.base, watch, cap));
  const bound = folded.base + rest.bound;
  if (rest.values === undefined) return nothing(bound);
  return { cost: folded.base + rest.cost, values: folded.restore(rest.values), bound };
}

/** Components are solved each on its own. */
function apart(tables: Tables, entries: number, ceiling: number, watch: Watch, cap: number): Found {
  const parts = componentsOf(tables);
  if (parts.length === 1)
    return entries > FEW ? hard(tables, ceiling, watch, cap) : halved(tables, ceiling, watch, cap);
  const values = new Uint8Array(tables.count);
  let cost = 0;
  let bound = 0;
  // What the components still to come cost at least.
  let least = parts.reduce((sum, part) => sum + floorOf(part.tables), 0);
  for (const part of parts) {
    least -= floorOf(part.tables);
    const found = beside(bound + least, () => below(part.tables, ceiling - bound - least, watch, cap, []));
    if (found.values === undefined) return nothing(bound + least + found.bound);
    bound += found.bound;
    cost += found.cost;
    part.names.forEach((v, i) => {
      values[v] = (found.values as Uint8Array)[i] as number;
    });
  }
  return cost < ceiling - GRAIN ? { cost, values, bound } : nothing(bound);
}

/** Connected tables for which folding takes too many entries, but not by far: a variable is tried both ways, and again what is left of the two. */
function halved(tables: Tables, ceiling: number, watch: Watch, cap: number): Found {
  watch.nodes++;
  let best = nothing(Number.POSITIVE_INFINITY);
  const search = (): Found => {
    const { found, open } = probe(tables, ceiling, (asked) => fold(tables, cap, asked, watch));
    if (found !== undefined) best = { ...found, bound: found.cost };
    let bound = Math.min(ceiling, best.cost);
    for (const half of open) {
      const limit = Math.min(ceiling, best.cost);
      const least = leastOf(half);
      if (isEnough(best, ceiling) && (watch.stop() || least >= limit - watch.gap * Math.abs(limit))) {
        bound = Math.min(bound, least);
        continue;
      }
      const found = beyond(half, limit, watch, cap);
      bound = Math.min(bound, found.bound);
      if (found.cost < best.cost) best = found;
    }
    return { ...best, bound };
  };
  return unlessHalted(search, () => {
    // What was under way had values fixed: its bound is none for the whole.
    const bound = floorOf(tables);
    if (best.values === undefined) throw new Halted(bound);
    return { ...best, bound };
  });
}

/** Connected tables that elimination cannot fold by far. */
function hard(tables: Tables, ceiling: number, watch: Watch, cap: number): Found {
  watch.nodes++;
  const ascended = ascend(tables, ceiling, watch.tick);
  const known: { best: Found } = { best: nothing(Number.POSITIVE_INFINITY) };
  return unlessHalted(
    () => split(tables, ascended, ceiling, watch, cap, known),
    () => {
      // What was under way may have had values fixed: its bound is none for the whole.
      if (known.best.values === undefined) throw new Halted(ascended.bound);
      return { ...known.best, bound: ascended.bound };
    },
  );
}

function split(
  tables: Tables,
  ascended: Ascended,
  ceiling: number,
  watch: Watch,
  cap: number,
  known: { best: Found },
): Found {
  if (ascended.bound >= ceiling - GRAIN) return nothing(ceiling);
  const guess = dive(ascended, watch, cap);
  if (guess !== undefined && guess.cost < ceiling - GRAIN) known.best = { ...guess, bound: ascended.bound };
  const most = Math.min(ceiling, known.best.cost);
  const enough = (least: number): boolean =>
    least >= most - GRAIN || (known.best.values !== undefined && least >= most - watch.gap * Math.abs(most));
  if (enough(ascended.bound)) return { ...known.best, bound: ascended.bound >= most - GRAIN ? most : ascended.bound };
  // What the other value of a variable would cost at least is known: where that is too much, it is fixed.
  const fixed: [number, number][] = [];
  for (let v = 0; v < tables.count; v++) {
    const low = (ascended.low[v] as number) >= most - GRAIN;
    const high = (ascended.high[v] as number) >= most - GRAIN;
    if (low && high) return { ...known.best, bound: most };
    if (low) fixed.push([v, 1]);
    else if (high) fixed.push([v, 0]);
  }
  const better = (found: Found): void => {
    if (found.values !== undefined && found.cost < known.best.cost) known.best = found;
  };
  if (fixed.length > 0) {
    const found = below(ascended.tables, most, watch, cap, fixed);
    better(found);
    return { ...known.best, bound: Math.min(most, Math.max(found.bound, ascended.bound)) };
  }
  const v = busiest(tables);
  const halves = [0, 1].map((to) => ({ to, least: (to === 0 ? ascended.low : ascended.high)[v] as number }));
  halves.sort((a, b) => a.least - b.least);
  let bound = Number.POSITIVE_INFINITY;
  for (const { to, least } of halves) {
    const limit = Math.min(ceiling, known.best.cost);
    if (
      least >= limit - GRAIN ||
      least >= limit - watch.gap * Math.abs(limit) ||
      (isEnough(known.best, ceiling) && watch.stop())
    ) {
      bound = Math.min(bound, least, limit);
      continue;
    }
    const found = below(ascended.tables, limit, watch, cap, [[v, to]]);
    better(found);
    bound = Math.min(bound, Math.max(found.bound, least));
  }
  return { ...known.best, bound: Math.min(bound, known.best.cost) };
}

/** Many neighbours, and little to choose between its values. */
function busiest(tables: Tables): number {
  const { starts, scopes } = tables;
  const degree = new Int32Array(tables.count);
  for (let f = 0; f + 1 < starts.length; f++) {
    const start = starts[f] as number;
    const end = starts[f + 1] as number;
    for (let k = start; k < end; k++)
      degree[scopes[k] as number] = (degree[scopes[k] as number] as number) + end - start;
  }
  let at = 0;
  degree.forEach((d, v) => {
    if (d > (degree[at] as number)) at = v;
  });
  return at;
}

/** An answer, if one is found, by fixing again and again the half of the variables that the bound is surest of. */
function dive(from: Ascended, watch: Watch, cap: number): { cost: number; values: Uint8Array } | undefined {
  let { tables, low, high } = from;
  let paid = 0;
  const back: ((rest: Uint8Array) => Uint8Array)[] = [];
  for (;;) {
    const sure = [...low.keys()].sort(
      (a, b) => Math.abs((high[b] as number) - (low[b] as number)) - Math.abs((high[a] as number) - (low[a] as number)),
    );
    let folded: Eliminated | undefined;
    for (let share = Math.ceil(sure.length / 2); share > 0; share = share > 1 ? Math.ceil(share / 4) : 0) {
      const fixed: Fixed = sure
        .slice(0, share)
        .map((v) => [v, (high[v] as number) < (low[v] as number) ? 1 : 0] as const);
      folded = fold(tables, cap, { fixed }, watch);
      if (folded.feasible) break;
    }
    if (folded === undefined || !folded.feasible) return undefined;
    paid += folded.base;
    back.push(folded.restore);
    if (folded.rest.count === 0) break;
    const again = ascend(folded.rest, Number.POSITIVE_INFINITY, watch.tick);
    ({ tables, low, high } = again);
  }
  let values: Uint8Array = new Uint8Array(0);
  for (const restore of back.reverse()) values = restore(values);
  return { cost: paid, values };
}
