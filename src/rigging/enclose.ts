// Owns the proof of a range: the least and greatest of a function over a box, from outside, and the points that come nearest from inside.
//
// Where a slope keeps its sign over the whole box the extreme is on that side, which is the proof that it lies at a corner; what has no such slope
// is bounded by the mean value form and halved while that helps (Moore, Kearfott & Cloud, Introduction to Interval Analysis, 2009, ch. 6).

import { type Bounded, minus, scaled } from "./interval.ts";

export type Edges = readonly (readonly [number, number])[];

/** What a function gives over a box, each worked out when it is asked for; slopes are those along the box's sides that have a width, in their order. */
export interface Enclosure {
  readonly value: (output: number) => Bounded;
  /** False: proved that nothing in the box is possible. The values are then those of the formulas alone, no less extreme. */
  readonly possible: () => boolean;
  /** Possible but for what carries: no other leg is overstretched. */
  readonly reachable: () => boolean;
  /** What is not above nought wherever it is possible, one of `limits`. */
  readonly limit: (k: number) => Bounded;
  readonly limits: number;
}

/**
 * Undefined where the formulas have no value anywhere in the box.
 *
 * @param steep false: no slopes are wanted, and the values come without.
 */
export type Outputs = (box: Edges, steep?: boolean) => Enclosure | undefined;

/** Boxes looked at in one part for one extreme; and the gap, as a share of the value or of a fiftieth, that is near enough. */
const BOXES = 3;
const NEAR = 0.01;
const SMALL = 0.02;

const middleOf = (box: Edges): Edges =>
  box.map((side) => {
    if (side[0] === side[1]) return side;
    const middle = (side[0] + side[1]) / 2;
    return [middle, middle] as const;
  });

/** A function over a box, with what is asked of it again and again for one output after another. */
export class Asked {
  readonly f: Outputs;
  readonly box: Edges;
  /** At the middle of the box. */
  readonly middle: Enclosure | undefined;
  private all: Enclosure | undefined | null = null;
  private readonly halves = new Map<number, readonly [boolean, boolean]>();

  constructor(f: Outputs, box: Edges) {
    this.f = f;
    this.box = box;
    this.middle = f(middleOf(box));
  }

  /** Over the whole box. */
  get whole(): Enclosure | undefined {
    if (this.all === null) this.all = this.f(this.box);
    return this.all;
  }

  may(box: Edges): boolean {
    return this.f(box, false)?.possible() ?? false;
  }

  /** Whether either half of a piece may hold anything possible, halved along one side. */
  mayHalves(piece: Edges, side: number, [low, high]: readonly [Edges, Edges]): readonly [boolean, boolean] {
    const known = piece === this.box ? this.halves.get(side) : undefined;
    if (known) return known;
    const found = [this.may(low), this.may(high)] as const;
    if (piece === this.box) this.halves.set(side, found);
    return found;
  }
}

/** One of several functions of which the most extreme is wanted, each with an output of its own. */
export interface Part {
  readonly asked: Asked;
  readonly output: number;
  /** Another function over another box that takes, among others, every value that this one takes where it is possible. Asked for when its own box does not tell enough. */
  readonly held?: () => Asked | undefined;
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
    if (farthest - best.value <= NEAR * Math.max(SMALL, Math.abs(best.value)) || !top?.narrow()) break;
  }
  const bound = Math.max(farthest, best.value);
  if (bound === Number.NEGATIVE_INFINITY) return undefined;
  const { value, at, part } = best;
  return { bound: sign * bound, ...(at && part ? { at, part, value: sign * value } : {}) };
}

/** What the formula alone gives over the whole box. */
function mostOf({ asked: { whole }, output }: Part, sign: 1 | -1): number {
  if (whole === undefined) return Number.NEGATIVE_INFINITY;
  const found = whole.value(output);
  return sign > 0 ? found[1]! : -found[0]!;
}

/** The search in one part: boxes that may hold the extreme, of its own function and of what holds it. */
class Hunt<P extends Part> {
  bound: number;
  private readonly own: Pile<P>;
  private held: Pile<P> | undefined = undefined;
  private holding: (() => Pile<P> | undefined) | undefined;

  constructor(part: P, sign: 1 | -1, best: Best<P>) {
    this.own = new Pile(part.asked, part.output, sign, best, part);
    this.bound = this.own.bound;
    this.holding = () => {
      const held = part.held?.();
      return held && new Pile(held, part.output, sign, best);
    };
  }

  /** False when it is as narrow as it gets. */
  narrow(): boolean {
    const { own } = this;
    if (this.holding !== undefined) {
      this.held = this.holding();
      this.holding = undefined;
      if (this.held !== undefined && this.held.bound < this.bound) {
        this.bound = this.held.bound;
        return true;
      }
    }
    const { held } = this;
    const [first, second] = held === undefined || own.bound <= held.bound ? [own, held] : [held, own];
    if (!first.narrow() && !second?.narrow()) return false;
    this.bound = Math.min(own.bound, held?.bound ?? Number.POSITIVE_INFINITY);
    return true;
  }
}

/** A piece of the box, and what is left of it when every side along which the output only rises or only falls is put where the extreme must be. */
interface Cell {
  readonly box: Edges;
  readonly sides: Edges;
  bound: number;
  /** At the middle of the sides; until it has been asked what keeps that from being possible. */
  about: Enclosure | undefined;
}

/** Of what is asked is taken so much of a limit: where it is possible that is nothing, or adds. */
interface Price {
  readonly limit: number;
  readonly each: number;
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
    if (asked.whole?.possible()) this.look(asked.box, asked.box, Number.POSITIVE_INFINITY, asked.whole);
    if (this.open.length > 0) this.offer(asked.box, asked.middle);
    this.measure();
  }

  /** False when it is as narrow as it gets. */
  narrow(): boolean {
    const { open } = this;
    if (open.length === 0) return false;
    const widest = open.reduce((a, b) => (b.bound > a.bound ? b : a));
    if (!this.pay(widest) && !this.halve(widest)) return false;
    this.measure();
    return true;
  }

  private halve(widest: Cell): boolean {
    const { open, asked } = this;
    if (this.looked >= BOXES) return false;
    const i = widest.sides.reduce(
      (w, side, k) => (share(side, asked.box[k]!) > share(widest.sides[w]!, asked.box[w]!) ? k : w),
      0,
    );
    const [lo, hi] = widest.sides[i]!;
    if (hi === lo) return false;
    this.looked++;
    open.splice(open.indexOf(widest), 1);
    const half = (lo + hi) / 2;
    const pieces = [[lo, half] as const, [half, hi] as const] as const;
    const [low, high] = [widest.box.with(i, pieces[0]), widest.box.with(i, pieces[1])] as const;
    // Whether a cell holds anything possible is a matter of all of it, not of the side at which the extreme would be.
    const [mayLow, mayHigh] = asked.mayHalves(widest.box, i, [low, high]);
    if (mayLow) this.look(low, widest.sides.with(i, pieces[0]), widest.bound);
    if (mayHigh) this.look(high, widest.sides.with(i, pieces[1]), widest.bound);
    return true;
  }

  private measure(): void {
    this.bound = Number.NEGATIVE_INFINITY;
    for (const { bound } of this.open) if (bound > this.bound) this.bound = bound;
  }

  private offer(box: Edges, found: Enclosure | undefined): void {
    const { best, part } = this;
    if (found === undefined || part === undefined) return;
    const bounded = found.value(this.output);
    const value = this.sign * (bounded[0]! + bounded[1]!) * 0.5;
    if (!(value > best.value) || !found.possible()) return;
    best.value = value;
    best.at = box.map(([lo, hi]) => (lo + hi) / 2);
    best.part = part;
  }

  /** Bounds the values in a cell that the sides of it bound. */
  private look(box: Edges, from: Edges, most: number, over?: Enclosure): void {
    const found = over ?? this.asked.f(from);
    if (found === undefined) {
      // The formula has no value at those sides: back to the whole cell.
      const whole = box === from ? undefined : this.asked.f(box);
      if (whole) this.look(box, box, most, whole);
      return;
    }
    const cell = this.bounded(from, found);
    if (cell.about) this.offer(cell.sides, cell.about);
    this.open.push({ box, ...cell, bound: Math.min(most, cell.bound) });
  }

  /** What is made as great as may be. */
  private wanted(found: Enclosure, price: Price | undefined): Bounded {
    const value = found.value(this.output);
    const own = this.sign > 0 ? value : scaled(value, -1);
    return price === undefined ? own : minus(own, scaled(found.limit(price.limit), price.each));
  }

  private bounded(from: Edges, found: Enclosure, price?: Price): Omit<Cell, "box"> {
    const known = this.wanted(found, price);
    let along = 2;
    const steep: number[] = [];
    const sides = from.map((side): readonly [number, number] => {
      const [lo, hi] = side;
      if (lo === hi) {
        steep.push(0);
        return side;
      }
      const [down, up] = [known[along]!, known[along + 1]!];
      along += 2;
      steep.push(down >= 0 || up <= 0 ? 0 : Math.max(-down, up));
      return down >= 0 ? [hi, hi] : up <= 0 ? [lo, lo] : side;
    });
    let bound = known[1]!;
    // The mean value form about the middle of what has no side yet, at the sides found for the rest.
    const about = this.asked.f(middleOf(sides));
    if (about !== undefined) {
      let spread = this.wanted(about, price)[1]!;
      for (const [i, [lo, hi]] of sides.entries()) if (hi > lo) spread += ((hi - lo) / 2) * (1 + 1e-12) * steep[i]!;
      bound = Math.min(bound, spread);
    }
    return { sides, bound, about };
  }

  /**
   * Where a limit keeps the sides of a cell from being possible, what is possible has less: a price is set on the limit, what it costs at the least to keep
   * it (Lagrange). False when that tells nothing.
   */
  private pay(cell: Cell): boolean {
    const { about, box, sides } = cell;
    cell.about = undefined;
    const over = box === this.asked.box ? this.asked.whole : undefined;
    if (about === undefined || over === undefined) return false;
    const at = sides.map(([lo, hi]) => (lo + hi) / 2);
    let worst: Trade | undefined;
    for (let k = 0; k < about.limits; k++) {
      const excess = about.limit(k)[0]!;
      if (!(excess > 0)) continue;
      const trade = tradeFor(box, at, this.wanted(over, undefined), over.limit(k), excess);
      if (trade && (worst === undefined || trade.cost > worst.cost)) worst = { ...trade, limit: k };
    }
    if (worst === undefined) return false;
    this.tryOn(worst);
    if (worst.each <= 0) return false;
    const { bound } = this.bounded(box, over, { limit: worst.limit, each: worst.each });
    if (!(bound < cell.bound)) return false;
    cell.bound = bound;
    return true;
  }

  /** The point at which the limit is just kept, moved on by what it is still out by. */
  private tryOn({ at, limit, last, per }: Trade): void {
    for (let tries = 0; tries < 3; tries++) {
      const box = at.map((x) => [x, x] as const);
      const found = this.asked.f(box);
      if (found === undefined) return;
      const excess = found.limit(limit)[1]!;
      if (excess <= 0) {
        this.offer(box, found);
        return;
      }
      at = at.with(last, at[last]! - (1.02 * excess) / per);
    }
  }
}

/** A point of a cell at which a limit is just kept, and what that costs by the slopes. */
interface Trade {
  readonly limit: number;
  readonly at: readonly number[];
  readonly cost: number;
  /** The last variable moved: of what is wanted a unit of the limit costs so much there, and a unit of it is so much of the limit. */
  readonly each: number;
  readonly last: number;
  readonly per: number;
}

/** Moves the variables that keep the limit most cheaply first, until it is kept. */
function tradeFor(
  box: Edges,
  from: readonly number[],
  wanted: Bounded,
  limit: Bounded,
  excess: number,
): Omit<Trade, "limit"> | undefined {
  let k = 0;
  const moves = box.flatMap(([lo, hi], i) => {
    if (lo === hi) return [];
    k += 2;
    const [gain, per] = [(wanted[k]! + wanted[k + 1]!) / 2, (limit[k]! + limit[k + 1]!) / 2];
    const room = per > 0 ? lo - from[i]! : hi - from[i]!;
    return per * room < 0 && Number.isFinite(gain / per) ? [{ i, room, per, each: gain / per }] : [];
  });
  moves.sort((a, b) => a.each - b.each);
  let left = excess * (1 + 1e-6);
  let at = from;
  let cost = 0;
  let trade: Omit<Trade, "limit"> | undefined;
  for (const { i, room, per, each } of moves) {
    const part = Math.min(1, left / (-per * room));
    at = at.with(i, at[i]! + part * room);
    left += part * per * room;
    cost -= part * per * room * each;
    trade = { at, cost, each, last: i, per };
    if (part < 1) break;
  }
  return trade;
}

const share = ([lo, hi]: readonly [number, number], [from, to]: readonly [number, number]): number =>
  to > from ? (hi - lo) / (to - from) : 0;
