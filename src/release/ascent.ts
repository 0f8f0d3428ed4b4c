// Owns the bound of what elimination leaves: costs are moved between factors that share a variable until the sum of what each
// costs at least is as great as it gets. Nothing is lost by moving: every assignment costs what it did. Source: V. Kolmogorov, "A new look at
// reweighted message passing", IEEE Transactions on Pattern Analysis and Machine Intelligence 37 (2015) 919–930.

import type { Tables } from "./tables.ts";
import type { Tick } from "./watch.ts";

export interface Ascended {
  /** No assignment costs less. */
  readonly bound: number;
  /** Variable → no assignment with it false (true) costs less. */
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** The same costs, moved. */
  readonly tables: Tables;
}

/** Passes there and back, at most; and the share of the gain so far that the last ones must have brought to go on. */
const PASSES = 60;
const SLOW = 0.02;
/** Blocks shorter than this are not worth a loop of their own. */
const SHORT = 8;

/** Raises the bound until it stands still or passes `ceiling`, or for so many passes. `tick` is called once a pass. */
export function ascend(tables: Tables, ceiling: number, tick?: Tick, passes = PASSES): Ascended {
  const { count, starts, scopes, negative } = tables;
  const factors = starts.length - 1;
  const unary = tables.unary.slice();
  const begins = new Int32Array(factors + 1);
  for (let f = 0; f < factors; f++)
    begins[f + 1] = (begins[f] as number) + (1 << ((starts[f + 1] as number) - (starts[f] as number)));
  const costs = new Float64Array(begins[factors] as number);
  for (let f = 0; f < factors; f++) {
    const begin = begins[f] as number;
    const offset = tables.offsets[f] as number;
    if (offset < 0) costs[begin + (negative[f] as number)] = Number.POSITIVE_INFINITY;
    else costs.set(tables.costs.subarray(offset, offset + (begins[f + 1] as number) - begin), begin);
  }
  // The places of a variable: in which factor, as which bit; whether it is the last or first of that scope.
  const from = new Int32Array(count + 1);
  for (const v of scopes) from[v + 1] = (from[v + 1] as number) + 1;
  for (let v = 0; v < count; v++) from[v + 1] = (from[v + 1] as number) + (from[v] as number);
  const next = from.slice();
  const factorAt = new Int32Array(scopes.length);
  const bitAt = new Int32Array(scopes.length);
  const forwards = new Int32Array(count);
  const backwards = new Int32Array(count);
  for (let f = 0; f < factors; f++) {
    const start = starts[f] as number;
    const end = starts[f + 1] as number;
    for (let k = start; k < end; k++) {
      const v = scopes[k] as number;
      const at = next[v] as number;
      next[v] = at + 1;
      factorAt[at] = f;
      bitAt[at] = k - start;
      if (k + 1 < end) forwards[v] = (forwards[v] as number) + 1;
      if (k > start) backwards[v] = (backwards[v] as number) + 1;
    }
  }
  const least = new Float64Array(factors);
  let [m0, m1] = [0, 0];
  const look = (place: number): void => {
    const f = factorAt[place] as number;
    const begin = begins[f] as number;
    const end = begins[f + 1] as number;
    const bit = 1 << (bitAt[place] as number);
    m0 = Number.POSITIVE_INFINITY;
    m1 = Number.POSITIVE_INFINITY;
    let [x, y] = [m0, m1];
    if (bit < SHORT) {
      // Blocks this short are gone through across, place by place.
      for (let at = begin; at < begin + bit; at++) {
        for (let a = at; a < end; a += bit << 1) {
          const x0 = costs[a] as number;
          const x1 = costs[a + bit] as number;
          if (x0 < x) x = x0;
          if (x1 < y) y = x1;
        }
      }
    } else {
      for (let block = begin; block < end; block += bit << 1) {
        for (let a = block; a < block + bit; a++) {
          const x0 = costs[a] as number;
          const x1 = costs[a + bit] as number;
          if (x0 < x) x = x0;
          if (x1 < y) y = x1;
        }
      }
    }
    m0 = x;
    m1 = y;
  };
  const widest = from.reduce(
    (most, _, v) => (v === 0 ? most : Math.max(most, (from[v] as number) - (from[v - 1] as number))),
    0,
  );
  const steps = new Float64Array(widest);
  const move = (v: number, forward: boolean): void => {
    const begin = from[v] as number;
    const end = from[v + 1] as number;
    let sum = unary[v] as number;
    for (let k = begin; k < end; k++) {
      look(k);
      const d = m1 - m0;
      // A value that a factor excludes is for elimination to fix.
      steps[k - begin] = Number.isFinite(d) ? d : 0;
      if (Number.isFinite(d)) sum += d;
    }
    const there = (forward ? forwards[v] : backwards[v]) as number;
    const share = sum / Math.max(1, forwards[v] as number, backwards[v] as number);
    for (let k = begin; k < end; k++) {
      const f = factorAt[k] as number;
      const i = bitAt[k] as number;
      const width = (starts[f + 1] as number) - (starts[f] as number);
      const gives = forward ? i + 1 < width : i > 0;
      const change = (gives ? share : 0) - (steps[k - begin] as number);
      if (change === 0) continue;
      const bit = 1 << i;
      const last = begins[f + 1] as number;
      const first = (begins[f] as number) + bit;
      if (bit < SHORT) {
        for (let at = first; at < first + bit; at++)
          for (let a = at; a < last; a += bit << 1) costs[a] = (costs[a] as number) + change;
      } else {
        for (let block = first; block < last; block += bit << 1)
          for (let a = block; a < block + bit; a++) costs[a] = (costs[a] as number) + change;
      }
    }
    unary[v] = sum - there * share;
  };
  const boundNow = (): number => {
    let sum = 0;
    for (let f = 0; f < factors; f++) {
      let x = Number.POSITIVE_INFINITY;
      for (let a = begins[f] as number; a < (begins[f + 1] as number); a++)
        if ((costs[a] as number) < x) x = costs[a] as number;
      least[f] = x;
      sum += x;
    }
    for (let v = 0; v < count; v++) sum += Math.min(0, unary[v] as number);
    return sum;
  };
  const start = boundNow();
  let bound = start;
  for (let pass = 0; pass < passes && bound < ceiling; pass++) {
    tick?.(bound);
    for (let v = 0; v < count; v++) move(v, true);
    for (let v = count - 1; v >= 0; v--) move(v, false);
    const now = boundNow();
    const gain = now - bound;
    bound = now;
    if (gain <= SLOW * Math.min(10 * (bound - start), ceiling - bound) || gain < 1e-6) break;
  }
  const low = new Float64Array(count);
  const high = new Float64Array(count);
  for (let v = 0; v < count; v++) {
    let without = bound - Math.min(0, unary[v] as number);
    let zero = 0;
    let one = unary[v] as number;
    for (let k = from[v] as number; k < (from[v + 1] as number); k++) {
      look(k);
      without -= least[factorAt[k] as number] as number;
      zero += m0;
      one += m1;
    }
    low[v] = without + zero;
    high[v] = without + one;
  }
  return {
    bound,
    low,
    high,
    tables: { ...tables, unary, offsets: begins.slice(0, factors), costs },
  };
}
