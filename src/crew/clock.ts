// Owns the clock that only runs while somebody is there: the spells when nobody is are cut out of it.

import type { Shop } from "./shop.ts";

/** The clock without the spells when nobody is there. */
export class WorkClock {
  /** Spells cut out: from, until, …; rising. */
  readonly cuts: readonly number[];
  private readonly origin: number;

  constructor(shop: Shop) {
    this.origin = shop.now;
    this.cuts = shop.people.length === 0 ? [] : absentOf(shop);
  }

  /** Working ticks from `now` to `tick`. */
  at(tick: number): number {
    let gone = 0;
    for (let place = 0; place < this.cuts.length; place += 2) {
      const from = this.cuts[place] ?? 0;
      if (from >= tick) break;
      gone += Math.min(tick, this.cuts[place + 1] ?? 0) - from;
    }
    return tick - this.origin - gone;
  }

  /** The earliest tick at which so many working ticks have passed. */
  when(working: number): number {
    let tick = working + this.origin;
    for (let place = 0; place < this.cuts.length; place += 2) {
      const from = this.cuts[place] ?? 0;
      if (from >= tick) break;
      tick += (this.cuts[place + 1] ?? 0) - from;
    }
    return tick;
  }

  /** The most that a span of this many ticks can lose to cuts, wherever it lies. */
  most(length: number): number {
    let most = 0;
    for (let place = 0; place < this.cuts.length; place += 2) {
      // A span loses most when it begins at the beginning of a cut or ends at the end of one.
      for (const from of [this.cuts[place] ?? 0, (this.cuts[place + 1] ?? 0) - length]) {
        let lost = 0;
        for (let other = 0; other < this.cuts.length; other += 2)
          lost += Math.max(
            0,
            Math.min(from + length, this.cuts[other + 1] ?? 0) - Math.max(from, this.cuts[other] ?? 0),
          );
        most = Math.max(most, lost);
      }
    }
    return most;
  }
}

/** Spells from `now` on in which nobody is there; a last one without end is left out: then there is nobody any more. */
const absentOf = ({ people, now }: Shop): readonly number[] => {
  const spells = people
    .flatMap((person) => {
      const list: (readonly [number, number])[] = [];
      for (let place = 0; place < person.spells.length; place += 2)
        list.push([person.spells[place] ?? 0, person.spells[place + 1] ?? 0]);
      return list;
    })
    .sort((a, b) => a[0] - b[0]);
  const cuts: number[] = [];
  let reached = now;
  for (const [from, until] of spells) {
    if (from > reached) cuts.push(reached, from);
    reached = Math.max(reached, until);
  }
  return cuts;
};
