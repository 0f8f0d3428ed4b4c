// Owns the starts that an item may not have: a bound inside such a spell moves to its edge.

import type { Model } from "../model.ts";
import { SPELL, type Trail } from "./trail.ts";

export class Spells {
  private readonly trail: Trail;
  private readonly begin: Int32Array;
  private readonly from: Int32Array;
  private readonly until: Int32Array;
  private readonly items: number;

  constructor(trail: Trail, model: Model) {
    this.trail = trail;
    this.items = model.size;
    this.begin = model.bar;
    this.from = model.barFrom;
    this.until = model.barUntil;
  }

  /** What follows from the bound of a side having risen; false: a conflict. */
  propagate(side: number): boolean {
    const item = side >> 1;
    if (item >= this.items || this.begin[item] === this.begin[item + 1]) return true;
    const { trail, from, until } = this;
    const early = (side & 1) === 0;
    const start = early ? trail.low[side]! : -trail.low[side]!;
    // The last spell that begins no later than this start.
    let below = this.begin[item]! - 1;
    let above = this.begin[item + 1]!;
    while (above - below > 1) {
      const middle = (below + above) >> 1;
      if (from[middle]! <= start) below = middle;
      else above = middle;
    }
    if (below < this.begin[item]! || until[below]! <= start) return true;
    return early
      ? trail.raise(side, until[below]!, SPELL, from[below]!, 0)
      : trail.raise(side, 1 - from[below]!, SPELL, 1 - until[below]!, 0);
  }
}
