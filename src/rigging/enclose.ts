// Owns the proof of a range: the least and greatest of a function over a box, from outside, and the points that come nearest from inside.
//
// Where a slope keeps its sign over the whole box the extreme is on that side, which is the proof that it lies at a corner; what has no such slope
// is bounded by the mean value form and halved while that helps (Moore, Kearfott & Cloud, Introduction to Interval Analysis, 2009, ch. 6).

import type { Bounded } from "./interval.ts";

export type Edges = readonly (readonly [number, number])[];

/** What a function gives over a box, each worked out when it is asked for. */
export interface Enclosure {
  readonly value: (output: number) => Bounded;
  /** False: proved that nothing in the box is possible. The values are then those of the formulas alone, no less extreme. */
  readonly possible: () => boolean;
  /** Possible but for what carries: no other leg is overstretched. */
  readonly reachable: () => boolean;
}

/** Undefined where the formulas have no value anywhere in the box. */
export type Outputs = (box: Edges) => Enclosure | undefined;

export interface Extreme {
  /** No value over the box is beyond this. */
  readonly bound: number;
  /** A possible point whose value is nearest to it among those tried, and its value; absent when none that was tried is possible. */
  readonly at?: readonly number[];
  readonly value?: number;
}

/** Boxes looked at for one extreme; and the gap, as a share of the value or of a fiftieth, that is near enough. */
const BOXES = 4;
const NEAR = 0.01;
const SMALL = 0.02;

const middleOf = (box: Edges): Edges =>
  box.map(([lo, hi]) => {
    const middle = (lo + hi) / 2;
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

/**
 * The greatest (`sign` 1) or least (−1) value of one output over the box.
 *
 * @returns undefined when nothing in the box is possible.
 */
export function extreme({ f, box, whole, middle }: Asked, output: number, sign: 1 | -1): Extreme | undefined {
  let best = Number.NEGATIVE_INFINITY;
  let at: readonly number[] | undefined;
  const open: { box: Edges; bound: number }[] = [];
  const offer = (edges: Edges, found: Enclosure | undefined): void => {
    if (found === undefined) return;
    const { lo, hi } = found.value(output);
    const value = sign * (lo + hi) * 0.5;
    if (!(value > best) || !found.possible()) return;
    best = value;
    at = edges.map(([lo, hi]) => (lo + hi) / 2);
  };
  const look = (from: Edges, found: Enclosure | undefined, centre: Enclosure | undefined): void => {
    if (found === undefined || !found.possible()) return;
    offer(middleOf(from), centre);
    const first = found.value(output);
    let bound = sign > 0 ? first.hi : -first.lo;
    const sides = from.map(([lo, hi], i): readonly [number, number] => {
      const [a, b] =
        sign > 0 ? [first.slope[2 * i]!, first.slope[2 * i + 1]!] : [-first.slope[2 * i + 1]!, -first.slope[2 * i]!];
      return a >= 0 ? [hi, hi] : b <= 0 ? [lo, lo] : [lo, hi];
    });
    // The mean value form about the middle of what has no side yet, at the sides found for the rest.
    const about = f(middleOf(sides));
    offer(middleOf(sides), about);
    if (about !== undefined) {
      const value = about.value(output);
      let spread = sign > 0 ? value.hi : -value.lo;
      for (const [i, [lo, hi]] of sides.entries()) {
        const half = ((hi - lo) / 2) * (1 + 1e-12);
        if (half > 0) spread += half * Math.max(Math.abs(first.slope[2 * i]!), Math.abs(first.slope[2 * i + 1]!));
      }
      bound = Math.min(bound, spread);
    }
    open.push({ box: sides, bound });
  };
  look(box, whole, middle);
  for (let looked = 1; open.length > 0 && looked < BOXES; looked++) {
    const widest = open.reduce((a, b) => (b.bound > a.bound ? b : a));
    if (widest.bound - best <= NEAR * Math.max(SMALL, Math.abs(best))) break;
    const i = widest.box.reduce(
      (w, [lo, hi], k) => (share(lo, hi, box[k]!) > share(...widest.box[w]!, box[w]!) ? k : w),
      0,
    );
    const [lo, hi] = widest.box[i]!;
    if (hi === lo) break;
    open.splice(open.indexOf(widest), 1);
    const half = (lo + hi) / 2;
    for (const edges of [widest.box.with(i, [lo, half]), widest.box.with(i, [half, hi])])
      look(edges, f(edges), undefined);
  }
  if (open.length === 0 && at === undefined) return undefined;
  const bound = open.reduce((most, each) => Math.max(most, each.bound), best);
  return { bound: sign * bound, ...(at === undefined ? {} : { at, value: sign * best }) };
}

const share = (lo: number, hi: number, [from, to]: readonly [number, number]): number =>
  to > from ? (hi - lo) / (to - from) : 0;
