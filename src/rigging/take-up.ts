// Owns the way back from a wanted attitude to lengths: how many links or notches to take up in each leg, and where on a beam to hang it.
//
// Every combination is looked at: hooks and shares of each set of one to three legs are worked out once for each choice of their own steps, so that a
// combination of all legs costs a few look-ups. What may fit is then proved by the ranges over all that is not known.

import { attitudeOf, tiltOf } from "./attitude.ts";
import { supportsOf } from "./family.ts";
import type { Rig, Vector } from "./problem.ts";
import { attitudeRange, type Nearby, rangesOf } from "./range.ts";
import { hookOfThree, hookOfTwo, sharesAt, tautStates } from "./taut.ts";
import { along, distance, subtract, unit } from "./vector.ts";

/** Degrees, from and to. */
export interface Band {
  readonly pitch: readonly [number, number];
  readonly roll: readonly [number, number];
}

export interface Fit {
  /** Steps taken up in each leg, in the rig's order. */
  readonly taken: readonly number[];
  /** Degrees: with the figures as they are, and over all that is not known. */
  readonly pitch: number;
  readonly roll: number;
  readonly range?: Band;
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

/** What a set of legs does at one choice of its steps. */
interface Held {
  readonly up: Vector;
  readonly tilt: number;
  /** From the hook to each of the rig's eyes. */
  readonly distances: readonly number[];
}

/**
 * Whole steps in each leg for a wanted attitude over the uncertainty: the fit with the least slack, then the fewest steps taken up. The rig is sound and has
 * one hook; at most four of its legs have a take-up.
 */
export function takeUpFor(rig: Rig, wanted: Band): TakeUpResult {
  const eyes = new Map(rig.eyes.map(({ id, at }) => [id, at]));
  const places = rig.legs.map((leg) => eyes.get(leg.lower)!);
  const choices = rig.legs.map((leg) => (leg.takeUp ? leg.takeUp.most + 1 : 1));
  const lengthOf = (i: number, taken: number): number =>
    rig.legs[i]!.length - (rig.legs[i]!.takeUp ? rig.legs[i]!.takeUp!.step * taken : 0);
  const tables = supportsOf(rig.legs.length).map((support) =>
    tableOf(support, places, choices, lengthOf, rig.load.centre),
  );

  const tries: Fit[] = [];
  const taken = choices.map(() => 0);
  let looked = 0;
  do {
    looked++;
    const lengths = taken.map((n, i) => lengthOf(i, n));
    const held = restsAt(tables, taken, choices, lengths);
    if (held === undefined) continue;
    const { pitch, roll } = attitudeOf(held.up);
    const slack = Math.max(0, ...lengths.map((l, i) => l - held.distances[i]!));
    tries.push({ taken: [...taken], pitch, roll, miss: missOf(wanted, [pitch, pitch], [roll, roll]), slack });
  } while (next(taken, choices));

  const order = (a: Fit, b: Fit): number =>
    Math.round(a.slack / COARSE) - Math.round(b.slack / COARSE) ||
    total(a) - total(b) ||
    off(wanted, a) - off(wanted, b);
  let proved = 0;
  /** What it misses by over its range; or, once that is more than `enough`, that alone and no range. */
  const prove = (fit: Fit, enough: number): Fit => {
    proved++;
    let beyond = 0;
    const found = attitudeRange(withTaken(rig, fit.taken), (what, degrees) => {
      beyond = missOf(wanted, what === "pitch" ? [degrees, degrees] : ANY, what === "roll" ? [degrees, degrees] : ANY);
      return beyond > enough;
    });
    if (found === undefined) return { ...fit, miss: Number.POSITIVE_INFINITY };
    const { at, ...range } = found;
    learn(at, fit.taken);
    return "tooFar" in range
      ? { ...fit, miss: beyond }
      : { ...fit, range, miss: missOf(wanted, range.pitch, range.roll) };
  };
  const cases = casesOf(rig);
  let learnt = 0;
  /** What was worst for one combination is mostly the worst for its like: the legs that carried out by as much, the others long. */
  const learn = (at: readonly Nearby[], taken: readonly number[]): void => {
    learnt++;
    for (const { centre, carrying } of at) {
      const out = rig.legs.map(({ within }) => within);
      for (const [i, reach] of carrying) out[i] = Math.max(-out[i]!, Math.min(out[i]!, reach - lengthOf(i, taken[i]!)));
      const same = cases.findIndex((known) => near(known.centre, centre) && near(known.out, out));
      cases.unshift(...(same < 0 ? [{ centre, out }] : cases.splice(same, 1)));
    }
    cases.length = Math.min(cases.length, CASES);
  };
  /** What it misses by at least: the range holds each of these cases, the one with the figures as they are among them. */
  const least = (fit: Fit, enough: number): number => {
    let most = fit.miss;
    for (let k = 0; k < cases.length && most <= enough; k++) {
      const { centre, out } = cases[k]!;
      const lengths = fit.taken.map((n, i) => lengthOf(i, n) + out[i]!);
      const miss = missAt(wanted, places, lengths, centre);
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
    nearest === undefined
      ? []
      : tries.filter((other) => beside(other.taken, nearest!.taken)).sort((a, b) => a.miss - b.miss);
  return {
    ...(nearest === undefined ? {} : { nearest }),
    neighbours: neighbours.slice(0, 4),
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

/** One of what may be: a centre, and by how much each leg is out. */
interface Case {
  readonly centre: Vector;
  readonly out: readonly number[];
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

/** By how much the stable state nearest to level misses. */
function missAt(wanted: Band, eyes: readonly Vector[], lengths: readonly number[], centre: Vector): number {
  let up: Vector | undefined;
  for (const { hook, stable } of tautStates(eyes, lengths, centre)) {
    const way = subtract(hook, centre);
    if (stable && (up === undefined || tiltOf(way) < tiltOf(up))) up = way;
  }
  if (up === undefined) return 0;
  const { pitch, roll } = attitudeOf(up);
  return missOf(wanted, [pitch, pitch], [roll, roll]);
}

/** Metres of slack that count as the same. */
const COARSE = 0.005;
const total = (fit: Fit): number => fit.taken.reduce((sum, n) => sum + n, 0);
const off = (wanted: Band, fit: Fit): number =>
  Math.abs(fit.pitch - (wanted.pitch[0] + wanted.pitch[1]) / 2) +
  Math.abs(fit.roll - (wanted.roll[0] + wanted.roll[1]) / 2);
/** Nothing is wanted of it. */
const ANY = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as const;
const missOf = (wanted: Band, pitch: readonly [number, number], roll: readonly [number, number]): number =>
  Math.max(
    0,
    wanted.pitch[0] - pitch[0],
    pitch[1] - wanted.pitch[1],
    wanted.roll[0] - roll[0],
    roll[1] - wanted.roll[1],
  );
/** One step apart in one leg. */
const beside = (a: readonly number[], b: readonly number[]): boolean =>
  a.reduce((sum, n, i) => sum + Math.abs(n - b[i]!), 0) === 1;

/** The rig with so many steps taken up in each leg. */
export const withTaken = (rig: Rig, taken: readonly number[]): Rig => ({
  ...rig,
  legs: rig.legs.map((leg, i) => (leg.takeUp ? { ...leg, takeUp: { ...leg.takeUp, taken: taken[i]! } } : leg)),
});

/** Counts `taken` on; false after the last. */
function next(taken: number[], choices: readonly number[]): boolean {
  for (let i = 0; i < taken.length; i++) {
    taken[i] = taken[i]! + 1;
    if (taken[i]! < choices[i]!) return true;
    taken[i] = 0;
  }
  return false;
}

interface Table {
  readonly support: readonly number[];
  readonly states: readonly (readonly Held[])[];
}

function tableOf(
  support: readonly number[],
  eyes: readonly Vector[],
  choices: readonly number[],
  lengthOf: (i: number, taken: number) => number,
  centre: Vector,
): Table {
  const own = support.map((i) => choices[i]!);
  const states: Held[][] = [];
  const taken = own.map(() => 0);
  do {
    const reach = support.map((i, k) => lengthOf(i, taken[k]!));
    const at = support.map((i) => eyes[i]!);
    const hooks: (Vector | undefined)[] =
      support.length === 1
        ? [along(at[0]!, unit(subtract(at[0]!, centre)), reach[0]!)]
        : support.length === 2
          ? [hookOfTwo(at[0]!, at[1]!, reach[0]!, reach[1]!, centre, 1)]
          : [1, -1].map((side) => hookOfThree([at[0]!, at[1]!, at[2]!], [reach[0]!, reach[1]!, reach[2]!], side));
    states.push(
      hooks.flatMap((hook) => {
        if (hook === undefined || !sharesAt(at, hook, centre)?.every((share) => share >= -1e-9)) return [];
        const up = unit(subtract(hook, centre));
        return [{ up, tilt: tiltOf(up), distances: eyes.map((eye) => distance(eye, hook)) }];
      }),
    );
  } while (next(taken, own));
  return { support, states };
}

/** The stable state nearest to level at these steps. */
function restsAt(
  tables: readonly Table[],
  taken: readonly number[],
  choices: readonly number[],
  lengths: readonly number[],
): Held | undefined {
  let best: Held | undefined;
  for (const { support, states } of tables) {
    let index = 0;
    for (let k = support.length - 1; k >= 0; k--) index = index * choices[support[k]!]! + taken[support[k]!]!;
    for (const state of states[index]!)
      if (
        (best === undefined || state.tilt < best.tilt) &&
        lengths.every((l, i) => support.includes(i) || state.distances[i]! <= l * (1 + 1e-9))
      )
        best = state;
  }
  return best;
}

export interface PinFit {
  /** The point of the beam that hangs on the hook. */
  readonly pin: string;
  readonly range: Band;
  readonly miss: number;
}

/** Where on the beam to hang it: each of its points tried as the pin, the least miss first; corners of what is not known, without proof. */
export function pinFor(rig: Rig, pins: readonly string[], wanted: Band): PinFit[] {
  const beam = rig.beam;
  if (beam === undefined) return [];
  return pins
    .flatMap((pin): PinFit[] => {
      const found = rangesOf({ ...rig, beam: { ...beam, pin } });
      if (found.kind !== "ranges") return [];
      const range: Band = {
        pitch: [found.pitch.low.bound, found.pitch.high.bound],
        roll: [found.roll.low.bound, found.roll.high.bound],
      };
      return [{ pin, range, miss: missOf(wanted, range.pitch, range.roll) }];
    })
    .sort((a, b) => a.miss - b.miss);
}
