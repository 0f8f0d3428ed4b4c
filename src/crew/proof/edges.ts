// Owns the arcs between variables, those that always hold and those that hold when an order says so.
//
// An edge says: side `to` ≥ side `from` + lag. Each arc is two of them, one for each direction of time. A guard is the even side of an order (holds when it is 1) or the odd one (when it is 0).

import { EDGE, ORDER, type Trail } from "./trail.ts";

export class EdgeDraft {
  readonly from: number[] = [];
  readonly to: number[] = [];
  readonly lag: number[] = [];
  readonly guard: number[] = [];

  /** The arc variable `to` ≥ variable `from` + lag; guard -1: always. */
  add(from: number, to: number, lag: number, guard: number): void {
    this.from.push(from * 2, to * 2 + 1);
    this.to.push(to * 2, from * 2 + 1);
    this.lag.push(lag, lag);
    this.guard.push(guard, guard);
  }
}

/** Places of keys 0 to count - 1 in a list, grouped: those of key k are at places[begin[k]] to places[begin[k + 1]]. */
export const grouped = (keys: ArrayLike<number>, count: number): { begin: Int32Array; places: Int32Array } => {
  const begin = new Int32Array(count + 1);
  let total = 0;
  for (let place = 0; place < keys.length; place += 1) if (keys[place]! >= 0) begin[keys[place]! + 1]! += 1;
  for (let key = 0; key < count; key += 1) begin[key + 1]! += begin[key]!;
  total = begin[count]!;
  const next = begin.slice();
  const places = new Int32Array(total);
  for (let place = 0; place < keys.length; place += 1) {
    const key = keys[place]!;
    if (key < 0) continue;
    places[next[key]!] = place;
    next[key]! += 1;
  }
  return { begin, places };
};

export class Edges {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly lag: Int32Array;
  readonly guard: Int32Array;
  /** Edges are sorted by `from`; those of a guard are listed. */
  private readonly begin: Int32Array;
  private readonly guardBegin: Int32Array;
  private readonly guarded: Int32Array;
  private readonly trail: Trail;

  constructor(draft: EdgeDraft, sides: number, trail: Trail) {
    const { begin, places } = grouped(draft.from, sides);
    const sorted = (list: readonly number[]): Int32Array => Int32Array.from(places, (place) => list[place]!);
    this.from = sorted(draft.from);
    this.to = sorted(draft.to);
    this.lag = sorted(draft.lag);
    this.guard = sorted(draft.guard);
    this.begin = begin;
    const byGuard = grouped(this.guard, sides);
    this.guardBegin = byGuard.begin;
    this.guarded = byGuard.places;
    this.trail = trail;
  }

  /** What follows from the bound of a side having risen; false: a conflict. */
  propagate(side: number): boolean {
    const { trail, to, lag, guard } = this;
    const { low } = trail;
    const reach = low[side]!;
    const end = this.begin[side + 1]!;
    for (let edge = this.begin[side]!; edge < end; edge += 1) {
      const target = to[edge]!;
      const value = reach + lag[edge]!;
      if (value <= low[target]!) continue;
      const order = guard[edge]!;
      if (order < 0 || low[order]! >= 1 - (order & 1)) {
        if (!trail.raise(target, value, EDGE, edge, 0)) return false;
      } else if (value > -low[target ^ 1]! && low[order ^ 1]! < (order & 1)) {
        if (!trail.raise(order ^ 1, order & 1, ORDER, edge, reach)) return false;
      }
    }
    const guardedEnd = this.guardBegin[side + 1]!;
    for (let place = this.guardBegin[side]!; place < guardedEnd; place += 1) {
      // The other bound of an order that is settled anyhow says nothing about this side.
      if (low[side]! < 1 - (side & 1)) break;
      const edge = this.guarded[place]!;
      const value = low[this.from[edge]!]! + lag[edge]!;
      if (value > low[to[edge]!]! && !trail.raise(to[edge]!, value, EDGE, edge, 0)) return false;
    }
    return true;
  }
}
