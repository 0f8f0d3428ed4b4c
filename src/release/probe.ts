// Owns the trying of variables both ways: of what elimination leaves, a value that folds to the end at once is done with, and the other holds from then on.

import type { Asked, Eliminated } from "./elimination.ts";
import type { Tables } from "./tables.ts";

/** Variables tried, those with the most neighbours. */
const TRIED = 4;

export interface Probed {
  /** The cheapest of what was folded to the end; undefined: nothing below the ceiling. */
  readonly found: { readonly cost: number; readonly values: Uint8Array } | undefined;
  /** What else there is, as far as it may cost less than that: the smaller first. */
  readonly open: readonly Eliminated[];
}

/** @param fold folds the tables, with values fixed and under a ceiling */
export function probe(tables: Tables, ceiling: number, fold: (asked: Asked) => Eliminated): Probed {
  let found: Probed["found"];
  let limit = ceiling;
  const fixed: (readonly [number, number])[] = [];
  let least = Number.POSITIVE_INFINITY;
  let halves: readonly Eliminated[] = [];
  /** What is left with a value; undefined: nothing that costs less than what is known. */
  const withValue = (v: number, to: number): Eliminated | undefined => {
    const folded = fold({ fixed: [...fixed, [v, to]], ceiling: limit });
    if (!folded.feasible) return undefined;
    if (folded.rest.count > 0) return folded;
    limit = folded.base;
    found = { cost: folded.base, values: folded.restore(new Uint8Array(0)) };
    return undefined;
  };
  for (const v of busiest(tables)) {
    const low = withValue(v, 0);
    const high = low === undefined ? undefined : withValue(v, 1);
    if (low === undefined || high === undefined) {
      fixed.push([v, low === undefined ? 1 : 0]);
      continue;
    }
    const entries = low.entries + high.entries;
    if (entries >= least && halves.length > 0) continue;
    least = entries;
    halves = low.entries < high.entries ? [low, high] : [high, low];
  }
  if (fixed.length === 0) return { found, open: halves };
  const rest = fold({ fixed, ceiling: limit });
  return { found, open: rest.feasible ? [rest] : [] };
}

/** The variables with the most neighbours. */
function busiest({ count, starts, scopes }: Tables): number[] {
  const near = Array.from({ length: count }, () => new Set<number>());
  for (let f = 0; f + 1 < starts.length; f++) {
    const scope = scopes.subarray(starts[f], starts[f + 1]);
    for (const v of scope) for (const u of scope) near[v]?.add(u);
  }
  const degree = near.map((own) => own.size);
  return [...degree.keys()].sort((a, b) => (degree[b] as number) - (degree[a] as number)).slice(0, TRIED);
}
