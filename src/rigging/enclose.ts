// Owns the proof of a range: the least and greatest of a function over a box, from outside, and the points that come nearest from inside.
//
// Where a slope keeps its sign over the whole box the extreme is on that side, which is the proof that it lies at a corner; what has no such slope
// is bounded by the mean value form and halved while that helps (Moore, Kearfott & Cloud, Introduction to Interval Analysis, 2009, ch. 6).

import type { Bounded } from "./interval.ts";

export type Edges = readonly (readonly [number, number])[];

/** What a function gives over a box, each worked out when it is asked for; slopes are those along the box's sides that have a width, in their order. */
export interface Enclosure {
  readonly value: (output: number) => Bounded;
  /** False: proved that nothing in the box is possible. The values are then those of the formulas alone, no less extreme. */
  readonly possible: () => boolean;
  /** Possible but for what carries: no other leg is overstretched. */
  readonly reachable: () => boolean;
}

/**
 * Undefined where the formulas have no value anywhere in the box.
 *
 * @param steep false: no slopes are wanted, and the values come without.
 */
export type Outputs = (box: Edges, steep?: boolean) => Enclosure | undefined;

/** Boxes looked at in one part for one extreme; and the gap, as a share of the value or of a fiftieth, that is near enough. */
const BOXES = 4;
const NEAR = 0.01;
const SMALL = 0.02;

const middleOf = (box: Edges): Edges =>
  box.map((side) => {
    if (side[0] === side[1]) return side;
    const middle = (side[0] + side[1]) / 2;
    return [middle, middle] as const;
  });

/** A function with its values over the whole box and at its middle at hand, for asking about one output after another. */
export interface Asked {
  readonly f: Outputs;
  readonly box: Edges;
  readonly whole: Enclosure | undefined;
  readonly middle: Enclosure | undefined;
}

export const ask = (f: Outputs, box: Edges): Asked => ({ f, box, whole: f(box), middle: f(middleOf(box)) });

/** One of several functions of which the most extreme is wanted, each with an output of its own. */
export interface Part {
  readonly asked: Asked;
  readonly output: number;
  /** Another function over another box that takes, among others, every value that this one takes where it is possible. */
  readonly held?: Asked;
}

export interface Extreme<P extends Part> {
  /** No value is beyond this. */
  readonly bound: number;
  /** A possible point whose value is nearest to it among those tried, its value, and whose it is; absent when none that was tried is possible. */
  readonly at?: readonly number[];
  readonly value?: number;
  readonly part?: P;
}

/** The most extreme value found so far, times the sign that makes the extreme a greatest; and where. */
interface Best<P> {
  value: number;
  at?: readonly number[];
  part?: P;
}

/**
 * The greatest (`sign` 1) or least (−1) value that any of the parts takes. The part that may go farthest is halved first, and what cannot go beyond
 * what another one reaches is left alone.
 *
 * @returns undefined when nothing is possible in any of them.
 */
export function extreme<P extends Part>(parts: readonly P[], sign: 1 | -1): Extreme<P> | undefined {
  const best: Best<P> = { value: Number.NEGATIVE_INFINITY };
  const order = parts
    .map((part) => ({ part, most: mostOf(part, sign) }))
    .sort((a, b) => (a.most === b.most ? 0 : a.most > b.most ? -1 : 1));
  const live: Hunt<P>[] = [];
  for (const { part, most } of order) {
    if (most <= best.value) break;
    const hunt = new Hunt(part, sign, best);
    if (hunt.bound > Number.NEGATIVE_INFINITY) live.push(hunt);
  }
  let farthest: number;
  for (;;) {
    let top: Hunt<P> | undefined;
    for (const hunt of live) if (top === undefined || hunt.bound > top.bound) top = hunt;
    farthest = top?.bound ?? Number.NEGATIVE_INFINITY;
    if (farthest - best.value <= NEAR * Math.max(SMALL, Math.abs(best.value)) || !top?.halve()) break;
  }
  const bound = Math.max(farthest, best.value);
  if (bound === Number.NEGATIVE_INFINITY) return undefined;
  const { value, at, part } = best;
  return { bound: sign * bound, ...(at && part ? { at, part, value: sign * value } : {}) };
}

/** What the formula alone gives over the whole box. */
function mostOf({ asked: { whole }, output }: Part, sign: 1 | -1): number {
  if (whole === undefined) return Number.NEGATIVE_INFINITY;
  const { lo, hi } = whole.value(output);
  return sign > 0 ? hi : -lo;
}

/** The search in one part: boxes that may hold the extreme, of its own function and of what holds it. */
class Hunt<P extends Part> {
  bound: number;
  private readonly own: Pile<P>;
  private readonly held: Pile<P> | undefined;

  constructor(part: P, sign: 1 | -1, best: Best<P>) {
    this.own = new Pile(part.asked, part.output, sign, best, part);
    this.held = part.held && new Pile(part.held, part.output, sign, best);
    this.bound = this.widest();
  }

  private widest(): number {
    return Math.min(this.own.bound, this.held?.bound ?? Number.POSITIVE_INFINITY);
  }

  /** False when it is as narrow as it gets. */
  halve(): boolean {
    const { own, held } = this;
    const [first, second] = held === undefined || own.bound <= held.bound ? [own, held] : [held, own];
    if (!first.halve() && !second?.halve()) return false;
    this.bound = this.widest();
    return true;
  }
}

/** A piece of the box, and what is left of it when every side along which the output only rises or only falls is put where the extreme must be. */
interface Cell {
  readonly box: Edges;
  readonly sides: Edges;
  readonly bound: number;
}

class Pile<P> {
  bound = Number.NEGATIVE_INFINITY;
  private readonly asked: Asked;
  private readonly output: number;
  private readonly sign: 1 | -1;
  private readonly best: Best<P>;
  private readonly part: P | undefined;
  private readonly open: Cell[] = [];
  private looked = 1;

  /** @param part whose points are possible ones of the question; absent: they only bound. */
  constructor(asked: Asked, output: number, sign: 1 | -1, best: Best<P>, part?: P) {
    this.asked = asked;
    this.output = output;
    this.sign = sign;
    this.best = best;
    this.part = part;
    if (asked.whole?.possible()) this.look(asked.box, asked.box, asked.whole);
    if (this.open.length > 0) this.offer(asked.box, asked.middle);
    this.measure();
  }

  halve(): boolean {
    const { open, asked } = this;
    if (this.looked >= BOXES || open.length === 0) return false;
    const widest = open.reduce((a, b) => (b.bound > a.bound ? b : a));
    const i = widest.sides.reduce(
      (w, side, k) => (share(side, asked.box[k]!) > share(widest.sides[w]!, asked.box[w]!) ? k : w),
      0,
    );
    const [lo, hi] = widest.sides[i]!;
    if (hi === lo) return false;
    this.looked++;
    open.splice(open.indexOf(widest), 1);
    const half = (lo + hi) / 2;
    for (const piece of [[lo, half] as const, [half, hi] as const]) {
      const box = widest.box.with(i, piece);
      // Whether a cell holds anything possible is a matter of all of it, not of the side at which the extreme would be.
      if (asked.f(box, false)?.possible()) this.look(box, widest.sides.with(i, piece));
    }
    this.measure();
    return true;
  }

  private measure(): void {
    this.bound = Number.NEGATIVE_INFINITY;
    for (const { bound } of this.open) if (bound > this.bound) this.bound = bound;
  }

  private offer(box: Edges, found: Enclosure | undefined): void {
    const { best, part } = this;
    if (found === undefined || part === undefined) return;
    const { lo, hi } = found.value(this.output);
    const value = this.sign * (lo + hi) * 0.5;
    if (!(value > best.value) || !found.possible()) return;
    best.value = value;
    best.at = box.map(([lo, hi]) => (lo + hi) / 2);
    best.part = part;
  }

  /** Bounds the values in a cell that the sides of it bound. */
  private look(box: Edges, from: Edges, known?: Enclosure): void {
    const found = known ?? this.asked.f(from);
    if (found === undefined) {
      // The formula has no value at those sides: back to the whole cell.
      const whole = box === from ? undefined : this.asked.f(box);
      if (whole) this.look(box, box, whole);
      return;
    }
    const { output, sign } = this;
    const { lo: first, hi: last, slope } = found.value(output);
    let along = 0;
    const steep: number[] = [];
    const sides = from.map((side): readonly [number, number] => {
      const [lo, hi] = side;
      if (lo === hi) {
        steep.push(0);
        return side;
      }
      const [down, up] = [slope[along]!, slope[along + 1]!];
      along += 2;
      const [a, b] = sign > 0 ? [down, up] : [-up, -down];
      steep.push(a >= 0 || b <= 0 ? 0 : Math.max(-down, up));
      return a >= 0 ? [hi, hi] : b <= 0 ? [lo, lo] : side;
    });
    let bound = sign > 0 ? last : -first;
    // The mean value form about the middle of what has no side yet, at the sides found for the rest.
    const about = this.asked.f(middleOf(sides));
    if (about !== undefined) {
      this.offer(sides, about);
      const value = about.value(output);
      let spread = sign > 0 ? value.hi : -value.lo;
      for (const [i, [lo, hi]] of sides.entries()) if (hi > lo) spread += ((hi - lo) / 2) * (1 + 1e-12) * steep[i]!;
      bound = Math.min(bound, spread);
    }
    this.open.push({ box, sides, bound });
  }
}

const share = ([lo, hi]: readonly [number, number], [from, to]: readonly [number, number]): number =>
  to > from ? (hi - lo) / (to - from) : 0;
