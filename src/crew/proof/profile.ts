// Owns what is surely taken up at each tick, and what follows from it.
//
// A use surely covers the ticks from its latest begin to its earliest end. What is free there is kept by tick and changed by differences; the explanations speak of one tick
// (A. Schutt et al., "Explaining the cumulative propagator", Constraints 16, 2011: pointwise).

import { grouped } from "./edges.ts";
import type { Layout } from "./lanes.ts";
import type { Reasons } from "./reasons.ts";
import { TICK, type Trail } from "./trail.ts";

export class Profile {
  private readonly trail: Trail;
  private readonly layout: Layout;
  private readonly origin: number;
  private readonly span: number;
  /** Word × tick: what is free, with guards. */
  private readonly free: Int32Array;
  /** By use: the sure part that is in `free`; none: from = to. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  // Uses of an item.
  private readonly usesBegin: Int32Array;
  private readonly usesOf: Int32Array;
  // Lane → the uses that need it.
  private readonly laneBegin: Int32Array;
  private readonly laneUses: Int32Array;
  // Uses one of whose bounds moved.
  private readonly stale: Int32Array;
  private staleCount = 0;
  private readonly isStale: Uint8Array;
  private readonly touched: Uint8Array;
  /** Where `free` went down since all was looked at. */
  private dirtyFrom: number;
  private dirtyTo: number;
  // Uses that cover a tick, and how late they did.
  private readonly few: Int32Array;
  private readonly rank: Int32Array;

  constructor(trail: Trail, layout: Layout, items: number) {
    this.trail = trail;
    this.layout = layout;
    const { uses, first, last, head, tail } = layout;
    let origin = 0;
    let end = 0;
    for (let use = 0; use < uses; use += 1) {
      origin = Math.min(origin, trail.low[first[use]! * 2]! + head[use]!);
      end = Math.max(end, -trail.low[last[use]! * 2 + 1]! + tail[use]!);
    }
    this.origin = origin;
    this.span = end - origin + 1;
    this.free = new Int32Array(layout.words * this.span);
    for (let word = 0; word < layout.words; word += 1)
      this.free.fill(layout.full[word]!, word * this.span, (word + 1) * this.span);
    this.from = new Int32Array(uses);
    this.to = new Int32Array(uses);
    const keys: number[] = [];
    const users: number[] = [];
    const laneKeys: number[] = [];
    const laneUsers: number[] = [];
    for (let use = 0; use < uses; use += 1) {
      keys.push(first[use]!);
      users.push(use);
      if (last[use] !== first[use]) {
        keys.push(last[use]!);
        users.push(use);
      }
      for (let lane = 0; lane < layout.lanes; lane += 1) {
        if (layout.need[use * layout.lanes + lane]! === 0) continue;
        laneKeys.push(lane);
        laneUsers.push(use);
      }
    }
    const byItem = grouped(keys, items);
    this.usesBegin = byItem.begin;
    this.usesOf = byItem.places.map((place) => users[place]!);
    const byLane = grouped(laneKeys, layout.lanes);
    this.laneBegin = byLane.begin;
    this.laneUses = byLane.places.map((place) => laneUsers[place]!);
    this.stale = new Int32Array(uses);
    this.isStale = new Uint8Array(uses);
    this.touched = new Uint8Array(uses).fill(1);
    for (let use = 0; use < uses; use += 1) this.stale[use] = use;
    this.isStale.fill(1);
    this.staleCount = uses;
    this.few = new Int32Array(uses);
    this.rank = new Int32Array(uses);
    this.dirtyFrom = 2 ** 30;
    this.dirtyTo = -(2 ** 30);
  }

  /** False: a conflict. Otherwise what could be said of each use has been; call again when anything moved. */
  propagate(): boolean {
    this.gather();
    // After a conflict what got fuller counts as such still: it may be so again on a lower level.
    if (!this.refresh() || !this.sweep()) return false;
    this.dirtyFrom = 2 ** 30;
    this.dirtyTo = -(2 ** 30);
    return true;
  }

  private gather(): void {
    const { trail, usesBegin, usesOf, isStale, touched } = this;
    const { moved, isMoved } = trail;
    const items = usesBegin.length - 1;
    for (let place = 0; place < trail.movedCount; place += 1) {
      const item = moved[place]!;
      isMoved[item] = 0;
      if (item >= items) continue;
      for (let at = usesBegin[item]!; at < usesBegin[item + 1]!; at += 1) {
        const use = usesOf[at]!;
        touched[use] = 1;
        if (isStale[use] === 1) continue;
        isStale[use] = 1;
        this.stale[this.staleCount] = use;
        this.staleCount += 1;
      }
    }
    trail.movedCount = 0;
  }

  /** Brings `free` to what the bounds say: first what is given back, then what is taken. */
  private refresh(): boolean {
    const { stale, from, to, layout } = this;
    const { low } = this.trail;
    const { first, last, head, tail } = layout;
    let growing = 0;
    for (let place = 0; place < this.staleCount; place += 1) {
      const use = stale[place]!;
      const begin = -low[first[use]! * 2 + 1]! + head[use]!;
      const end = low[last[use]! * 2]! + tail[use]!;
      const [oldBegin, oldEnd] = [from[use]!, to[use]!];
      if (oldBegin < oldEnd) {
        const keepFrom = Math.max(oldBegin, begin);
        const keepTo = Math.min(oldEnd, end);
        if (keepFrom >= keepTo) {
          this.give(use, oldBegin, oldEnd);
          from[use] = 0;
          to[use] = 0;
        } else {
          if (oldBegin < keepFrom) this.give(use, oldBegin, keepFrom);
          if (keepTo < oldEnd) this.give(use, keepTo, oldEnd);
          from[use] = keepFrom;
          to[use] = keepTo;
        }
      }
      if (begin < end && (from[use] !== begin || to[use] !== end)) {
        stale[growing] = use;
        growing += 1;
      } else this.isStale[use] = 0;
    }
    this.staleCount = growing;
    while (this.staleCount > 0) {
      const use = stale[this.staleCount - 1]!;
      const begin = -low[first[use]! * 2 + 1]! + head[use]!;
      const end = low[last[use]! * 2]! + tail[use]!;
      const [oldBegin, oldEnd] = [from[use]!, to[use]!];
      from[use] = begin;
      to[use] = end;
      const sure = oldBegin < oldEnd;
      const before = this.take(use, begin, sure ? oldBegin : end);
      const after = !sure || this.take(use, oldEnd, end);
      if (!before || !after) {
        // What is too much does not stay: it might be so again on a lower level, and must be seen as new there.
        this.give(use, begin, sure ? oldBegin : end);
        if (sure) this.give(use, oldEnd, end);
        from[use] = oldBegin;
        to[use] = oldEnd;
        return false;
      }
      this.staleCount -= 1;
      this.isStale[use] = 0;
    }
    return true;
  }

  private give(use: number, begin: number, end: number): void {
    const { free, layout, span, origin } = this;
    for (let word = 0; word < layout.words; word += 1) {
      const need = layout.packed[word * layout.uses + use]!;
      if (need === 0) continue;
      const stop = word * span + end - origin;
      for (let at = word * span + begin - origin; at < stop; at += 1) free[at]! += need;
    }
  }

  private take(use: number, begin: number, end: number): boolean {
    if (begin >= end) return true;
    const { free, layout, span, origin } = this;
    let full = -1;
    let fullWord = 0;
    for (let word = 0; word < layout.words; word += 1) {
      const need = layout.packed[word * layout.uses + use]!;
      if (need === 0) continue;
      const guards = layout.guards[word]!;
      const stop = word * span + end - origin;
      for (let at = word * span + begin - origin; at < stop; at += 1) {
        const left = free[at]! - need;
        free[at] = left;
        if ((left & guards) !== guards && full < 0) {
          full = at;
          fullWord = word;
        }
      }
    }
    if (begin < this.dirtyFrom) this.dirtyFrom = begin;
    if (end > this.dirtyTo) this.dirtyTo = end;
    if (full < 0) return true;
    const lane = this.lacking(fullWord, free[full]!);
    this.trail.clash(-1, TICK, full - fullWord * span + origin, lane - layout.lanes);
    return false;
  }

  /** Looks at each use that moved or that meets what got fuller. */
  private sweep(): boolean {
    const { touched, layout, dirtyFrom, dirtyTo } = this;
    const { low } = this.trail;
    const { first, last, head, tail, uses } = layout;
    for (let use = 0; use < uses; use += 1) {
      const early = low[first[use]! * 2]! + head[use]!;
      const late = -low[last[use]! * 2 + 1]! + tail[use]!;
      if (touched[use] === 0 && (early >= dirtyTo || late <= dirtyFrom)) continue;
      touched[use] = 0;
      const sureFrom = -low[first[use]! * 2 + 1]! + head[use]!;
      const sureTo = low[last[use]! * 2]! + tail[use]!;
      if (early < sureFrom && !this.later(use)) return false;
      if (sureTo < late && !this.earlier(use)) return false;
    }
    return true;
  }

  /** Pushes the begin of a use behind the last tick before its sure part that has no room for it. */
  private later(use: number): boolean {
    const { trail, layout, free, span, origin } = this;
    const { low } = trail;
    const [side, endSide] = [layout.first[use]! * 2, layout.last[use]! * 2];
    const [head, tail] = [layout.head[use]!, layout.tail[use]!];
    for (let word = 0; word < layout.words; word += 1) {
      const need = layout.packed[word * layout.uses + use]!;
      if (need === 0) continue;
      const guards = layout.guards[word]!;
      const shift = word * span - origin;
      for (;;) {
        const begin = low[side]! + head + shift;
        let at = Math.min(low[endSide]! + tail, -low[side ^ 1]! + head) + shift - 1;
        while (at >= begin && ((free[at]! - need) & guards) === guards) at -= 1;
        if (at < begin) break;
        const tick = at - shift;
        const more = use * layout.lanes + this.lacking(word, free[at]! - need);
        if (!trail.raise(side, tick + 1 - head, TICK, tick, more)) return false;
        if (side !== endSide) break;
      }
    }
    return true;
  }

  /** The same from behind. */
  private earlier(use: number): boolean {
    const { trail, layout, free, span, origin } = this;
    const { low } = trail;
    const [side, beginSide] = [layout.last[use]! * 2 + 1, layout.first[use]! * 2 + 1];
    const [head, tail] = [layout.head[use]!, layout.tail[use]!];
    for (let word = 0; word < layout.words; word += 1) {
      const need = layout.packed[word * layout.uses + use]!;
      if (need === 0) continue;
      const guards = layout.guards[word]!;
      const shift = word * span - origin;
      for (;;) {
        const end = -low[side]! + tail + shift;
        let at = Math.max(-low[beginSide]! + head, low[side ^ 1]! + tail) + shift;
        while (at < end && ((free[at]! - need) & guards) === guards) at += 1;
        if (at >= end) break;
        const tick = at - shift;
        const more = use * layout.lanes + this.lacking(word, free[at]! - need);
        if (!trail.raise(side, tail - tick, TICK, tick, more)) return false;
        if (side !== beginSide) break;
      }
    }
    return true;
  }

  /** A lane whose guard is gone. */
  private lacking(word: number, left: number): number {
    const gone = ~left & this.layout.guards[word]!;
    return this.layout.laneAt[word * 32 + 31 - Math.clz32(gone & -gone)]!;
  }

  /**
   * Puts on the list why a tick had no room, before `entry`, for the use that was pushed over it (or for what covered it): the uses that fill one lane there.
   * `more` is use × lane, or lane - lanes. Where more is taken than it needs, what is already needed stays and what came last goes.
   */
  explain(reasons: Reasons, side: number, tick: number, more: number, entry: number): void {
    const { trail, layout, few, rank } = this;
    const { low, root } = trail;
    const { first, last, head, tail, need, lanes } = layout;
    const use = more < 0 ? -1 : Math.floor(more / lanes);
    const lane = more < 0 ? more + lanes : more - use * lanes;
    let over = (use < 0 ? 0 : need[more]!) - layout.capacity[lane]! - 1;
    let count = 0;
    for (let at = this.laneBegin[lane]!; at < this.laneBegin[lane + 1]!; at += 1) {
      const other = this.laneUses[at]!;
      const beginSide = first[other]! * 2 + 1;
      const endSide = last[other]! * 2;
      const begin = head[other]! - tick;
      const end = tick + 1 - tail[other]!;
      if (other === use || low[beginSide]! < begin || low[endSide]! < end) continue;
      const began = begin <= root[beginSide]! ? -1 : trail.entryOf(beginSide, begin);
      const ended = end <= root[endSide]! ? -1 : trail.entryOf(endSide, end);
      if (began >= entry || ended >= entry) continue;
      over += need[other * lanes + lane]!;
      // What is so without any decision costs nothing and stays; so does what is needed anyhow.
      if (began < 0 && ended < 0) continue;
      let cost = -1;
      if (began >= 0 && reasons.need[began]! < begin) cost = began;
      if (ended > cost && reasons.need[ended]! < end) cost = ended;
      let place = count;
      while (place > 0 && rank[place - 1]! < cost) {
        rank[place] = rank[place - 1]!;
        few[place] = few[place - 1]!;
        place -= 1;
      }
      rank[place] = cost;
      few[place] = other;
      count += 1;
    }
    for (let at = 0; at < count; at += 1) {
      const other = few[at]!;
      const share = need[other * lanes + lane]!;
      if (share <= over) {
        over -= share;
        continue;
      }
      if (root[first[other]! * 2 + 1]! < head[other]! - tick) reasons.put(first[other]! * 2 + 1, head[other]! - tick);
      if (root[last[other]! * 2]! < tick + 1 - tail[other]!) reasons.put(last[other]! * 2, tick + 1 - tail[other]!);
    }
    if (use < 0) return;
    // The use itself would cover the tick if it were any earlier (later).
    if ((side & 1) === 0) reasons.put(last[use]! * 2, tick + 1 - tail[use]!);
    else reasons.put(first[use]! * 2 + 1, head[use]! - tick);
  }
}
