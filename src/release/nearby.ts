// Owns the mending of an assignment where clauses were added: what lies near them is chosen anew, all else stays. It proves nothing; it spares asking the whole
// question again for every clause.

import { minimise } from "./minimise.ts";
import { type Literal, Network, yes } from "./network.ts";
import type { Watch } from "./watch.ts";

export interface Assignment {
  readonly values: Uint8Array;
  readonly cost: number;
}

/** Variables that are chosen anew, and clauses of a variable from which on it is a hub: what is beyond it is not near. */
const MOST = 600;
const HUB = 64;

/**
 * The cheapest assignment of all those that differ from a known one only near the clauses from a number on; undefined where none of them satisfies the clauses. Variables that
 * are newer than that stand in these clauses alone.
 */
export function nearby(network: Network, { values }: Assignment, from: number, watch: Watch): Assignment | undefined {
  const near = around(network, from);
  const place = new Map(near.map((v, i) => [v, i]));
  const part = new Network();
  for (const v of near) part.variable(network.cost[v]);
  const isTrue = (literal: Literal): boolean => values[literal >> 1] === 1 - (literal & 1);
  const { literals, starts } = network;
  for (let i = 0; i + 1 < starts.length; i++) {
    const own: Literal[] = [];
    let settled = false;
    for (let k = starts[i] as number; k < (starts[i + 1] as number); k++) {
      const literal = literals[k] as Literal;
      const at = place.get(literal >> 1);
      if (at !== undefined) own.push(yes(at) | (literal & 1));
      else settled ||= isTrue(literal);
    }
    if (own.length > 0 && !settled) part.clause(own);
  }
  for (const { limit, variables, masses, price } of network.rows) {
    const inside = variables.flatMap((v, i) => (place.has(v) ? [i] : []));
    const outside = variables.reduce(
      (sum, v, i) => sum + (place.has(v) || values[v] !== 1 ? 0 : (masses[i] as number)),
      0,
    );
    if (inside.length > 0)
      part.rows.push({
        limit: limit - outside,
        variables: inside.map((i) => place.get(variables[i] as number) as number),
        masses: inside.map((i) => masses[i] as number),
        ...(price === undefined ? {} : { price }),
      });
  }
  const found = minimise(part, watch);
  if (found.values === undefined) return undefined;
  const mended = new Uint8Array(network.cost.length);
  mended.set(values);
  near.forEach((v, i) => {
    mended[v] = found.values?.[i] as number;
  });
  return {
    values: mended,
    cost: mended.reduce((sum, value, v) => (value === 1 ? sum + (network.cost[v] as number) : sum), 0),
  };
}

/** The variables of the clauses from a number on, then those that clauses join to them, breadth first. */
function around({ literals, starts, cost }: Network, from: number): number[] {
  const count = new Int32Array(cost.length + 1);
  for (const literal of literals) count[(literal >> 1) + 1] = (count[(literal >> 1) + 1] as number) + 1;
  for (let v = 0; v < cost.length; v++) count[v + 1] = (count[v + 1] as number) + (count[v] as number);
  const next = count.slice();
  const clauses = new Int32Array(literals.length);
  const seen = new Uint8Array(cost.length);
  const near: number[] = [];
  const visit = (v: number): void => {
    if (seen[v] === 1) return;
    seen[v] = 1;
    near.push(v);
  };
  for (let i = 0; i + 1 < starts.length; i++) {
    for (let k = starts[i] as number; k < (starts[i + 1] as number); k++) {
      const v = (literals[k] as Literal) >> 1;
      clauses[next[v] as number] = i;
      next[v] = (next[v] as number) + 1;
      if (i >= from) visit(v);
    }
  }
  // A list iterates over what is added on the way.
  for (const v of near) {
    const [begin, end] = [count[v] as number, count[v + 1] as number];
    if (end - begin > HUB) continue;
    if (near.length > MOST) break;
    for (let at = begin; at < end; at++) {
      const i = clauses[at] as number;
      for (let k = starts[i] as number; k < (starts[i + 1] as number); k++) visit((literals[k] as Literal) >> 1);
    }
  }
  return near;
}
