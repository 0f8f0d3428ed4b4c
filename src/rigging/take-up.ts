// Owns the way back from a wanted attitude to lengths: how many links or notches to take up in each leg, and where on a beam to hang it.
//
// Every combination is looked at: hooks and shares of each set of one to three legs are worked out once for each choice of their own steps, so that a
// combination of all legs costs a few look-ups. What may fit is then proved by the ranges over all that is not known.

import { attitudeOf, tiltOf } from "./attitude.ts";
import { supportsOf } from "./family.ts";
import { type HeldRig, heldRig } from "./held-rig.ts";
import { madeLength } from "./leg.ts";
import type { Rig, Vector } from "./problem.ts";
import { attitudeRange, type Nearby, rangesOf } from "./range.ts";
import { attitudeOfBodies } from "./range-bodies.ts";
import type { Ranges } from "./ranges.ts";
import { type Band, bestOf, type Case, type Fit, missOf, type TakeUpResult } from "./search.ts";
import type { Poses } from "./strain.ts";
import { hookOfThree, hookOfTwo, sharesAt, tautStates } from "./taut.ts";
import { attitudeTried } from "./tried.ts";
import { along, distance, subtract, unit } from "./vector.ts";

/** What a set of legs does at one choice of its steps. */
interface Held {
  readonly up: Vector;
  readonly tilt: number;
  /** From the hook to each of the rig's eyes. */
  readonly distances: readonly number[];
}

/**
 * Whole steps in each leg for a wanted attitude over the uncertainty: the fit with the least slack, then the fewest steps taken up. The rig is sound; at most
 * four of its legs have a take-up.
 */
export function takeUpFor(rig: Rig, wanted: Band): TakeUpResult {
  if (rig.beam || rig.hooks.length > 1) return takeUpBodies(rig, wanted);
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
  let tried = 0;
  do {
    looked++;
    const lengths = taken.map((n, i) => lengthOf(i, n));
    const held = restsAt(tables, taken, choices, lengths);
    if (held === undefined) continue;
    const { pitch, roll } = attitudeOf(held.up);
    const slack = Math.max(0, ...lengths.map((l, i) => l - held.distances[i]!));
    tries.push({ taken: [...taken], pitch, roll, miss: missOf(wanted, [pitch, pitch], [roll, roll]), slack });
  } while (next(taken, choices));
  return bestOf(
    rig,
    wanted,
    { tries, looked },
    {
      missIn: ({ taken: own }, { centre, out }) =>
        missAt(
          wanted,
          places,
          own.map((n, i) => lengthOf(i, n) + out[i]!),
          centre,
        ),
      rangeOf: ({ taken: own }, tooFar) => {
        const made = withTaken(rig, own);
        const found = attitudeRange(made, tooFar);
        if (found === undefined) return tried++ < TRIED ? spanOf(made, attitudeTried(made), true) : undefined;
        const { at, ...range } = found;
        return { ...("tooFar" in range ? {} : range), ends: at.map((end) => caseAt(rig, own, lengthOf, end)) };
      },
    },
  );
}

/** What was worst for one combination is mostly the worst for its like: the legs that carried out by as much, the others long. */
function caseAt(
  rig: Rig,
  taken: readonly number[],
  lengthOf: (i: number, taken: number) => number,
  { centre, carrying }: Nearby,
): Case {
  const out = rig.legs.map(({ within }) => within);
  for (const [i, reach] of carrying) out[i] = Math.max(-out[i]!, Math.min(out[i]!, reach - lengthOf(i, taken[i]!)));
  return { centre, out };
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

/** A beam that is to be hung by one of its points. */
export const hungBy = (rig: Rig, pin: string | undefined): Rig =>
  rig.beam && pin !== undefined ? { ...rig, beam: { ...rig.beam, pin } } : rig;

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
  /** Its range is proved, and not only of cases tried. */
  readonly proved: boolean;
}

/** Where on the beam to hang it, the legs as they are: each of these points as the pin, the least miss first. */
export function pinFor(rig: Rig, pins: readonly string[], wanted: Band): PinFit[] {
  return pins
    .flatMap((pin): PinFit[] => {
      const found = rangesOf(hungBy(rig, pin));
      if (found.kind !== "ranges") return [];
      const range = bandOf(found);
      return [{ pin, range, miss: missOf(wanted, range.pitch, range.roll), proved: found.status === "proved" }];
    })
    .sort((a, b) => a.miss - b.miss);
}

const bandOf = ({ pitch, roll }: Pick<Ranges, "pitch" | "roll">): Band => ({
  pitch: [pitch.low.bound, pitch.high.bound],
  roll: [roll.low.bound, roll.high.bound],
});

/** Points of a beam that no leg takes: what it may be hung by. Of a beam without a pin, none. */
export function pinsOf({ beam, legs }: Rig): readonly string[] {
  if (beam?.pin === undefined) return [];
  const taken = new Set(legs.flatMap(({ lower, upper }) => [lower, upper]));
  return beam.points.map(({ id }) => id).filter((id) => !taken.has(id));
}

/** Degrees by which the quick statics of the first look may be off. */
const QUICK = 0.01;

/** The same below a beam or on two hooks: steps of every leg, and every point that the beam may be hung by; each looked at by quick statics, the likely ones held against their ranges. */
function takeUpBodies(rig: Rig, wanted: Band): TakeUpResult {
  const choices = rig.legs.map((leg) => (leg.takeUp ? leg.takeUp.most + 1 : 1));
  const pins = pinsOf(rig);
  const tries: Fit[] = [];
  let looked = 0;
  const own = new Map<string | undefined, QuickHang>();
  for (const pin of pins.length > 1 ? pins : [undefined]) {
    const quick = new QuickHang(hungBy(rig, pin));
    own.set(pin, quick);
    const taken = choices.map(() => 0);
    do {
      looked++;
      const found = quick.hang(taken, rig.load.centre);
      if (found === undefined) continue;
      const { pitch, roll, slack } = found;
      const miss = Math.max(0, missOf(wanted, [pitch, pitch], [roll, roll]) - QUICK);
      tries.push({ taken: [...taken], ...(pin === undefined ? {} : { pin }), pitch, roll, miss, slack });
    } while (next(taken, choices));
  }
  return bestOf(
    rig,
    wanted,
    { tries, looked },
    {
      missIn: ({ pin, taken }, { centre, out }) => {
        const found = own.get(pin)!.hang(taken, centre, out);
        return found === undefined
          ? 0
          : Math.max(0, missOf(wanted, [found.pitch, found.pitch], [found.roll, found.roll]) - QUICK);
      },
      rangeOf: ({ pin, taken }) => {
        const made = withTaken(hungBy(rig, pin), taken);
        const range = attitudeOfBodies(made);
        return spanOf(made, range, range?.tried);
      },
    },
  );
}

/** A range as the search has it, and what was worst. */
function spanOf(
  rig: Rig,
  range: Pick<Ranges, "pitch" | "roll"> | undefined,
  tried: true | undefined,
): (Band & { readonly tried?: true; readonly ends: readonly Case[] }) | undefined {
  if (range === undefined) return undefined;
  const ends = [range.pitch.low, range.pitch.high, range.roll.low, range.roll.high].map(
    ({ at }): Case => ({ centre: at.centre, out: at.lengths.map((l, i) => l - madeLength(rig.legs[i]!)) }),
  );
  return { ...bandOf(range), ...(tried ? { tried } : {}), ends };
}

/** Combinations under one hook at most that are hung case by case, where no range is proved; each takes up to a tenth of a second. */
const TRIED = 40;

/** One rig hung again and again with other steps, from where it hung last. */
class QuickHang {
  private readonly rig: Rig;
  private readonly held: HeldRig;
  private readonly last: Poses;

  constructor(rig: Rig) {
    this.rig = rig;
    this.held = heldRig(rig, FIRM);
    this.last = this.held.freed(0);
  }

  /** Undefined where it does not hang near level. */
  hang(
    taken: readonly number[],
    centre: Vector,
    out?: readonly number[],
  ): { readonly pitch: number; readonly roll: number; readonly slack: number } | undefined {
    const { load, weight, beam, legsOf, hooksAt, freed } = this.held;
    const lengths = withTaken(this.rig, taken).legs.map((leg, i) => madeLength(leg) + (out?.[i] ?? 0));
    const asked = { weight, centre, legs: legsOf(lengths), ties: [], hooks: hooksAt(0), ...(beam ? { beam } : {}) };
    // Nothing-known-better: where it hung last; and anew from its first hanging where that led astray.
    for (const from of [this.last, freed(0)]) {
      const { pitch, roll, slack } = load.rest(asked, from, this.last);
      if (Math.max(Math.abs(pitch), Math.abs(roll)) < STEEP) return { pitch, roll, slack };
    }
    this.last.set(freed(0));
    return undefined;
  }
}

/** N/m over the weight of a leg that does not stretch, for the first look; and degrees beyond which nothing is wanted. */
const FIRM = 4e4;
const STEEP = 85;
