// Owns the ranges of a rig where no bounds were proved: cases hung one by one, chosen where the extremes are likely, and no proof that nothing lies outside.
//
// Why no proof: a rig with a beam or two hooks has up to twelve freedoms beside its pulls, and with stiff legs a millimetre decides which of them carry, so bounds by
// intervals come out wider than what they are to bound; under one hook it is much stretch that does that (docs/rigging.md, "Ranges").

import { GRAVITY } from "./gravity.ts";
import { hangSound } from "./hang.ts";
import type { Sample } from "./hang-options.ts";
import { madeLength, stiffnessBounds } from "./leg.ts";
import type { Rig, Vector } from "./problem.ts";
import type { End, Range, RangeResult } from "./ranges.ts";
import type { Hanging } from "./result.ts";

/** What is not known: mass, the centre's three coordinates, each leg's length and stiffness. Of each its least, what it is taken for, and its most. */
type Doubts = readonly (readonly [number, number, number])[];

type Hung = { readonly sample: Required<Sample>; readonly result: Hanging };

/** Tried ranges of a sound rig. */
export function rangesTried(rig: Rig): RangeResult {
  const hung = worstOf(rig, [
    pitchOf,
    rollOf,
    ({ overCentre }) => overCentre,
    ({ stability }) => stability.margin,
    ...rig.legs.flatMap((_, i) => [({ legs }: Hanging) => legs[i]!.tension, ({ legs }: Hanging) => legs[i]!.angle]),
    ...rig.hooks.map(
      (_, i) =>
        ({ hooks }: Hanging) =>
          hooks[i]!.load,
    ),
  ]);
  if (hung === undefined) return { kind: "unbounded", why: { is: "tips somewhere" } };
  const { mass } = rig.load;
  const range = (value: Figure): Range => rangeOf(hung, value);
  return {
    kind: "ranges",
    pitch: range(pitchOf),
    roll: range(rollOf),
    overCentre: range(({ overCentre }) => overCentre),
    margin: range(({ stability }) => stability.margin),
    legs: rig.legs.map((leg, i) => {
      const tension = range(({ legs }) => legs[i]!.tension);
      return { id: leg.id, tension, angle: range(({ legs }) => legs[i]!.angle), maySlack: tension.low.bound <= 0 };
    }),
    hooks: rig.hooks.map(({ id }, i) => ({ id, load: range(({ hooks }) => hooks[i]!.load) })),
    weight: [mass.low * GRAVITY, mass.high * GRAVITY],
    status: "tried",
    carrying: carryingIn(hung),
  };
}

/** Tried ranges of pitch and roll alone, for a fraction of what all take; undefined where it does not hang in every case. */
export function attitudeTried(rig: Rig): { readonly pitch: Range; readonly roll: Range } | undefined {
  const hung = worstOf(rig, [pitchOf, rollOf]);
  return hung && { pitch: rangeOf(hung, pitchOf), roll: rangeOf(hung, rollOf) };
}

type Figure = (result: Hanging) => number;
const pitchOf: Figure = ({ pitch }) => pitch;
const rollOf: Figure = ({ roll }) => roll;

/**
 * The corners of mass and centre with the legs as they are; and from the worst of them, for every figure each way, from corner to corner of all that is not
 * known as long as turning over one doubt, or all at once that by themselves make it worse, does. Undefined where one of the cases does not hang.
 */
function worstOf(rig: Rig, figures: readonly Figure[]): readonly Hung[] | undefined {
  const doubts = doubtsOf(rig);
  const known = new Map<string, Hung | undefined>();
  const at = (signs: readonly number[]): Hung | undefined => {
    const effective = signs.map((sign, i) => (doubts[i]![0] < doubts[i]![2] ? sign : 0));
    const key = effective.join();
    if (!known.has(key)) known.set(key, hungAt(rig, doubts, effective));
    return known.get(key);
  };
  const starts = corners(4).map((corner) => [...corner, ...doubts.slice(4).map(() => 0)]);
  if (starts.some((signs) => at(signs) === undefined)) return undefined;
  for (const figure of figures)
    for (const way of [1, -1]) {
      const value = (signs: readonly number[]): number => {
        const hung = at(signs);
        return hung === undefined ? Number.NEGATIVE_INFINITY : way * figure(hung.result);
      };
      climb(starts, value);
    }
  const hung = [...known.values()];
  return hung.every((each) => each !== undefined) ? hung : undefined;
}

/** Corners gone on to at most, for one figure. */
const STEPS = 4;

/** From the start with the most of a value on to corners with more of it. */
function climb(starts: readonly (readonly number[])[], value: (signs: readonly number[]) => number): void {
  let here = starts.reduce((a, b) => (value(b) > value(a) ? b : a));
  for (let step = 0; step < STEPS; step++) {
    const better = here.map((sign, i) => {
      const tries = sign === 0 ? [1, -1] : [-sign];
      return tries.find((other) => value(here.with(i, other)) > value(here)) ?? sign;
    });
    const next = [better, ...better.map((sign, i) => here.with(i, sign))].reduce((a, b) =>
      value(b) > value(a) ? b : a,
    );
    if (!(value(next) > value(here))) break;
    here = next;
  }
}

function rangeOf(hung: readonly Hung[], value: Figure): Range {
  const end = (sign: 1 | -1): End => {
    const worst = hung.reduce((a, b) => (sign * value(b.result) > sign * value(a.result) ? b : a));
    const reached = value(worst.result);
    const carrying = worst.result.legs.filter(({ tension }) => tension > 0).map(({ id }) => id);
    return { bound: reached, reached, at: { ...worst.sample, carrying } };
  };
  return { low: end(-1), high: end(1) };
}

/** Sets of legs that carry in one case or another. */
function carryingIn(hung: readonly Hung[]): readonly (readonly string[])[] {
  const sets = hung.map(({ result }) => result.legs.flatMap(({ id, tension }) => (tension > 0 ? [id] : [])));
  return [...new Map(sets.map((set) => [set.join(), set])).values()];
}

function doubtsOf(rig: Rig): Doubts {
  const { mass, centre, within } = rig.load;
  return [
    [mass.low, (mass.low + mass.high) / 2, mass.high],
    ...centre.map((c, i) => about(c, within[i]!)),
    ...rig.legs.map((leg) => about(madeLength(leg), leg.within)),
    ...rig.legs.map((leg) => {
      const likely = leg.stiffness ?? Number.POSITIVE_INFINITY;
      const [low, high] = stiffnessBounds(leg) ?? [likely, likely];
      return [low, likely, high] as const;
    }),
  ];
}

const about = (middle: number, out: number): readonly [number, number, number] => [middle - out, middle, middle + out];

function hungAt(rig: Rig, doubts: Doubts, signs: readonly number[]): Hung | undefined {
  const [mass, x, y, z, ...more] = doubts.map((doubt, i) => doubt[1 + signs[i]!]!);
  const centre: Vector = [x!, y!, z!];
  const n = rig.legs.length;
  const sample = { mass: mass!, centre, lengths: more.slice(0, n), stiffness: more.slice(n) };
  const result = hangSound(rig, { sample });
  return result.kind === "hangs" ? { sample, result } : undefined;
}

/** All corners of so many doubts, as signs. */
const corners = (count: number): number[][] =>
  Array.from({ length: 2 ** count }, (_, code) => Array.from({ length: count }, (_, i) => ((code >> i) & 1 ? 1 : -1)));
