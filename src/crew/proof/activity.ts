// Owns which literal is decided next: the most active one that is neither true nor false.
//
// Activity of "variable ≥ value" grows when an analysis meets the literal or its negation, and fades (M. Moskewicz et al., "Chaff", DAC 2001).

import { randomFrom } from "../random.ts";
import type { Clauses } from "./clauses.ts";
import type { Trail } from "./trail.ts";

/** Small against one bump: it only tells equals apart. */
const NOISE = 1e-6;

export class Activity {
  private readonly trail: Trail;
  private readonly base: Int32Array;
  private readonly score: Float64Array;
  private readonly sideOf: Int32Array;
  private step = 1;
  private readonly growth: number;
  // A heap of literals, and those taken from it, to be put back with the trail.
  private readonly heap: Int32Array;
  private readonly place: Int32Array;
  private size = 0;
  private readonly taken: Int32Array;
  private readonly takenLevel: Int32Array;
  private takenCount = 0;
  /** The literal chosen last. */
  side = 0;
  value = 0;

  constructor(trail: Trail, clauses: Clauses, fade: number, seed: number) {
    this.trail = trail;
    this.base = clauses.base;
    this.growth = 1 / fade;
    const { literals } = clauses;
    this.score = new Float64Array(literals);
    if (seed !== 0) {
      const random = randomFrom(seed);
      for (let literal = 0; literal < literals; literal += 1) this.score[literal] = random() * NOISE;
    }
    this.sideOf = new Int32Array(literals);
    this.heap = new Int32Array(literals);
    this.place = new Int32Array(literals).fill(-1);
    this.taken = new Int32Array(literals);
    this.takenLevel = new Int32Array(literals);
    for (let side = 0; side < trail.low.length; side += 2) {
      const begin = this.base[side]! + trail.low[side]! + 1;
      this.sideOf.fill(side, begin, this.base[side]! - trail.low[side ^ 1]! + 1);
    }
  }

  /** A literal was met. Only the even side has scores; the odd one's literals are its negations. */
  bump(side: number, value: number): void {
    const { score, base } = this;
    const literal = (side & 1) === 0 ? base[side]! + value : base[side ^ 1]! + 1 - value;
    const before = score[literal]!;
    score[literal] = before + this.step;
    if (before + this.step > 1e100) this.rescale();
    const at = this.place[literal]!;
    if (at >= 0) this.rise(at, literal);
    // A new one is put in the heap, one that was taken comes back with the trail.
    else if (at === -1) this.insert(literal);
  }

  fade(): void {
    this.step *= this.growth;
  }

  private rescale(): void {
    const { score } = this;
    for (let literal = 0; literal < score.length; literal += 1) score[literal]! *= 1e-100;
    this.step *= 1e-100;
  }

  private insert(literal: number): void {
    const at = this.size;
    this.size = at + 1;
    this.rise(at, literal);
  }

  private rise(from: number, literal: number): void {
    const { heap, place, score } = this;
    const mine = score[literal]!;
    let at = from;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      const other = heap[parent]!;
      if (score[other]! >= mine) break;
      heap[at] = other;
      place[other] = at;
      at = parent;
    }
    heap[at] = literal;
    place[literal] = at;
  }

  private sink(literal: number): void {
    const { heap, place, score, size } = this;
    const mine = score[literal]!;
    let at = 0;
    for (;;) {
      let child = at * 2 + 1;
      if (child >= size) break;
      if (child + 1 < size && score[heap[child + 1]!]! > score[heap[child]!]!) child += 1;
      const other = heap[child]!;
      if (score[other]! <= mine) break;
      heap[at] = other;
      place[other] = at;
      at = child;
    }
    heap[at] = literal;
    place[literal] = at;
  }

  /** Puts the most active open literal in `side` and `value`; false: none is known. It stays out of the heap until the present level goes. */
  choose(): boolean {
    const { trail, heap, place } = this;
    const { low } = trail;
    while (this.size > 0) {
      const literal = heap[0]!;
      const side = this.sideOf[literal]!;
      const value = literal - this.base[side]!;
      const open = low[side]! < value && low[side ^ 1]! < 1 - value;
      this.size -= 1;
      const last = heap[this.size]!;
      if (this.size > 0) this.sink(last);
      place[literal] = -2;
      this.taken[this.takenCount] = literal;
      // A literal about to be decided is open again as soon as its own level goes.
      this.takenLevel[this.takenCount] = open ? trail.level + 1 : trail.level;
      this.takenCount += 1;
      if (open) {
        this.side = side;
        this.value = value;
        return true;
      }
    }
    return false;
  }

  /** All levels above this one are gone. */
  back(level: number): void {
    while (this.takenCount > 0 && this.takenLevel[this.takenCount - 1]! > level) {
      this.takenCount -= 1;
      this.insert(this.taken[this.takenCount]!);
    }
  }
}
