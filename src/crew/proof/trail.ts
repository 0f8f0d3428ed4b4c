// Owns the bounds of all variables and the trail of how each came about.
//
// A variable has two sides, its number and the negative of it (side ^ 1 is the other), each with one lower bound. A literal says "side ≥ value"; its negation is "other side ≥ 1 - value".
// Orders are variables with 0 and 1. Nothing else is a literal, so all that propagates is written once, for the lower bound of a side.

/** Why a bound was raised. What `data` and `more` of an entry mean depends on it. */
export const DECISION = 0;
/** data: the edge, more: nothing. */
export const EDGE = 1;
/** An edge cannot hold, so its order is the other way. data: the edge, more: the bound of its first side then. */
export const ORDER = 2;
/** data: place of the clause. */
export const CLAUSE = 3;
/** A tick has no room. data: the tick, more: use × lane (lane alone, negative: an overload). */
export const TICK = 4;
/** data: the value that the side itself had to have. */
export const SPELL = 5;
/** Only of a conflict: a lane has more to do in a spell than it holds. data: which. */
export const ENERGY = 6;

export class Trail {
  /** Lower bound of each side now, and without any decision. */
  readonly low: Int32Array;
  readonly root: Int32Array;
  /** Last entry of each side, -1: none. */
  readonly last: Int32Array;
  length = 0;
  level = 0;
  // Entries.
  readonly side: Int32Array;
  readonly value: Int32Array;
  readonly old: Int32Array;
  readonly previous: Int32Array;
  readonly kind: Int32Array;
  readonly data: Int32Array;
  readonly more: Int32Array;
  readonly depth: Int32Array;
  /** By level: the length of the trail when it began. */
  private readonly begins: Int32Array;
  /** Variables whose bounds moved either way since somebody last looked, each once. */
  readonly moved: Int32Array;
  movedCount = 0;
  readonly isMoved: Uint8Array;
  /** A conflict: the reason for which a side (-1: something that cannot be) would have to be more than its other side allows. */
  clashSide = 0;
  clashKind = 0;
  clashData = 0;
  clashMore = 0;

  constructor(low: Int32Array, high: Int32Array) {
    const variables = low.length;
    this.low = new Int32Array(variables * 2);
    let entries = 16;
    for (let variable = 0; variable < variables; variable += 1) {
      this.low[variable * 2] = low[variable]!;
      this.low[variable * 2 + 1] = -high[variable]!;
      entries += high[variable]! - low[variable]! + 1;
    }
    this.root = this.low.slice();
    this.last = new Int32Array(variables * 2).fill(-1);
    // Each entry takes a value from a window, so there are never more of them than values.
    this.side = new Int32Array(entries);
    this.value = new Int32Array(entries);
    this.old = new Int32Array(entries);
    this.previous = new Int32Array(entries);
    this.kind = new Int32Array(entries);
    this.data = new Int32Array(entries);
    this.more = new Int32Array(entries);
    this.depth = new Int32Array(entries);
    this.begins = new Int32Array(entries + 1);
    this.moved = new Int32Array(variables);
    this.isMoved = new Uint8Array(variables);
  }

  /** Raises the bound of a side, which must be lower; false when that leaves the variable nothing. */
  raise(side: number, value: number, kind: number, data: number, more: number): boolean {
    const { low } = this;
    if (value > -low[side ^ 1]!) {
      this.clash(side, kind, data, more);
      return false;
    }
    const entry = this.length;
    this.length = entry + 1;
    this.side[entry] = side;
    this.value[entry] = value;
    this.old[entry] = low[side]!;
    this.previous[entry] = this.last[side]!;
    this.kind[entry] = kind;
    this.data[entry] = data;
    this.more[entry] = more;
    this.depth[entry] = this.level;
    low[side] = value;
    this.last[side] = entry;
    const variable = side >> 1;
    if (this.isMoved[variable] === 0) {
      this.isMoved[variable] = 1;
      this.moved[this.movedCount] = variable;
      this.movedCount += 1;
    }
    return true;
  }

  clash(side: number, kind: number, data: number, more: number): void {
    this.clashSide = side;
    this.clashKind = kind;
    this.clashData = data;
    this.clashMore = more;
  }

  /** Opens a level with a literal that is neither true nor false. */
  decide(side: number, value: number): void {
    this.level += 1;
    this.begins[this.level] = this.length;
    this.raise(side, value, DECISION, 0, 0);
  }

  /** Takes back all levels above this one. */
  back(level: number): void {
    if (this.level <= level) return;
    const { low, last, side, old, previous, isMoved } = this;
    const begin = this.begins[level + 1]!;
    for (let entry = this.length - 1; entry >= begin; entry -= 1) {
      const one = side[entry]!;
      low[one] = old[entry]!;
      last[one] = previous[entry]!;
      const variable = one >> 1;
      if (isMoved[variable] === 0) {
        isMoved[variable] = 1;
        this.moved[this.movedCount] = variable;
        this.movedCount += 1;
      }
    }
    this.length = begin;
    this.level = level;
  }

  /** At level 0: what is true now is true for good and needs no reason. */
  settle(): void {
    for (let entry = 0; entry < this.length; entry += 1) this.last[this.side[entry]!] = -1;
    this.root.set(this.low);
    this.length = 0;
  }

  /** The entry that made a true literal true, -1 when it is true without any decision. */
  entryOf(side: number, value: number): number {
    if (value <= this.root[side]!) return -1;
    const { old, previous } = this;
    let entry = this.last[side]!;
    while (old[entry]! >= value) entry = previous[entry]!;
    return entry;
  }
}
