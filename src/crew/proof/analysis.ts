// Owns the analysis of conflicts: from true literals that cannot be true together to a clause that holds for good.
//
// Reasons are asked for the value that is needed, not the one that was reached, so that what follows from a lower bound is said of the lower one. Marks are kept by trail entry, with the strongest value needed of it.

import type { Activity } from "./activity.ts";
import type { Clauses } from "./clauses.ts";
import type { Edges } from "./edges.ts";
import type { Energy } from "./energy.ts";
import type { Profile } from "./profile.ts";
import { NONE, Reasons } from "./reasons.ts";
import { CLAUSE, DECISION, EDGE, ENERGY, ORDER, SPELL, type Trail } from "./trail.ts";

/** How deep the shortening of a clause follows reasons. */
const DEEPEST = 60;

export class Analysis {
  /** The clause learnt: side and value of each literal, the one that now follows first, then one of the highest level among the rest. */
  learnt: Int32Array;
  size = 0;
  /** The level at which the first literal follows. */
  backTo = 0;
  /** Levels that the literals come from. */
  width = 0;
  private readonly trail: Trail;
  private readonly edges: Edges;
  private readonly clauses: Clauses;
  private readonly activity: Activity;
  private readonly profile: Profile;
  private readonly energy: Energy;
  private readonly reasons: Reasons;
  private readonly need: Int32Array;
  /** By entry: a value that follows from the marked ones, and one that does not. */
  private readonly implied: Int32Array;
  private readonly open: Int32Array;
  private readonly noted: Int32Array;
  private notedCount = 0;
  /** Marked entries of lower levels. */
  private readonly lower: Int32Array;
  private lowerCount = 0;
  private readonly levelSeen: Int32Array;
  private round = 0;
  /** By side: its strongest entry in the clause. */
  private readonly best: Int32Array;

  constructor(trail: Trail, edges: Edges, clauses: Clauses, activity: Activity, profile: Profile, energy: Energy) {
    this.energy = energy;
    this.trail = trail;
    this.edges = edges;
    this.clauses = clauses;
    this.activity = activity;
    this.profile = profile;
    const entries = trail.side.length;
    this.reasons = new Reasons(entries);
    this.need = this.reasons.need;
    this.implied = new Int32Array(entries).fill(NONE);
    this.open = new Int32Array(entries).fill(-NONE - 1);
    this.noted = new Int32Array(entries);
    this.lower = new Int32Array(entries);
    this.levelSeen = new Int32Array(entries + 1);
    this.best = new Int32Array(trail.low.length).fill(-1);
    this.learnt = new Int32Array(trail.low.length * 2 + 4);
  }

  /** Puts literals on the list that were true before `entry` and from which "side ≥ value" follows. */
  private explain(side: number, value: number, kind: number, data: number, more: number, entry: number): void {
    const { edges, reasons } = this;
    if (kind === EDGE) {
      reasons.put(edges.from[data]!, value - edges.lag[data]!);
      const guard = edges.guard[data]!;
      if (guard >= 0) reasons.put(guard, 1 - (guard & 1));
    } else if (kind === CLAUSE) {
      const { store } = this.clauses;
      const end = data + 3 + store[data]! * 2;
      for (let at = data + 5; at < end; at += 2) reasons.put(store[at]! ^ 1, 1 - store[at + 1]!);
    } else if (kind === ORDER) {
      reasons.put(edges.from[data]!, more);
      reasons.put(edges.to[data]! ^ 1, 1 - more - edges.lag[data]!);
    } else if (kind === SPELL) reasons.put(side, data);
    else if (kind === ENERGY) this.energy.explain(reasons, data);
    else this.profile.explain(reasons, side, data, more, entry);
  }

  private explainEntry(entry: number, value: number): void {
    const { trail } = this;
    this.explain(trail.side[entry]!, value, trail.kind[entry]!, trail.data[entry]!, trail.more[entry]!, entry);
  }

  /** Puts the literals of the conflict on the list; returns the highest level among them. */
  private conflict(): number {
    const { trail, reasons } = this;
    const { clashSide } = trail;
    let value = 0;
    if (clashSide >= 0) {
      // The least value that leaves nothing is enough.
      const other = trail.low[clashSide ^ 1]!;
      reasons.put(clashSide ^ 1, other);
      value = 1 - other;
    }
    this.explain(clashSide, value, trail.clashKind, trail.clashData, trail.clashMore, trail.length);
    let highest = 0;
    for (let at = 0; at < reasons.filled; at += 2) {
      const entry = trail.entryOf(reasons.list[at]!, reasons.list[at + 1]!);
      if (entry >= 0 && trail.depth[entry]! > highest) highest = trail.depth[entry]!;
    }
    return highest;
  }

  /** Learns from the conflict that the trail holds; false when it needs no decision: nothing satisfies all. */
  learn(): boolean {
    const { trail, need, reasons } = this;
    reasons.filled = 0;
    const level = this.conflict();
    if (level === 0) return false;
    // The literals were copied, so what lies above the level they need can go.
    trail.back(level);
    this.activity.back(level);
    this.lowerCount = 0;
    let marked = this.mark(level);
    let entry = trail.length - 1;
    for (;;) {
      while (need[entry] === NONE) entry -= 1;
      if (marked === 1) break;
      const value = need[entry]!;
      need[entry] = NONE;
      marked -= 1;
      reasons.filled = 0;
      this.explainEntry(entry, value);
      entry -= 1;
      marked += this.mark(level);
    }
    this.compose(entry);
    return true;
  }

  /** Marks the entries of the listed literals; returns how many of this level were not marked before. */
  private mark(level: number): number {
    const { trail, need, reasons, activity } = this;
    const { list } = reasons;
    let fresh = 0;
    for (let at = 0; at < reasons.filled; at += 2) {
      const side = list[at]!;
      const value = list[at + 1]!;
      const entry = trail.entryOf(side, value);
      if (entry < 0) continue;
      activity.bump(side, value);
      if (need[entry] === NONE) {
        need[entry] = value;
        if (trail.depth[entry] === level) fresh += 1;
        else {
          this.lower[this.lowerCount] = entry;
          this.lowerCount += 1;
        }
      } else if (need[entry]! < value) need[entry] = value;
    }
    return fresh;
  }

  /** Makes the clause of the marked entries: the last one of the level, and of the lower ones what does not follow from others. */
  private compose(last: number): void {
    const { trail, need, lower, best, learnt, levelSeen } = this;
    this.round += 1;
    for (let place = 0; place < this.lowerCount; place += 1) levelSeen[trail.depth[lower[place]!]!] = this.round;
    // Only what is marked EARLIER on the trail may carry an entry: the reason of an entry names nothing later, so no circle can come about.
    let kept = 0;
    this.reasons.filled = 0;
    best[trail.side[last]!] = last;
    for (let place = 0; place < this.lowerCount; place += 1) {
      const entry = lower[place]!;
      if (this.follows(entry, need[entry]!, 0)) continue;
      lower[kept] = entry;
      kept += 1;
      const side = trail.side[entry]!;
      if (best[side]! < entry) best[side] = entry;
    }
    learnt[0] = trail.side[last]! ^ 1;
    learnt[1] = 1 - need[last]!;
    let size = 1;
    let highest = 0;
    let where = 1;
    let width = 1;
    this.round += 1;
    for (let place = 0; place < kept; place += 1) {
      const entry = lower[place]!;
      const side = trail.side[entry]!;
      // Of one side the strongest says all.
      if (best[side] !== entry) continue;
      const depth = trail.depth[entry]!;
      learnt[size * 2] = side ^ 1;
      learnt[size * 2 + 1] = 1 - need[entry]!;
      if (depth > highest) {
        highest = depth;
        where = size;
      }
      if (levelSeen[depth] !== this.round) {
        levelSeen[depth] = this.round;
        width += 1;
      }
      size += 1;
    }
    if (size > 1 && where > 1) {
      const [side, value] = [learnt[2]!, learnt[3]!];
      learnt[2] = learnt[where * 2]!;
      learnt[3] = learnt[where * 2 + 1]!;
      learnt[where * 2] = side;
      learnt[where * 2 + 1] = value;
    }
    this.size = size;
    this.backTo = highest;
    this.width = width;
    this.clean(last);
  }

  private clean(last: number): void {
    const { trail, need, implied, open, noted, best } = this;
    best[trail.side[last]!] = -1;
    need[last] = NONE;
    // `lower` was overwritten from its beginning, but what was dropped is noted.
    for (let place = 0; place < this.lowerCount; place += 1) {
      const entry = this.lower[place]!;
      need[entry] = NONE;
      best[trail.side[entry]!] = -1;
    }
    for (let place = 0; place < this.notedCount; place += 1) {
      const entry = noted[place]!;
      need[entry] = NONE;
      implied[entry] = NONE;
      open[entry] = -NONE - 1;
    }
    this.notedCount = 0;
  }

  /** Whether "this entry's side ≥ value" follows, by reasons, from marked entries before it. */
  private follows(entry: number, value: number, depth: number): boolean {
    const { reasons } = this;
    if (this.trail.kind[entry] === DECISION || depth > DEEPEST) return false;
    const begin = reasons.filled;
    this.explainEntry(entry, value);
    const end = reasons.filled;
    let fine = true;
    for (let at = begin; at < end && fine; at += 2)
      fine = this.carried(reasons.list[at]!, reasons.list[at + 1]!, depth);
    reasons.filled = begin;
    this.note(entry);
    if (fine) {
      if (this.implied[entry]! < value) this.implied[entry] = value;
    } else if (this.open[entry]! > value) this.open[entry] = value;
    return fine;
  }

  private carried(side: number, value: number, depth: number): boolean {
    const { trail } = this;
    const entry = trail.entryOf(side, value);
    if (entry < 0 || this.need[entry]! >= value || this.implied[entry]! >= value) return true;
    if (this.open[entry]! <= value || this.levelSeen[trail.depth[entry]!] !== this.round) return false;
    return this.follows(entry, value, depth + 1);
  }

  private note(entry: number): void {
    if (this.implied[entry] !== NONE || this.open[entry] !== -NONE - 1) return;
    this.noted[this.notedCount] = entry;
    this.notedCount += 1;
  }
}
