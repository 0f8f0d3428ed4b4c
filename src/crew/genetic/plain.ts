// Owns the question whether a model is plain (arcs without a circle, each item's own uses, nothing else), and its arcs by item.
//
// A plain model can be scheduled by placing one item after the other, each where it first fits, from either end.

import type { Model } from "../model.ts";

/** Arcs into each item, item i's from first[i] to first[i + 1]. */
export interface ArcsInto {
  readonly first: Int32Array;
  readonly from: Int32Array;
  readonly lag: Int32Array;
}

export interface Plain {
  readonly size: number;
  readonly ticks: Int32Array;
  readonly earliest: Int32Array;
  readonly into: ArcsInto;
  /** The same question from the end: starts there are minus the ends here. */
  readonly back: ArcsInto;
  readonly lanes: number;
  readonly capacity: Int32Array;
  /** Item × lane, row by item. */
  readonly need: Int32Array;
  /** Every schedule without needless waiting ends by then. */
  readonly horizon: number;
  /** A schedule that ends by then keeps every latest start; later ones none. */
  readonly limit: number;
  /** Items in an order in which none comes before where its arcs come from. */
  readonly sequence: Int32Array;
}

const arcsInto = (size: number, from: Int32Array, to: Int32Array, lag: (arc: number) => number): ArcsInto => {
  const first = new Int32Array(size + 1);
  for (const item of to) first[item + 1] = (first[item + 1] ?? 0) + 1;
  for (let item = 0; item < size; item += 1) first[item + 1] = (first[item + 1] ?? 0) + (first[item] ?? 0);
  const place = first.slice();
  const into = { first, from: new Int32Array(from.length), lag: new Int32Array(from.length) };
  for (let arc = 0; arc < from.length; arc += 1) {
    const at = place[to[arc] ?? 0] ?? 0;
    place[to[arc] ?? 0] = at + 1;
    into.from[at] = from[arc] ?? 0;
    into.lag[at] = lag(arc);
  }
  return into;
};

/** Kahn's order; shorter than the items when the arcs close a circle. */
const sequenceOf = (size: number, into: ArcsInto, out: ArcsInto): Int32Array => {
  const open = Int32Array.from({ length: size }, (_, item) => (into.first[item + 1] ?? 0) - (into.first[item] ?? 0));
  const sequence: number[] = [];
  for (let item = 0; item < size; item += 1) if (open[item] === 0) sequence.push(item);
  for (let done = 0; done < sequence.length; done += 1) {
    const item = sequence[done] ?? 0;
    for (let arc = out.first[item] ?? 0; arc < (out.first[item + 1] ?? 0); arc += 1) {
      const next = out.from[arc] ?? 0;
      open[next] = (open[next] ?? 0) - 1;
      if (open[next] === 0) sequence.push(next);
    }
  }
  return Int32Array.from(sequence);
};

/** What each item takes of each lane throughout; undefined when something is taken otherwise. */
const needsOf = ({ size, lanes, ticks, uses, capacity }: Model): Int32Array | undefined => {
  const need = new Int32Array(size * lanes);
  for (let use = 0; use < uses.first.length; use += 1) {
    const item = uses.first[use] ?? 0;
    const [head, tail] = [uses.head[use] ?? 0, uses.tail[use] ?? 0];
    if (item === uses.last[use] && head >= tail) continue;
    if (item !== uses.last[use] || head !== 0 || tail !== ticks[item]) return undefined;
    for (let lane = 0; lane < lanes; lane += 1)
      need[item * lanes + lane] = (need[item * lanes + lane] ?? 0) + (uses.need[use * lanes + lane] ?? 0);
  }
  return need.every((count, index) => count <= (capacity[index % lanes] ?? 0)) ? need : undefined;
};

/** The plain form of a model; undefined when it is not plain. */
export const plainOf = (model: Model): Plain | undefined => {
  const { size, ticks, arcs, counted, earliest, latest, lanes, capacity } = model;
  if (model.either.from.length > 0 || model.bar[size] !== 0 || counted.some((one) => one === 0)) return undefined;
  const need = needsOf(model);
  if (need === undefined) return undefined;
  const tick = (item: number | undefined): number => ticks[item ?? 0] ?? 0;
  const into = arcsInto(size, arcs.from, arcs.to, (arc) => arcs.lag[arc] ?? 0);
  const back = arcsInto(
    size,
    arcs.to,
    arcs.from,
    (arc) => (arcs.lag[arc] ?? 0) - tick(arcs.from[arc]) + tick(arcs.to[arc]),
  );
  const sequence = sequenceOf(size, into, back);
  if (sequence.length < size) return undefined;
  // A chain of items, each begun when the one before lets it, has each of them once.
  const longest = ticks.slice();
  for (let arc = 0; arc < arcs.lag.length; arc += 1) {
    const [from, to, lag] = [arcs.from[arc] ?? 0, arcs.to[arc] ?? 0, arcs.lag[arc] ?? 0];
    longest[from] = Math.max(longest[from] ?? 0, lag);
    longest[to] = Math.max(longest[to] ?? 0, lag - tick(from) + tick(to));
  }
  const begin = earliest.reduce((most, start) => Math.max(most, start), 0);
  const horizon = longest.reduce((sum, one) => sum + one, begin);
  const limit = latest.reduce((most, last, item) => Math.max(most, last + tick(item)), 0);
  if (latest.some((last, item) => last + tick(item) < Math.min(limit, horizon))) return undefined;
  return { size, ticks, earliest, into, back, lanes, capacity, need, horizon, limit, sequence };
};
