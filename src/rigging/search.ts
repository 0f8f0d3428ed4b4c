// Owns the search for the best of many combinations of steps: each is known first as it is, then by cases of what is not known, and at last by its whole range.
//
// A combination misses by no less than any case that its range holds. So what fits is proved by its range, and the nearest that does not is proved as soon as no other can
// miss by less; what one range shows to be worst is tried on the others before they are asked for theirs.

import type { Rig, Vector } from "./problem.ts";

/** Degrees, from and to. */
export interface Band {
  readonly pitch: readonly [number, number];
  readonly roll: readonly [number, number];
}

export interface Fit {
  /** Steps taken up in each leg, in the rig's order; and the point of the beam that is on the hook, where it may be chosen. */
  readonly taken: readonly number[];
  readonly pin?: string;
  /** Degrees: with the figures as they are, and over all that is not known. */
  readonly pitch: number;
  readonly roll: number;
  readonly range?: Band;
  /** Its range is of cases that were tried, without proof. */
  readonly tried?: true;
  /** Degrees by which the range leaves the band, 0 when it fits. */
  readonly miss: number;
  /** Metres by which the slackest leg is too long, unstretched. */
  readonly slack: number;
}

export interface TakeUpResult {
  /** The best that fits; absent: nothing does. */
  readonly fit?: Fit;
  /** The nearest that does not fit, when nothing does; and its neighbours by one step, so that the reader sees between what the wish lies. */
  readonly nearest?: Fit;
  readonly neighbours: readonly Fit[];
  /** Combinations looked at, and how many of them were proved or refuted by their ranges. */
  readonly looked: number;
  readonly proved: number;
}

/** One of what may be: a centre, and by how much each leg is out. */
export interface Case {
  readonly centre: Vector;
  readonly out: readonly number[];
}

/** How a combination is asked. */
export interface Ways {
  /** By how much it misses in one case. */
  readonly missIn: (fit: Fit, one: Case) => number;
  /**
   * Its range, and the cases at its ends; undefined: it has none.
   *
   * @param tooFar asked of each end as it is found; true: no more is wanted of it.
   */
  readonly rangeOf: (
    fit: Fit,
    tooFar: (what: "pitch" | "roll", degrees: number) => boolean,
  ) => (Partial<Band> & { readonly tried?: true; readonly ends: readonly Case[] }) | undefined;
}

/** The best of the tries that fits, or the nearest and its neighbours. */
export function bestOf(
  rig: Rig,
  wanted: Band,
  { tries, looked }: { readonly tries: readonly Fit[]; readonly looked: number },
  { missIn, rangeOf }: Ways,
): TakeUpResult {
  const order = (a: Fit, b: Fit): number =>
    Math.round(a.slack / COARSE) - Math.round(b.slack / COARSE) ||
    total(a) - total(b) ||
    off(wanted, a) - off(wanted, b);
  let proved = 0;
  /** What it misses by over its range; or, once that is more than `enough`, that alone and no range. */
  const prove = (fit: Fit, enough: number): Fit => {
    proved++;
    let beyond = 0;
    const found = rangeOf(fit, (what, degrees) => {
      beyond = missOf(wanted, what === "pitch" ? [degrees, degrees] : ANY, what === "roll" ? [degrees, degrees] : ANY);
      return beyond > enough;
    });
    if (found === undefined) return { ...fit, miss: Number.POSITIVE_INFINITY };
    learn(found.ends);
    const { pitch, roll, tried } = found;
    if (pitch === undefined || roll === undefined) return { ...fit, miss: beyond };
    return { ...fit, range: { pitch, roll }, ...(tried ? { tried } : {}), miss: missOf(wanted, pitch, roll) };
  };
  const cases = casesOf(rig);
  let learnt = 0;
  /** What was worst for one combination is mostly the worst for its like: the legs that carried out by as much, the others long. */
  const learn = (ends: readonly Case[]): void => {
    learnt++;
    for (const { centre, out } of ends) {
      const same = cases.findIndex((known) => near(known.centre, centre) && near(known.out, out));
      cases.unshift(...(same < 0 ? [{ centre, out }] : cases.splice(same, 1)));
    }
    cases.length = Math.min(cases.length, CASES);
  };
  /** What it misses by at least: the range holds each of these cases, the one with the figures as they are among them. */
  const least = (fit: Fit, enough: number): number => {
    let most = fit.miss;
    for (let k = 0; k < cases.length && most <= enough; k++) {
      const miss = missIn(fit, cases[k]!);
      if (miss > enough) cases.unshift(...cases.splice(k, 1));
      most = Math.max(most, miss);
    }
    return most;
  };
  // What misses with the figures as they are cannot fit over their range.
  const open = tries.map((fit): Open => ({ fit, least: fit.miss, looked: "as it is", learnt }));
  for (const one of open.filter(({ fit }) => fit.miss === 0).sort((a, b) => order(a.fit, b.fit))) {
    one.least = least(one.fit, 0);
    one.looked = "cases";
    one.learnt = learnt;
    if (one.least > 0) continue;
    const fit = prove(one.fit, 0);
    if (fit.miss === 0) return { fit, neighbours: [], looked, proved };
    one.least = fit.miss;
  }
  // Nothing fits. The nearest is the first that is proved while no other can miss by less. What was learnt since a combination was looked at mostly refutes it
  // for a fraction of what its range costs, so it is looked at again before that. Kept sorted, the least last.
  const later = (a: Open, b: Open): number => b.least - a.least || order(b.fit, a.fit);
  open.sort(later);
  let nearest: Fit | undefined;
  let best = Number.POSITIVE_INFINITY;
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (next.looked === "proved") {
      nearest = next.fit;
      break;
    }
    if (next.looked === "as it is" || next.learnt < learnt) {
      next.least = Math.max(next.least, least(next.fit, best));
      next.looked = "cases";
      next.learnt = learnt;
    } else {
      next.fit = prove(next.fit, best);
      next.least = Math.max(next.least, next.fit.miss);
      next.looked = "proved";
      best = Math.min(best, next.fit.miss);
    }
    let [from, to] = [0, open.length];
    while (from < to) {
      const middle = (from + to) >> 1;
      if (later(open[middle]!, next) <= 0) from = middle + 1;
      else to = middle;
    }
    open.splice(from, 0, next);
  }
  const neighbours =
    nearest === undefined ? [] : tries.filter((other) => beside(other, nearest!)).sort((a, b) => a.miss - b.miss);
  return {
    ...(nearest === undefined ? {} : { nearest }),
    // As they are some of them fit; what they miss by over their ranges is told, so that none looks like a way out.
    neighbours: neighbours.slice(0, 4).map((fit) => prove(fit, Number.POSITIVE_INFINITY)),
    looked,
    proved,
  };
}

/** A try, what it is known to miss by at the least, and how that is known. */
interface Open {
  fit: Fit;
  least: number;
  looked: "as it is" | "cases" | "proved";
  /** How much had been learnt when it was looked at. */
  learnt: number;
}

/** So many are kept, the last that were learnt first. */
const CASES = 24;
const near = (a: readonly number[], b: readonly number[]): boolean => a.every((x, i) => Math.abs(x - b[i]!) < 1e-4);

/** Corners of the centre's box with the legs as they are. */
function casesOf(rig: Rig): Case[] {
  const { centre, within } = rig.load;
  const out = rig.legs.map(() => 0);
  const [xs, ys, zs] = within.map((play) => (play > 0 ? [-play, play] : [0]));
  return xs!.flatMap((x) =>
    ys!.flatMap((y) => zs!.map((z): Case => ({ centre: [centre[0] + x, centre[1] + y, centre[2] + z], out }))),
  );
}

/** Metres of slack that count as the same. */
const COARSE = 0.005;
const total = (fit: Fit): number => fit.taken.reduce((sum, n) => sum + n, 0);
const off = (wanted: Band, fit: Fit): number =>
  Math.abs(fit.pitch - (wanted.pitch[0] + wanted.pitch[1]) / 2) +
  Math.abs(fit.roll - (wanted.roll[0] + wanted.roll[1]) / 2);
/** Nothing is wanted of it. */
const ANY = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as const;
export const missOf = (wanted: Band, pitch: readonly [number, number], roll: readonly [number, number]): number =>
  Math.max(
    0,
    wanted.pitch[0] - pitch[0],
    pitch[1] - wanted.pitch[1],
    wanted.roll[0] - roll[0],
    roll[1] - wanted.roll[1],
  );
/** One step apart in one leg, or alike but for the pin. */
const beside = (a: Fit, b: Fit): boolean =>
  a.taken.reduce((sum, n, i) => sum + Math.abs(n - b.taken[i]!), a.pin === b.pin ? 0 : 1) === 1;
