// Owns the cheapest assignment of tables: elimination first, then branching on what elimination leaves, depth first.

import { eliminate, undercut } from "./elimination.ts";
import { componentsOf, type Tables } from "./tables.ts";

/** Neighbours of a variable that elimination folds; a table has 2^cap entries. Few variables of a machine need the widest. */
const CAP = 16;
/** The same for the bound that prunes. */
const BOUND_CAP = 8;

export interface Found {
  /** Infinity: nothing below the ceiling. */
  readonly cost: number;
  readonly values: Uint8Array | undefined;
  /** No assignment costs less (equal to the cost, or the ceiling, unless stopped early). */
  readonly bound: number;
}

export interface Watch {
  /** Counts branchings. */
  nodes: number;
  /** True: finish by following the better half only. What is found then is an answer with a bound, not a proof. */
  readonly stop: () => boolean;
  /** Share of a cost that is not worth looking for. */
  readonly gap: number;
}

type Fixed = readonly (readonly [variable: number, value: number])[];

/** The cheapest assignment below `ceiling`. Without a ceiling, none found means that there is none, stopped or not. */
export function cheapest(tables: Tables, ceiling: number, watch: Watch, cap = CAP, fixed: Fixed = []): Found {
  const folded = eliminate(tables, cap, { fixed });
  // Folding may leave a variable that is cheaper true than false, so what is paid in any case is less than the base by these.
  const least = folded.rest.unary.reduce((sum, c) => sum + Math.min(0, c), folded.base);
  if (!folded.feasible || least >= ceiling)
    return {
      cost: Number.POSITIVE_INFINITY,
      values: undefined,
      bound: folded.feasible ? ceiling : Number.POSITIVE_INFINITY,
    };
  if (folded.rest.count === 0)
    return { cost: folded.base, values: folded.restore(new Uint8Array(0)), bound: folded.base };
  const rest = branch(folded.rest, ceiling - folded.base, watch, cap);
  if (rest.values === undefined)
    return { cost: Number.POSITIVE_INFINITY, values: undefined, bound: folded.base + rest.bound };
  return { cost: folded.base + rest.cost, values: folded.restore(rest.values), bound: folded.base + rest.bound };
}

/** Solves tables that elimination cannot: components apart, otherwise the two values of one variable. */
function branch(tables: Tables, ceiling: number, watch: Watch, cap: number): Found {
  const parts = componentsOf(tables);
  if (parts.length > 1) {
    const values = new Uint8Array(tables.count);
    let cost = 0;
    let bound = 0;
    for (const part of parts) {
      const found = cheapest(part.tables, Number.POSITIVE_INFINITY, watch, cap);
      if (found.values === undefined) return { cost: Number.POSITIVE_INFINITY, values: undefined, bound: found.bound };
      bound += found.bound;
      cost += found.cost;
      part.names.forEach((v, i) => {
        values[v] = (found.values as Uint8Array)[i] as number;
      });
    }
    return cost < ceiling ? { cost, values, bound } : { cost: Number.POSITIVE_INFINITY, values: undefined, bound };
  }
  watch.nodes++;
  const v = busiest(tables);
  const halves = [0, 1].map((to) => {
    const fixed: Fixed = [[v, to]];
    return { fixed, bound: undercut(tables, BOUND_CAP, { fixed }) };
  });
  halves.sort((a, b) => a.bound - b.bound);
  let best: Found = { cost: Number.POSITIVE_INFINITY, values: undefined, bound: Number.POSITIVE_INFINITY };
  for (const { fixed, bound: least } of halves) {
    const below = Math.min(ceiling, best.cost);
    if (least >= below || least >= below - watch.gap * Math.abs(below)) {
      best = { ...best, bound: Math.min(best.bound, least, below) };
      continue;
    }
    if (best.values !== undefined && watch.stop()) {
      best = { ...best, bound: Math.min(best.bound, least) };
      continue;
    }
    const found = cheapest(tables, below, watch, cap, fixed);
    const bound = Math.min(best.bound, Math.max(found.bound, least));
    best = found.values !== undefined ? { ...found, bound } : { ...best, bound };
  }
  return best;
}

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
