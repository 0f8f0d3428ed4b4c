// Owns the cheapest assignment of a network with mass limits: access folded once, then a price on mass, then the gap closed.

import { eliminate, tablesOf } from "./elimination.ts";
import type { Network, Row } from "./network.ts";
import { cheapest, type Watch } from "./search.ts";

const CAP = 11;

export interface Minimum {
  readonly cost: number;
  readonly bound: number;
  readonly values: Uint8Array | undefined;
}

const massOf = (row: Row, values: Uint8Array): number =>
  row.variables.reduce((sum, v, i) => sum + (values[v] === 1 ? (row.masses[i] as number) : 0), 0);

/** Grams matter; the last bits of a sum do not. */
const fits = (row: Row, values: Uint8Array): boolean =>
  massOf(row, values) <= row.limit + 1e-9 * Math.max(1, row.limit);

export function minimise(network: Network, watch: Watch): Minimum {
  const tables = tablesOf(network);
  const access = eliminate(tables, CAP, tables.heavy);
  if (!access.feasible) return { cost: Number.POSITIVE_INFINITY, bound: Number.POSITIVE_INFINITY, values: undefined };
  const free = cheapest(access.rest, Number.POSITIVE_INFINITY, watch);
  if (free.values === undefined)
    return { cost: Number.POSITIVE_INFINITY, bound: access.base + free.bound, values: undefined };
  const values = access.restore(free.values);
  if (network.rows.every((row) => fits(row, values)))
    return { cost: access.base + free.cost, bound: access.base + free.bound, values };
  // Cover: these parts together are too heavy for the hoist, so that one of them stays.
  for (const row of network.rows) {
    if (fits(row, values)) continue;
    const up = row.variables.map((v, i) => ({ v, mass: row.masses[i] as number })).filter(({ v }) => values[v] === 1);
    up.sort((a, b) => b.mass - a.mass);
    let sum = 0;
    const cover: number[] = [];
    for (const { v, mass } of up) {
      cover.push(v);
      sum += mass;
      if (sum > row.limit) break;
    }
    network.clause(cover.map((v) => (v << 1) | 1));
  }
  return minimise(network, watch);
}
