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

/** What is near in one network, whose clauses become more. */
export class Nearby {
  private readonly network: Network;
  /** Variable → its clauses, in the order of their numbers. */
  private readonly clausesOf: number[][] = [];
  private noted = 0;

  constructor(network: Network) {
    this.network = network;
  }

  /**
   * The cheapest assignment of all those that differ from a known one only near the clauses from a number on; undefined where none of them satisfies the clauses. Variables that
   * are newer than that stand in these clauses alone.
   */
  mend({ values, cost }: Assignment, from: number, watch: Watch): Assignment | undefined {
    this.note();
    const near = this.around(from);
    const place = new Int32Array(this.network.cost.length).fill(-1);
    near.forEach((v, i) => {
      place[v] = i;
    });
    const found = minimise(this.part(near, place, values), watch);
    if (found.values === undefined) return undefined;
    const mended = new Uint8Array(place.length);
    mended.set(values);
    let costs = cost;
    near.forEach((v, i) => {
      const value = found.values?.[i] as number;
      costs += (value - (mended[v] as number)) * (this.network.cost[v] as number);
      mended[v] = value;
    });
    return { values: mended, cost: costs };
  }

  /** Puts down the clauses that are new. */
  private note(): void {
    const { clausesOf } = this;
    const { literals, starts, cost } = this.network;
    while (clausesOf.length < cost.length) clausesOf.push([]);
    for (; this.noted + 1 < starts.length; this.noted++) {
      for (let k = starts[this.noted] as number; k < (starts[this.noted + 1] as number); k++)
        (clausesOf[(literals[k] as Literal) >> 1] as number[]).push(this.noted);
    }
  }

  /** The variables of the clauses from a number on, then those that clauses join to them, breadth first. */
  private around(from: number): number[] {
    const { literals, starts } = this.network;
    // A set iterates over what is added on the way.
    const near = new Set<number>();
    for (let k = starts[from] as number; k < literals.length; k++) near.add((literals[k] as Literal) >> 1);
    for (const v of near) {
      const own = this.clausesOf[v] as number[];
      if (own.length > HUB) continue;
      if (near.size > MOST) break;
      for (const i of own) {
        for (let k = starts[i] as number; k < (starts[i + 1] as number); k++) near.add((literals[k] as Literal) >> 1);
      }
    }
    return [...near];
  }

  /** The network of what is near, the rest having its values; `place`: variable → its place among these. */
  private part(near: readonly number[], place: Int32Array, values: Uint8Array): Network {
    const { literals, starts, rows, cost } = this.network;
    const part = new Network();
    for (const v of near) part.variable(cost[v]);
    const clauses = new Set(near.flatMap((v) => this.clausesOf[v] as number[]));
    for (const i of [...clauses].sort((a, b) => a - b)) {
      const own: Literal[] = [];
      let settled = false;
      for (let k = starts[i] as number; k < (starts[i + 1] as number); k++) {
        const literal = literals[k] as Literal;
        const at = place[literal >> 1] as number;
        if (at >= 0) own.push(yes(at) | (literal & 1));
        else settled ||= values[literal >> 1] === 1 - (literal & 1);
      }
      if (!settled) part.clause(own);
    }
    for (const { limit, variables, masses, price } of rows) {
      let outside = 0;
      const inside: number[] = [];
      variables.forEach((v, i) => {
        if ((place[v] as number) >= 0) inside.push(i);
        else if (values[v] === 1) outside += masses[i] as number;
      });
      if (inside.length > 0)
        part.rows.push({
          limit: limit - outside,
          variables: inside.map((i) => place[variables[i] as number] as number),
          masses: inside.map((i) => masses[i] as number),
          ...(price === undefined ? {} : { price }),
        });
    }
    return part;
  }
}
