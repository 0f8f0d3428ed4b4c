// Owns the placing of items one after the other, each where it first fits: serial schedule generation, forwards and from the end.
//
// Backwards is forwards on the question turned round. What is placed backwards by late wishes and then forwards in the order of the starts found has been justified: the second
// pass never makes it longer.

import type { Decoder } from "./decoder.ts";
import { GRAIN } from "./decoder.ts";
import { packLanes } from "./lanes.ts";
import type { ArcsInto, Plain } from "./plain.ts";

const DIGIT = 8;
const DIGITS = 1 << DIGIT;

export class SerialDecoder implements Decoder {
  readonly size: number;
  readonly ticks: Int32Array;
  readonly work: Float64Array;
  readonly order: Int32Array;
  readonly farthest: number;
  readonly starts: Int32Array;
  makespan = 0;
  secondary = 0;
  schedules = 0;

  private readonly plain: Plain;
  private readonly words: number;
  private readonly guard: Int32Array;
  private readonly full: Int32Array;
  private readonly need: Int32Array;
  /** Time × word. */
  private readonly free: Int32Array;
  /** Whether an item uses anything scarce. */
  private readonly uses: Uint8Array;
  private readonly placed: Uint8Array;
  private readonly stack: Int32Array;
  private readonly keys: Int32Array;
  private sequence: Int32Array;
  private spare: Int32Array;
  private readonly counts = new Int32Array(DIGITS);
  /** Starts of the pass from the end, in time that runs from the end. */
  private readonly ends: Int32Array;

  constructor(plain: Plain) {
    const { size, ticks, need, capacity, lanes } = plain;
    this.plain = plain;
    this.size = size;
    this.ticks = ticks;
    const packing = packLanes(capacity, need);
    this.words = packing.words;
    this.guard = packing.guard;
    this.full = packing.full;
    this.need = packing.need;
    this.free = new Int32Array((plain.horizon + 1) * packing.words);
    this.uses = Uint8Array.from({ length: size }, (_, item) =>
      (ticks[item] ?? 0) > 0 &&
      packing.need.subarray(item * packing.words, (item + 1) * packing.words).some((one) => one !== 0)
        ? 1
        : 0,
    );
    this.work = Float64Array.from({ length: size }, (_, item) => {
      let share = 0;
      for (let lane = 0; lane < lanes; lane += 1)
        if ((capacity[lane] ?? 0) > 0) share += (need[item * lanes + lane] ?? 0) / (capacity[lane] ?? 1);
      return (ticks[item] ?? 0) * share;
    });
    this.starts = new Int32Array(size);
    this.ends = new Int32Array(size);
    this.placed = new Uint8Array(size);
    this.stack = new Int32Array(size);
    this.keys = new Int32Array(size);
    this.sequence = new Int32Array(size);
    this.spare = new Int32Array(size);
    this.farthest = 4 * plain.horizon * GRAIN;
    this.order = this.latestStarts();
    this.clear(plain.horizon + 1);
  }

  decode(wishes: Int32Array, late: boolean): boolean {
    const { size, ticks, keys, starts, ends, work, plain } = this;
    if (late) {
      let most = 0;
      for (let item = 0; item < size; item += 1) {
        const end = (wishes[item] as number) + (ticks[item] as number) * GRAIN;
        keys[item] = end;
        if (end > most) most = end;
      }
      for (let item = 0; item < size; item += 1) keys[item] = most - (keys[item] as number);
      this.sort();
      const length = this.place(plain.back, undefined, ends);
      for (let item = 0; item < size; item += 1) keys[item] = length - (ends[item] as number) - (ticks[item] as number);
    } else keys.set(wishes);
    this.sort();
    const makespan = this.place(plain.into, plain.earliest, starts);
    let secondary = 0;
    for (let item = 0; item < size; item += 1)
      secondary += ((starts[item] as number) + (ticks[item] as number)) * (work[item] as number);
    this.makespan = makespan;
    this.secondary = secondary;
    return makespan <= plain.limit;
  }

  /** Starts that leave the longest chain after each item its time, from the least makespan that the arcs allow. */
  private latestStarts(): Int32Array {
    const { sequence, back, ticks } = this.plain;
    const tails = new Int32Array(this.size);
    let longest = 0;
    for (let place = sequence.length - 1; place >= 0; place -= 1) {
      const item = sequence[place] ?? 0;
      let tail = 0;
      for (let arc = back.first[item] ?? 0; arc < (back.first[item + 1] ?? 0); arc += 1)
        tail = Math.max(tail, (tails[back.from[arc] ?? 0] ?? 0) + (back.lag[arc] ?? 0));
      tails[item] = tail;
      longest = Math.max(longest, tail + (ticks[item] ?? 0));
    }
    return tails.map((tail, item) => longest - tail - (ticks[item] ?? 0));
  }

  private clear(until: number): void {
    const { free, full, words } = this;
    if (words === 1) free.fill(full[0] as number, 0, until);
    else
      for (let word = 0; word < words; word += 1) {
        const value = full[word] as number;
        for (let at = word; at < until * words; at += words) free[at] = value;
      }
  }

  /** The items by rising keys into `sequence`, equal ones as they were: radix sort. */
  private sort(): void {
    const { keys, size, counts } = this;
    let { sequence, spare } = this;
    let most = 0;
    for (let item = 0; item < size; item += 1) {
      const key = keys[item] as number;
      if (key > most) most = key;
      sequence[item] = item;
    }
    for (let shift = 0; most >>> shift > 0; shift += DIGIT) {
      counts.fill(0);
      for (let item = 0; item < size; item += 1) {
        const digit = ((keys[item] as number) >>> shift) & (DIGITS - 1);
        counts[digit] = (counts[digit] as number) + 1;
      }
      let sum = 0;
      for (let digit = 0; digit < DIGITS; digit += 1) {
        const count = counts[digit] as number;
        counts[digit] = sum;
        sum += count;
      }
      for (let place = 0; place < size; place += 1) {
        const item = sequence[place] as number;
        const digit = ((keys[item] as number) >>> shift) & (DIGITS - 1);
        const to = counts[digit] as number;
        counts[digit] = to + 1;
        spare[to] = item;
      }
      const swap = sequence;
      sequence = spare;
      spare = swap;
    }
    this.sequence = sequence;
    this.spare = spare;
  }

  /** Places all items in the order of `sequence`, what an item waits for before it. Gives the makespan; leaves all lanes free again. */
  private place(into: ArcsInto, earliest: Int32Array | undefined, starts: Int32Array): number {
    const { size, ticks, placed, sequence, stack, uses, words } = this;
    const { first, from, lag } = into;
    placed.fill(0);
    let makespan = 0;
    let busy = 0;
    this.schedules += 1;
    for (let place = 0; place < size; place += 1) {
      let depth = 0;
      stack[0] = sequence[place] as number;
      while (depth >= 0) {
        const item = stack[depth] as number;
        if (placed[item] === 1) {
          depth -= 1;
          continue;
        }
        let start = earliest === undefined ? 0 : (earliest[item] as number);
        let missing = -1;
        const until = first[item + 1] as number;
        for (let arc = first[item] as number; arc < until; arc += 1) {
          const before = from[arc] as number;
          if (placed[before] === 0) {
            missing = before;
            break;
          }
          const least = (starts[before] as number) + (lag[arc] as number);
          if (least > start) start = least;
        }
        if (missing >= 0) {
          depth += 1;
          stack[depth] = missing;
          continue;
        }
        const span = ticks[item] as number;
        if (uses[item] === 1) {
          if (start < busy) start = words === 1 ? this.fit(item, start, span) : this.fitWords(item, start, span);
          if (words === 1) this.take(item, start, span);
          else this.takeWords(item, start, span);
          if (start + span > busy) busy = start + span;
        }
        starts[item] = start;
        if (start + span > makespan) makespan = start + span;
        placed[item] = 1;
        depth -= 1;
      }
    }
    this.clear(busy);
    return makespan;
  }

  /** The first start from `start` on where the item fits: the window is looked at from its end, so that a conflict moves it past. */
  private fit(item: number, start: number, span: number): number {
    const { free } = this;
    const need = this.need[item] as number;
    const guard = this.guard[0] as number;
    let begin = start;
    let known = begin - 1;
    let at = begin + span - 1;
    while (at > known) {
      if ((((free[at] as number) - need) & guard) === guard) at -= 1;
      else {
        known = begin + span - 1;
        begin = at + 1;
        at = begin + span - 1;
      }
    }
    return begin;
  }

  private take(item: number, start: number, span: number): void {
    const { free } = this;
    const need = this.need[item] as number;
    for (let at = start; at < start + span; at += 1) free[at] = (free[at] as number) - need;
  }

  private fitWords(item: number, start: number, span: number): number {
    const { free, need, guard, words } = this;
    const row = item * words;
    let begin = start;
    let known = begin - 1;
    let at = begin + span - 1;
    while (at > known) {
      let word = 0;
      while (word < words) {
        const bits = guard[word] as number;
        if ((((free[at * words + word] as number) - (need[row + word] as number)) & bits) !== bits) break;
        word += 1;
      }
      if (word === words) at -= 1;
      else {
        known = begin + span - 1;
        begin = at + 1;
        at = begin + span - 1;
      }
    }
    return begin;
  }

  private takeWords(item: number, start: number, span: number): void {
    const { free, need, words } = this;
    const row = item * words;
    for (let at = start; at < start + span; at += 1)
      for (let word = 0; word < words; word += 1)
        free[at * words + word] = (free[at * words + word] as number) - (need[row + word] as number);
  }
}
