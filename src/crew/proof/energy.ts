// Owns the check of work against room: in no spell may the uses of a lane have to do more than it holds.
//
// Time-table edge finding's consistency check (P. Vilím, "Timetable edge finding filtering algorithm for discrete cumulative resources", CPAIOR 2011; explained as in A. Schutt, T. Feydy,
// P. Stuckey, CPAIOR 2013): spells from the earliest begin of a use to the latest end of another. A use counts with what it must do there wherever it lies. It costs the square of the uses,
// so how often it is asked follows from how often it answered.

import type { Layout } from "./lanes.ts";
import type { Reasons } from "./reasons.ts";
import { ENERGY, type Trail } from "./trail.ts";

/** The check is left out at most so many times in a row, and so many failures double what is left out. */
const MOST_SKIPPED = 128;
const FAILURES = 16;

class LaneEnergy {
  private readonly trail: Trail;
  private readonly layout: Layout;
  private readonly lane: number;
  private readonly capacity: number;
  private readonly count: number;
  /** Uses from the start of one item to its end; then those that span two. */
  private readonly item: Int32Array;
  private readonly head: Int32Array;
  private readonly length: Int32Array;
  private readonly need: Int32Array;
  private readonly spanning: Int32Array;
  private readonly early: Int32Array;
  private readonly late: Int32Array;
  /** Places by earliest begin, falling; and by latest end, rising. Kept from call to call: mostly in order already. */
  private readonly byBegin: Int32Array;
  private readonly byEnd: Int32Array;
  /** Work surely done before each tick. */
  private readonly sure: Int32Array;
  private readonly origin: number;
  private skip: number;
  private waited = 0;
  private failures = 0;
  begin = 0;
  end = 0;

  constructor(trail: Trail, layout: Layout, lane: number, skip: number) {
    this.skip = skip;
    this.trail = trail;
    this.layout = layout;
    this.lane = lane;
    this.capacity = layout.capacity[lane]!;
    const plain: number[] = [];
    const spanning: number[] = [];
    let [origin, end] = [0, 0];
    for (let use = 0; use < layout.uses; use += 1) {
      if (layout.need[use * layout.lanes + lane] === 0) continue;
      (layout.first[use] === layout.last[use] ? plain : spanning).push(use);
      origin = Math.min(origin, trail.low[layout.first[use]! * 2]! + layout.head[use]!);
      end = Math.max(end, -trail.low[layout.last[use]! * 2 + 1]! + layout.tail[use]!);
    }
    this.count = plain.length;
    this.item = Int32Array.from(plain, (use) => layout.first[use]!);
    this.head = Int32Array.from(plain, (use) => layout.head[use]!);
    this.length = Int32Array.from(plain, (use) => layout.tail[use]! - layout.head[use]!);
    this.need = Int32Array.from(plain, (use) => layout.need[use * layout.lanes + lane]!);
    this.spanning = Int32Array.from(spanning);
    this.early = new Int32Array(this.count);
    this.late = new Int32Array(this.count);
    this.byBegin = Int32Array.from(plain, (_, place) => place);
    this.byEnd = this.byBegin.slice();
    this.origin = origin;
    this.sure = new Int32Array(end - origin + 2);
  }

  /** Whether it is this lane's turn. */
  due(): boolean {
    this.waited += 1;
    if (this.waited < this.skip) return false;
    this.waited = 0;
    return true;
  }

  /** False: some spell, in `begin` and `end`, has too much to do. */
  check(): boolean {
    const fine = this.sweep();
    if (!fine) {
      this.skip = Math.max(1, this.skip >> 1);
      this.failures = 0;
    } else {
      this.failures += 1;
      if (this.failures >= FAILURES) {
        this.skip = Math.min(MOST_SKIPPED, this.skip * 2);
        this.failures = 0;
      }
    }
    return fine;
  }

  private sweep(): boolean {
    const { count, early, late, length, need, byBegin, byEnd, sure, origin, capacity } = this;
    this.load();
    let last = -1;
    for (let rank = count - 1; rank >= 0; rank -= 1) {
      const end = late[byEnd[rank]!]! + length[byEnd[rank]!]!;
      if (end === last) continue;
      last = end;
      const sureEnd = sure[end - origin]!;
      let work = 0;
      for (let at = 0; at < count; at += 1) {
        const place = byBegin[at]!;
        const begin = early[place]!;
        if (begin >= end) continue;
        const own = length[place]!;
        // What it must do before `end`, without what is surely covered and so in `sure`.
        const must = Math.min(own, end - late[place]!);
        if (must > 0) work += need[place]! * (must - Math.max(0, Math.min(end, begin + own) - late[place]!));
        if (work + sureEnd - sure[begin - origin]! > capacity * (end - begin)) {
          this.begin = begin;
          this.end = end;
          return false;
        }
      }
    }
    return true;
  }

  private load(): void {
    const { count, item, head, length, need, early, late, sure, origin, byBegin, byEnd, layout } = this;
    const { low } = this.trail;
    sure.fill(0);
    for (let place = 0; place < count; place += 1) {
      const begin = low[item[place]! * 2]! + head[place]!;
      const latest = -low[item[place]! * 2 + 1]! + head[place]!;
      early[place] = begin;
      late[place] = latest;
      const end = begin + length[place]!;
      if (latest >= end) continue;
      sure[latest - origin]! += need[place]!;
      sure[end - origin]! -= need[place]!;
    }
    for (let at = 0; at < this.spanning.length; at += 1) {
      const use = this.spanning[at]!;
      const begin = -low[layout.first[use]! * 2 + 1]! + layout.head[use]!;
      const end = low[layout.last[use]! * 2]! + layout.tail[use]!;
      if (begin >= end) continue;
      const share = layout.need[use * layout.lanes + this.lane]!;
      sure[begin - origin]! += share;
      sure[end - origin]! -= share;
    }
    // From changes to heights to work before a tick.
    let height = 0;
    let work = 0;
    for (let at = 0; at < sure.length; at += 1) {
      height += sure[at]!;
      sure[at] = work;
      work += height;
    }
    for (let at = 1; at < count; at += 1) {
      const one = byBegin[at]!;
      const begin = early[one]!;
      let to = at;
      for (; to > 0 && early[byBegin[to - 1]!]! < begin; to -= 1) byBegin[to] = byBegin[to - 1]!;
      byBegin[to] = one;
      const other = byEnd[at]!;
      const end = late[other]! + length[other]!;
      to = at;
      for (; to > 0 && late[byEnd[to - 1]!]! + length[byEnd[to - 1]!]! > end; to -= 1) byEnd[to] = byEnd[to - 1]!;
      byEnd[to] = other;
    }
  }

  /**
   * Puts on the list why the spell has too much to do. A use that begins from begin + p - length to end - p is there for p ticks; where more is done than is too much, less is asked.
   */
  explain(reasons: Reasons): void {
    const { trail, begin, end, count, item, head, length, need, layout, lane } = this;
    const { low, root } = trail;
    let over = -this.capacity * (end - begin) - 1;
    for (let at = 0; at < this.spanning.length; at += 1) {
      const use = this.spanning[at]!;
      const from = Math.max(begin, -low[layout.first[use]! * 2 + 1]! + layout.head[use]!);
      const to = Math.min(end, low[layout.last[use]! * 2]! + layout.tail[use]!);
      if (from < to) over += (to - from) * layout.need[use * layout.lanes + lane]!;
    }
    const there = (place: number, from: number, to: number): number =>
      Math.min(length[place]!, end - begin, from + length[place]! - begin, end - to);
    for (let place = 0; place < count; place += 1) {
      const side = item[place]! * 2;
      const must = there(place, low[side]! + head[place]!, -low[side + 1]! + head[place]!);
      if (must > 0) over += must * need[place]!;
    }
    for (let place = 0; place < count; place += 1) {
      const side = item[place]! * 2;
      let must = there(place, low[side]! + head[place]!, -low[side + 1]! + head[place]!);
      if (must <= 0) continue;
      // What it does there without any decision is free of charge.
      const free = Math.max(0, there(place, root[side]! + head[place]!, -root[side + 1]! + head[place]!));
      const less = Math.min(must - free, Math.floor(over / need[place]!));
      must -= less;
      over -= less * need[place]!;
      if (must <= free) continue;
      reasons.put(side, begin + must - length[place]! - head[place]!);
      reasons.put(side + 1, must + head[place]! - end);
    }
    for (let at = 0; at < this.spanning.length; at += 1) {
      const use = this.spanning[at]!;
      const from = Math.max(begin, -low[layout.first[use]! * 2 + 1]! + layout.head[use]!);
      const to = Math.min(end, low[layout.last[use]! * 2]! + layout.tail[use]!);
      if (from >= to) continue;
      reasons.put(layout.first[use]! * 2 + 1, layout.head[use]! - from);
      reasons.put(layout.last[use]! * 2, to - layout.tail[use]!);
    }
  }
}

export class Energy {
  private readonly trail: Trail;
  private readonly lanes: LaneEnergy[] = [];

  constructor(trail: Trail, layout: Layout, skip: number) {
    this.trail = trail;
    for (let lane = 0; lane < layout.lanes; lane += 1) {
      let users = 0;
      for (let use = 0; use < layout.uses; use += 1) if (layout.need[use * layout.lanes + lane]! > 0) users += 1;
      if (users > 2) this.lanes.push(new LaneEnergy(trail, layout, lane, skip));
    }
  }

  /** Looks at the lanes whose turn it is, or at `all`; false: a conflict. */
  propagate(all: boolean): boolean {
    for (let place = 0; place < this.lanes.length; place += 1) {
      const lane = this.lanes[place]!;
      if (!all && !lane.due()) continue;
      if (lane.check()) continue;
      this.trail.clash(-1, ENERGY, place, 0);
      return false;
    }
    return true;
  }

  explain(reasons: Reasons, place: number): void {
    this.lanes[place]!.explain(reasons);
  }
}
