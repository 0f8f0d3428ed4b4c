// Owns the learnt clauses: where they lie, who watches them, which are thrown away.
//
// A clause is [size, width, age, side, value, side, value, …]; its first two literals are watched. `width` is the number of levels its literals came from when it was learnt
// (G. Audemard, L. Simon, "Predicting Learnt Clauses Quality in Modern SAT Solvers", IJCAI 2009). The literals of a side are numbered along its window at the root.

import { CLAUSE, type Trail } from "./trail.ts";

const HEAD = 3;
/** A watch: the clause, and another literal of it which, while true, makes looking at the clause needless. */
const WATCH = 3;
/** Clauses of this width or less are kept for good. */
const NARROW = 3;

export class Clauses {
  store: Int32Array = new Int32Array(1 << 16);
  private used = 0;
  count = 0;
  private limit: number;
  private readonly trail: Trail;
  /** Number of literal "side ≥ value" = base[side] + value. */
  readonly base: Int32Array;
  readonly literals: number;
  // By literal: the watches of clauses that hold its negation among the watched two.
  private readonly watchAt: Int32Array;
  private readonly watchSize: Int32Array;
  private readonly watchRoom: Int32Array;
  private pool: Int32Array = new Int32Array(1 << 16);
  private poolUsed = 0;
  private readonly order: number[] = [];

  constructor(trail: Trail, limit: number) {
    this.trail = trail;
    this.limit = limit;
    const sides = trail.low.length;
    this.base = new Int32Array(sides);
    let total = 0;
    for (let side = 0; side < sides; side += 1) {
      const low = trail.low[side]!;
      this.base[side] = total - low - 1;
      total += -trail.low[side ^ 1]! - low;
    }
    this.literals = total;
    this.watchAt = new Int32Array(total);
    this.watchSize = new Int32Array(total);
    this.watchRoom = new Int32Array(total);
  }

  get full(): boolean {
    return this.count > this.limit;
  }

  /** Adds a clause of the literals [side, value, …], two or more; the first two are watched. Returns its place. */
  add(literals: Int32Array, size: number, width: number, age: number): number {
    const place = this.used;
    const end = place + HEAD + size * 2;
    if (end > this.store.length) {
      const wider = new Int32Array(Math.max(this.store.length * 2, end));
      wider.set(this.store);
      this.store = wider;
    }
    const { store } = this;
    store[place] = size;
    store[place + 1] = width;
    store[place + 2] = age;
    for (let part = 0; part < size * 2; part += 1) store[place + HEAD + part] = literals[part]!;
    this.used = end;
    this.count += 1;
    this.watchBoth(place);
    return place;
  }

  private watchBoth(place: number): void {
    const { store } = this;
    const first = place + HEAD;
    this.watch(store[first]!, store[first + 1]!, place, store[first + 2]!, store[first + 3]!);
    this.watch(store[first + 2]!, store[first + 3]!, place, store[first]!, store[first + 1]!);
  }

  private watch(side: number, value: number, place: number, otherSide: number, otherValue: number): void {
    const literal = this.base[side ^ 1]! + 1 - value;
    const size = this.watchSize[literal]!;
    if (size === this.watchRoom[literal]!) this.widen(literal, size);
    const at = this.watchAt[literal]! + size * WATCH;
    this.pool[at] = place;
    this.pool[at + 1] = otherSide;
    this.pool[at + 2] = otherValue;
    this.watchSize[literal] = size + 1;
  }

  private widen(literal: number, size: number): void {
    const room = size === 0 ? 2 : size * 2;
    const at = this.poolUsed;
    this.poolUsed = at + room * WATCH;
    if (this.poolUsed > this.pool.length) {
      const wider = new Int32Array(Math.max(this.pool.length * 2, this.poolUsed));
      wider.set(this.pool);
      this.pool = wider;
    }
    const old = this.watchAt[literal]!;
    this.pool.copyWithin(at, old, old + size * WATCH);
    this.watchAt[literal] = at;
    this.watchRoom[literal] = room;
  }

  /** What follows from a side having risen from `old` to `value`; false: a conflict. */
  propagate(side: number, old: number, value: number): boolean {
    const { base, watchSize } = this;
    const end = base[side]! + value;
    for (let literal = base[side]! + old + 1; literal <= end; literal += 1)
      if (watchSize[literal]! > 0 && !this.visit(side, literal)) return false;
    return true;
  }

  private visit(side: number, literal: number): boolean {
    const { trail, store, watchSize } = this;
    const { low } = trail;
    const falseSide = side ^ 1;
    const falseValue = 1 - (literal - this.base[side]!);
    const begin = this.watchAt[literal]!;
    let { pool } = this;
    const size = watchSize[literal]!;
    const end = begin + size * WATCH;
    let kept = begin;
    let at = begin;
    let fine = true;
    for (; at < end; at += WATCH) {
      const place = pool[at]!;
      if (low[pool[at + 1]!]! >= pool[at + 2]!) {
        pool[kept] = place;
        pool[kept + 1] = pool[at + 1]!;
        pool[kept + 2] = pool[at + 2]!;
        kept += WATCH;
        continue;
      }
      const first = place + HEAD;
      if (store[first] === falseSide && store[first + 1] === falseValue) {
        store[first] = store[first + 2]!;
        store[first + 1] = store[first + 3]!;
        store[first + 2] = falseSide;
        store[first + 3] = falseValue;
      }
      const headSide = store[first]!;
      const headValue = store[first + 1]!;
      if (low[headSide]! < headValue) {
        const last = first + store[place]! * 2;
        let found = first + 4;
        while (found < last && low[store[found]! ^ 1]! >= 1 - store[found + 1]!) found += 2;
        if (found < last) {
          const newSide = store[found]!;
          const newValue = store[found + 1]!;
          store[found] = falseSide;
          store[found + 1] = falseValue;
          store[first + 2] = newSide;
          store[first + 3] = newValue;
          this.watch(newSide, newValue, place, headSide, headValue);
          pool = this.pool;
          continue;
        }
        fine = trail.raise(headSide, headValue, CLAUSE, place, 0);
      }
      pool[kept] = place;
      pool[kept + 1] = headSide;
      pool[kept + 2] = headValue;
      kept += WATCH;
      if (!fine) {
        at += WATCH;
        break;
      }
    }
    if (kept !== at) pool.copyWithin(kept, at, end);
    watchSize[literal] = size - (at - kept) / WATCH;
    return fine;
  }

  /**
   * At level 0, all propagated: throws away the worse half and what holds for good, strips literals that are false for good, closes the gaps.
   */
  reduce(): void {
    const { store, order, trail } = this;
    const { low } = trail;
    order.length = 0;
    for (let place = 0; place < this.used; place += HEAD + store[place]! * 2)
      if (store[place + 1]! > NARROW) order.push(place);
    order.sort((a, b) => store[a + 1]! - store[b + 1]! || store[b + 2]! - store[a + 2]! || a - b);
    // A width of -1 marks what goes.
    for (let rank = order.length >> 1; rank < order.length; rank += 1) store[order[rank]! + 1] = -1;
    let used = 0;
    let next = 0;
    this.count = 0;
    for (let place = 0; place < this.used; place = next) {
      const size = store[place]!;
      next = place + HEAD + size * 2;
      if (store[place + 1]! < 0) continue;
      let holds = false;
      let to = used + HEAD;
      const [width, age] = [store[place + 1]!, store[place + 2]!];
      for (let at = place + HEAD; at < next; at += 2) {
        const side = store[at]!;
        const value = store[at + 1]!;
        if (low[side]! >= value) holds = true;
        if (low[side ^ 1]! >= 1 - value) continue;
        store[to] = side;
        store[to + 1] = value;
        to += 2;
      }
      if (holds) continue;
      store[used] = (to - used - HEAD) >> 1;
      store[used + 1] = width;
      store[used + 2] = age;
      used = to;
      this.count += 1;
    }
    this.used = used;
    this.limit = Math.max(this.limit + 1, Math.floor(this.limit * 1.1));
    this.watchSize.fill(0);
    this.watchRoom.fill(0);
    this.poolUsed = 0;
    for (let place = 0; place < used; place += HEAD + store[place]! * 2) this.watchBoth(place);
  }
}
