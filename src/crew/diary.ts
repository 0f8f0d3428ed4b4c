// Owns one person's day while a schedule is built: what the person does one after the other, where that leaves them standing, and when they could do another work.

import { isAlways, type ShopPerson } from "./shop.ts";

export interface Entry {
  readonly start: number;
  readonly free: number;
  /** -1: wherever the person stands. */
  readonly position: number;
}

/** What is asked of a person's time. */
export interface Ask {
  readonly ticks: number;
  readonly position: number;
  readonly pauses: boolean;
}

/** When `ticks` of work begun at `start` are done, counting only what lies in every one of the lists of spells; Infinity where they never are. */
export const workedOff = (spells: readonly (readonly number[])[], start: number, ticks: number): number => {
  if (ticks === 0) return start;
  let left = ticks;
  let time = start;
  for (;;) {
    let from = time;
    let until = Number.POSITIVE_INFINITY;
    for (const list of spells) {
      let place = 0;
      while (place < list.length && (list[place + 1] ?? 0) <= time) place += 2;
      if (place >= list.length) return Number.POSITIVE_INFINITY;
      from = Math.max(from, list[place] ?? 0);
      until = Math.min(until, list[place + 1] ?? 0);
    }
    if (from <= time) {
      if (time + left <= until) return time + left;
      left -= until - time;
      time = until;
    } else time = from;
  }
};

export class Diary {
  readonly entries: Entry[] = [];
  /** By entry where it leaves the person; -1: not known. */
  private readonly stands: number[] = [];
  /** Of the slot found last: by when the person has to be free. */
  limit: number = Number.POSITIVE_INFINITY;
  private readonly person: ShopPerson;
  private readonly always: boolean;
  private readonly own: readonly (readonly number[])[];
  private readonly moves: readonly (readonly number[])[];
  private readonly now: number;

  constructor(person: ShopPerson, moves: readonly (readonly number[])[], now: number) {
    this.person = person;
    this.own = [person.spells];
    this.always = isAlways(person);
    this.moves = moves;
    this.now = now;
  }

  clear(): void {
    this.entries.length = 0;
    this.stands.length = 0;
  }

  add(entry: Entry): void {
    let place = this.entries.length;
    while (place > 0 && (this.entries[place - 1]?.start ?? 0) > entry.start) place -= 1;
    // What has no length goes before what begins at the same tick.
    if (entry.free === entry.start)
      while (
        place > 0 &&
        this.entries[place - 1]?.start === entry.start &&
        (this.entries[place - 1]?.free ?? 0) > entry.start
      )
        place -= 1;
    this.entries.splice(place, 0, entry);
    this.stands.push(-1);
    for (let at = place, stands = this.standsAfter(place); at < this.entries.length; at += 1) {
      const position = this.entries[at]?.position ?? -1;
      if (position >= 0) stands = position;
      this.stands[at] = stands;
    }
    // What has no length can lie within another that had begun: the person is free when that is done.
    for (let at = Math.max(1, place); at < this.entries.length; at += 1) {
      const own = this.entries[at];
      const free = this.entries[at - 1]?.free ?? 0;
      if (own === undefined || free <= own.free) break;
      this.entries[at] = { ...own, free };
    }
  }

  way(from: number, to: number): number {
    return from < 0 || to < 0 ? 0 : (this.moves[from]?.[to] ?? 0);
  }

  /** Where the person stands after the first `place` entries; -1: not known, any way there costs nothing. */
  private standsAfter(place: number): number {
    return place > 0 ? (this.stands[place - 1] ?? -1) : this.person.at;
  }

  /** When the person is free after all that there is so far. */
  get free(): number {
    const { entries } = this;
    return entries.length > 0 ? (entries[entries.length - 1]?.free ?? this.now) : this.now;
  }

  /** How far the person has to come for a work at `position` after all that there is so far. */
  wayOn(position: number): number {
    return this.way(this.standsAfter(this.entries.length), position);
  }

  /** By when the person must be free again when a work at `position` is put before entry `place`. */
  private limitBefore(place: number, position: number): number {
    const { entries } = this;
    const next = entries[place];
    if (next === undefined) return Number.POSITIVE_INFINITY;
    const stands = position >= 0 ? position : this.standsAfter(place);
    if (next.position >= 0) return next.start - this.way(stands, next.position);
    if (position >= 0) {
      for (let at = place + 1; at < entries.length; at += 1) {
        const later = entries[at];
        if (later === undefined || later.position < 0) continue;
        if (later.start < (entries[at - 1]?.free ?? 0) + this.way(position, later.position))
          return Number.NEGATIVE_INFINITY;
        break;
      }
    }
    return next.start;
  }

  /** How far the person has to come for a work at `position` that starts at `start`. */
  wayTo(start: number, position: number): number {
    let place = this.entries.length;
    while (place > 0 && (this.entries[place - 1]?.start ?? 0) >= start) place -= 1;
    return this.way(this.standsAfter(place), position);
  }

  /** The first tick from `from` on when the person is there, for `ticks` in one go where the work does not pause. */
  private present(from: number, { ticks, pauses }: Ask): number {
    if (this.always) return from;
    const { spells } = this.person;
    for (let place = 0; place < spells.length; place += 2) {
      const until = spells[place + 1] ?? 0;
      const start = Math.max(from, spells[place] ?? 0);
      if (pauses ? start < until : start + ticks <= until) return start;
    }
    return Number.POSITIVE_INFINITY;
  }

  /** The earliest time from `from` on at which the person alone could begin, free `length` ticks later at least; Infinity: never. Sets `limit`. */
  slot(ask: Ask, from: number, length: number): number {
    const { entries } = this;
    let first = entries.length;
    while (first > 0 && (entries[first - 1]?.start ?? 0) >= from) first -= 1;
    for (let place = first; place <= entries.length; place += 1) {
      const before = entries[place - 1];
      const ready = (before === undefined ? this.now : before.free) + this.way(this.standsAfter(place), ask.position);
      const start = this.present(Math.max(from, ready), ask);
      if (start === Number.POSITIVE_INFINITY) break;
      const limit = this.limitBefore(place, ask.position);
      const free = ask.pauses ? Math.max(start + length, workedOff(this.own, start, ask.ticks)) : start + length;
      if (free > limit || free === Number.POSITIVE_INFINITY) continue;
      this.limit = limit;
      return start;
    }
    this.limit = Number.NEGATIVE_INFINITY;
    return Number.POSITIVE_INFINITY;
  }
}
