// Owns how lanes and uses are laid out for the profile: several lanes in one word, each with a guard bit on top.
//
// A lane of capacity c takes so many bits that c fits, and one more. With free = capacity - taken and every guard set, a need fits in all lanes of the word at once exactly when
// (free - need) still has every guard.

import type { Model } from "../model.ts";

export interface Layout {
  readonly words: number;
  /** By word: all guards; and guards with full capacities. */
  readonly guards: Int32Array;
  readonly full: Int32Array;
  /** Word × bit of a guard: its lane. */
  readonly laneAt: Int32Array;
  readonly capacity: Int32Array;
  readonly lanes: number;
  // Uses, without those that never take up anything.
  readonly uses: number;
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly head: Int32Array;
  readonly tail: Int32Array;
  /** Use × lane; a need above the capacity is the capacity and 1. */
  readonly need: Int32Array;
  /** Word × use: the needs in that word. */
  readonly packed: Int32Array;
  /** A use longer than nothing wants more than there is. */
  readonly impossible: boolean;
}

export const layoutOf = (model: Model): Layout => {
  const { lanes } = model;
  const capacity = model.capacity.map((count) => Math.max(0, count));
  const kept: number[] = [];
  for (let use = 0; use < model.uses.first.length; use += 1) {
    const fixed = model.uses.first[use] === model.uses.last[use];
    if (fixed && model.uses.tail[use]! <= model.uses.head[use]!) continue;
    let takes = false;
    for (let lane = 0; lane < lanes; lane += 1) if (model.uses.need[use * lanes + lane]! > 0) takes = true;
    if (takes) kept.push(use);
  }
  const uses = kept.length;
  const pick = (list: Int32Array): Int32Array => Int32Array.from(kept, (use) => list[use]!);
  const [first, last] = [pick(model.uses.first), pick(model.uses.last)];
  const need = new Int32Array(uses * lanes);
  let impossible = false;
  for (let use = 0; use < uses; use += 1) {
    for (let lane = 0; lane < lanes; lane += 1) {
      const count = model.uses.need[kept[use]! * lanes + lane]!;
      if (count > capacity[lane]! && first[use] === last[use]) impossible = true;
      need[use * lanes + lane] = Math.min(count, capacity[lane]! + 1);
    }
  }
  // Lanes that nobody could overload are left out.
  const wordOf = new Int32Array(lanes).fill(-1);
  const shiftOf = new Int32Array(lanes);
  const room: number[] = [];
  const guards: number[] = [];
  const full: number[] = [];
  const laneAt: number[] = [];
  for (let lane = 0; lane < lanes; lane += 1) {
    let total = 0;
    for (let use = 0; use < uses; use += 1) total += need[use * lanes + lane]!;
    if (total <= capacity[lane]!) continue;
    const width = 33 - Math.clz32(capacity[lane]!);
    let word = room.findIndex((left) => left >= width);
    if (word < 0) {
      word = room.length;
      room.push(32);
      guards.push(0);
      full.push(0);
      for (let bit = 0; bit < 32; bit += 1) laneAt.push(-1);
    }
    const shift = 32 - room[word]!;
    room[word]! -= width;
    const guard = 1 << (shift + width - 1);
    guards[word]! |= guard;
    full[word]! |= guard | (capacity[lane]! << shift);
    laneAt[word * 32 + shift + width - 1] = lane;
    wordOf[lane] = word;
    shiftOf[lane] = shift;
  }
  const words = room.length;
  const packed = new Int32Array(words * uses);
  for (let use = 0; use < uses; use += 1) {
    for (let lane = 0; lane < lanes; lane += 1) {
      if (wordOf[lane]! < 0) need[use * lanes + lane] = 0;
      else packed[wordOf[lane]! * uses + use]! |= need[use * lanes + lane]! << shiftOf[lane]!;
    }
  }
  return {
    words,
    guards: Int32Array.from(guards),
    full: Int32Array.from(full),
    laneAt: Int32Array.from(laneAt),
    capacity,
    lanes,
    uses,
    first,
    last,
    head: pick(model.uses.head),
    tail: pick(model.uses.tail),
    need,
    packed,
    impossible,
  };
};
