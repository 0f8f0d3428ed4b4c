// Owns the simple lower bounds of a model: the longest chain of arcs, and what must pass through one lane before, after or beside each item.

import type { Model } from "./model.ts";

export interface Lower {
  /** No makespan is below, ticks; Infinity when the arcs close a circle. */
  readonly bound: number;
  /** The lane that the bound comes from; -1: the longest chain. */
  readonly lane: number;
  /** By item: it starts no earlier. */
  readonly heads: Int32Array;
  /** By item: from its start to the makespan at the least. */
  readonly tails: Int32Array;
}

/** Work of changes of state that must come after an item, whichever they are. */
export interface Still {
  /** Item × lane. */
  readonly work: Int32Array;
  /** The first item that is a change. */
  readonly changes: number;
}

/** Work that takes a lane: of which item, how long after the item's start it begins and ends, and length × count. */
interface Load {
  readonly item: number;
  readonly begins: number;
  readonly ends: number;
  readonly work: number;
}

/** The tail of what lies beyond the makespan: so far that no chain brings it back. */
const BEYOND = -(2 ** 29);

/** Rounds of looking before and after every item; each only raises what the last has left. */
const ROUNDS = 6;

/** Sets of items, a bit each. */
class Sets {
  private readonly words: number;
  private readonly bits: Int32Array;

  constructor(size: number) {
    this.words = (size + 31) >> 5;
    this.bits = new Int32Array(size * this.words);
  }

  has(set: number, item: number): boolean {
    return (((this.bits[set * this.words + (item >> 5)] ?? 0) >> (item & 31)) & 1) === 1;
  }

  /** Adds an item with the whole of its own set; whether that was anything new. */
  join(set: number, item: number): boolean {
    const { bits, words } = this;
    let fresh = 0;
    for (let word = 0; word < words; word += 1) {
      const own = word === item >> 5 ? 1 << (item & 31) : 0;
      const more = (own | (bits[item * words + word] ?? 0)) & ~(bits[set * words + word] ?? 0);
      fresh |= more;
      bits[set * words + word] = (bits[set * words + word] ?? 0) | more;
    }
    return fresh !== 0;
  }
}

/** By item the items that have ended when it starts (`to`), or that start only when it has ended (`from`). */
const closure = (model: Model, side: "from" | "to"): Sets => {
  const { arcs, ticks, size } = model;
  const sets = new Sets(size);
  for (let changed = true; changed; ) {
    changed = false;
    for (let arc = 0; arc < arcs.lag.length; arc += 1) {
      const [from, to] = [arcs.from[arc] ?? 0, arcs.to[arc] ?? 0];
      if (from === to || (arcs.lag[arc] ?? 0) < (ticks[from] ?? 0)) continue;
      if (side === "to" ? sets.join(to, from) : sets.join(from, to)) changed = true;
    }
  }
  return sets;
};

/** Raises `reach` along the arcs until nothing moves; false when a circle never stops. */
const along = (model: Model, reach: Int32Array, lanes: Int32Array, from: Int32Array, to: Int32Array): boolean => {
  const { lag } = model.arcs;
  for (let round = 0; round <= model.size; round += 1) {
    let moved = false;
    for (let arc = 0; arc < lag.length; arc += 1) {
      const [start, end] = [from[arc] ?? 0, to[arc] ?? 0];
      const via = (reach[start] ?? 0) + (lag[arc] ?? 0);
      if (via <= (reach[end] ?? 0)) continue;
      reach[end] = via;
      lanes[end] = lanes[start] ?? -1;
      moved = true;
    }
    if (!moved) return true;
  }
  return false;
};

/** Ticks that so much work takes in a lane; none takes none, in a lane of nobody too. */
const spread = (work: number, capacity: number): number => (work === 0 ? 0 : Math.ceil(work / capacity));

/** The most that a threshold and the work beyond it, spread over the capacity, come to. `list` of [threshold, work] is in falling order of the thresholds. */
const packed = (list: readonly (readonly [edge: number, work: number])[], capacity: number): number => {
  let most = 0;
  let work = 0;
  for (const [edge, own] of list) {
    work += own;
    most = Math.max(most, edge + spread(work, capacity));
  }
  return Math.max(most, spread(work, capacity));
};

const falling = (a: readonly [number, number], b: readonly [number, number]): number => b[0] - a[0];

/**
 * The simple bounds. What has ended when an item starts has passed through its lanes by then, which can keep the item back for longer than any chain
 * (energy precedence; Laborie 2003), and likewise what is still to come; the rest is the longest chain through an item, and all of a lane's work between the least head and
 * tail of it.
 */
export const lowerBound = (model: Model, still?: Still): Lower => {
  const { size, lanes, uses, ticks, counted, arcs } = model;
  const heads = Int32Array.from(model.earliest);
  // What may lie beyond the makespan has nothing to come, not even its own start.
  const tails = Int32Array.from(ticks, (own, item) => (counted[item] === 1 ? own : BEYOND));
  const headLanes = new Int32Array(size).fill(-1);
  const tailLanes = new Int32Array(size).fill(-1);
  const endless: Lower = { bound: Number.POSITIVE_INFINITY, lane: -1, heads, tails };
  const alongArcs = (): boolean =>
    along(model, heads, headLanes, arcs.from, arcs.to) && along(model, tails, tailLanes, arcs.to, arcs.from);
  if (!alongArcs()) return endless;

  const loads: Load[][] = Array.from({ length: lanes }, () => []);
  for (let use = 0; use < uses.first.length; use += 1) {
    const [item, begins, ends] = [uses.first[use] ?? 0, uses.head[use] ?? 0, uses.tail[use] ?? 0];
    // A use between two items is as long as the schedule makes it.
    if (item !== uses.last[use] || ends <= begins) continue;
    for (let lane = 0; lane < lanes; lane += 1) {
      const count = uses.need[use * lanes + lane] ?? 0;
      if (count > 0) loads[lane]?.push({ item, begins, ends, work: count * (ends - begins) });
    }
  }
  const before = closure(model, "to");
  const after = closure(model, "from");
  for (let round = 0; round < ROUNDS; round += 1) {
    let moved = false;
    for (const [lane, list] of loads.entries()) {
      const capacity = model.capacity[lane] ?? 1;
      // Thresholds as they are now: one raised on the way would be out of order.
      const early = list
        .map((load) => ({ ...load, edge: (heads[load.item] ?? 0) + load.begins }))
        .sort((a, b) => b.edge - a.edge);
      // What lies beyond the makespan is not work that is still to come.
      const late = list
        .filter(({ item }) => counted[item] === 1)
        .map((load) => ({ ...load, edge: (tails[load.item] ?? 0) - load.ends }))
        .sort((a, b) => b.edge - a.edge);
      for (let item = 0; item < size; item += 1) {
        const head = packed(
          early.filter((load) => before.has(item, load.item)).map((load) => [load.edge, load.work] as const),
          capacity,
        );
        if (head > (heads[item] ?? 0)) {
          heads[item] = head;
          headLanes[item] = lane;
          moved = true;
        }
        const later = late.filter((load) => after.has(item, load.item));
        const through = packed(
          later.map((load) => [load.edge, load.work] as const),
          capacity,
        );
        // Changes among them may be the very ones that are still to come, so they count once.
        const own = later.reduce((sum, load) => sum + (load.item < (still?.changes ?? size) ? load.work : 0), 0);
        const more = still === undefined ? 0 : spread(own + (still.work[item * lanes + lane] ?? 0), capacity);
        const tail = (ticks[item] ?? 0) + Math.max(through, more);
        if (tail > (tails[item] ?? 0) && tail > (ticks[item] ?? 0)) {
          tails[item] = tail;
          tailLanes[item] = lane;
          moved = true;
        }
      }
    }
    if (!moved) break;
    if (!alongArcs()) return endless;
  }

  let [bound, by] = [0, -1];
  for (let item = 0; item < size; item += 1) {
    if (counted[item] !== 1 || (heads[item] ?? 0) + (tails[item] ?? 0) <= bound) continue;
    bound = (heads[item] ?? 0) + (tails[item] ?? 0);
    by = (headLanes[item] ?? -1) >= 0 ? (headLanes[item] ?? -1) : (tailLanes[item] ?? -1);
  }
  for (const [lane, list] of loads.entries()) {
    const users = list
      .filter(({ item }) => counted[item] === 1)
      .map(({ item, begins, ends, work }) => ({
        from: (heads[item] ?? 0) + begins,
        after: (tails[item] ?? 0) - ends,
        work,
      }));
    for (const least of new Set(users.map((user) => user.from))) {
      const later = users.filter((user) => user.from >= least).map((user) => [user.after, user.work] as const);
      const through = least + packed(later.sort(falling), model.capacity[lane] ?? 1);
      if (through > bound) [bound, by] = [through, lane];
    }
  }
  return { bound, lane: by, heads, tails };
};

/** The model with its heads and tails: items start no earlier, and one more item stands for the end. Nothing that satisfied the one is lost in the other. */
export const tightened = (model: Model, { heads, tails }: Lower): Model => {
  const { size, ticks, counted, arcs, bar } = model;
  const ends: number[] = [];
  for (let item = 0; item < size; item += 1)
    if (counted[item] === 1 && (tails[item] ?? 0) > (ticks[item] ?? 0)) ends.push(item);
  const join = (list: Int32Array, more: readonly number[]): Int32Array => Int32Array.from([...list, ...more]);
  const horizon = model.latest.reduce((most, latest, item) => Math.max(most, latest + (ticks[item] ?? 0)), 0);
  return {
    ...model,
    size: size + 1,
    ticks: join(ticks, [0]),
    counted: Uint8Array.from([...counted, 1]),
    earliest: join(heads, [0]),
    latest: join(model.latest, [horizon]),
    arcs: {
      from: join(arcs.from, ends),
      to: join(
        arcs.to,
        ends.map(() => size),
      ),
      lag: join(
        arcs.lag,
        ends.map((item) => tails[item] ?? 0),
      ),
    },
    bar: join(bar, [bar.at(-1) ?? 0]),
  };
};
