// Owns the simple lower bounds of a model: the longest chain of arcs, and what must pass through one lane.

import type { Model } from "./model.ts";

/** Earliest starts by the arcs alone; undefined when they close a circle that cannot be. */
export const headsOf = (model: Model): Int32Array | undefined =>
  longest(model, model.earliest, model.arcs.from, model.arcs.to);

/** From each start to the makespan at the least; undefined as above. */
export const tailsOf = (model: Model): Int32Array | undefined => {
  const own = model.ticks.map((ticks, item) => (model.counted[item] === 1 ? ticks : 0));
  return longest(model, own, model.arcs.to, model.arcs.from);
};

/** Bellman and Ford's longest paths over the arcs. */
const longest = (model: Model, begin: Int32Array, from: Int32Array, to: Int32Array): Int32Array | undefined => {
  const reach = Int32Array.from(begin);
  const { lag } = model.arcs;
  for (let round = 0; round <= model.size; round += 1) {
    let moved = false;
    for (let arc = 0; arc < lag.length; arc += 1) {
      const via = (reach[from[arc] ?? 0] ?? 0) + (lag[arc] ?? 0);
      if (via > (reach[to[arc] ?? 0] ?? 0)) {
        reach[to[arc] ?? 0] = via;
        moved = true;
      }
    }
    if (!moved) return reach;
  }
  return undefined;
};

export interface Lower {
  readonly bound: number;
  /** The lane that the bound comes from; -1: the longest chain. */
  readonly lane: number;
}

/**
 * The greatest of the simple bounds, ticks; Infinity when the arcs close a circle. For one lane: what uses it and begins no earlier than h and has no less than q after it
 * needs (work / capacity) between them; the greatest over all h and q that occur.
 */
export const lowerBound = (model: Model): Lower => {
  const heads = headsOf(model);
  const tails = tailsOf(model);
  if (heads === undefined || tails === undefined) return { bound: Number.POSITIVE_INFINITY, lane: -1 };
  let best: Lower = { bound: 0, lane: -1 };
  for (let item = 0; item < model.size; item += 1) {
    if (model.counted[item] !== 1) continue;
    const bound = (heads[item] ?? 0) + (tails[item] ?? 0);
    if (bound > best.bound) best = { bound, lane: -1 };
  }
  const { first, last, head, tail, need } = model.uses;
  for (let lane = 0; lane < model.lanes; lane += 1) {
    const users: { from: number; after: number; work: number }[] = [];
    for (let use = 0; use < first.length; use += 1) {
      const item = first[use] ?? 0;
      const length = (tail[use] ?? 0) - (head[use] ?? 0);
      const count = need[use * model.lanes + lane] ?? 0;
      // A use between two items is as long as the schedule makes it; a change beyond the end is no work.
      if (count === 0 || item !== last[use] || model.counted[item] !== 1) continue;
      users.push({
        from: (heads[item] ?? 0) + (head[use] ?? 0),
        after: (tails[item] ?? 0) - (tail[use] ?? 0),
        work: length * count,
      });
    }
    const capacity = model.capacity[lane] ?? 1;
    for (const least of new Set(users.map((user) => user.from))) {
      let work = 0;
      const later = users.filter((user) => user.from >= least).sort((a, b) => b.after - a.after);
      for (const user of later) {
        work += user.work;
        const bound = least + Math.ceil(work / capacity) + Math.max(0, user.after);
        if (bound > best.bound) best = { bound, lane };
      }
    }
  }
  return best;
};
