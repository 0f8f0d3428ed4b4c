// Owns the ranges of a hanging over all that is not known: mass, centre, lengths. Bounds that hold whatever the case, and the worst case of each.

import { DEGREES } from "./attitude.ts";
import type { Demand } from "./check.ts";
import { Asked, type Edges, extreme, type Part } from "./enclose.ts";
import { boxOf, type FamilyLeg, familyOf, OUTPUT, supportsOf } from "./family.ts";
import { GRAVITY } from "./gravity.ts";
import { hangSound, springsOf } from "./hang.ts";
import type { Sample } from "./hang-options.ts";
import { madeLength, stiffnessBounds } from "./leg.ts";
import type { Rig, Vector } from "./problem.ts";
import { rangesOfBodies, sharedBy, TIPPING } from "./range-bodies.ts";
import type { Case, End, LegRange, Range, RangeResult, Ranges } from "./ranges.ts";
import type { Hanging } from "./result.ts";
import { rangesTried } from "./tried.ts";

/**
 * The ranges of a sound rig. Under one hook its tensions are bounded whatever the legs' stiffness within the stretch that they bound in turn, so where
 * more than three legs share, nothing is counted on that a millimetre could undo; but where the file says how far their stiffness is known and they are soft
 * enough all to pull in any case, their sharing is bounded as it is.
 */
export function rangesOf(rig: Rig): RangeResult {
  if (rig.beam || rig.hooks.length > 1) return rangesOfBodies(rig);
  const nominal = hangSound(rig);
  if (nominal.kind === "tips") return TIPPING;
  if (nominal.kind === "refused") return { kind: "unbounded", why: { is: "would not hang" } };
  return sharedBy(rig) ?? proved(rig, nominal) ?? rangesTried(rig);
}

/** The bounds by families; undefined where they have none, most of all where much stretch leaves open which legs carry. */
function proved(rig: Rig, nominal: Hanging): Ranges | undefined {
  const { mass, centre, within } = rig.load;
  const [light, heavy] = [mass.low * GRAVITY, mass.high * GRAVITY];
  const centres: Edges = centre.map((c, i) => [c - within[i]!, c + within[i]!] as const);
  const springs = springsOf(rig);

  // A leg that pulls upwards at angle a carries at most W/sin a, and mostly no more than two that share. What is supposed is proved afterwards: bounds found for
  // legs that stretch so far, and no greater than what stretched them, hold (docs/rigging.md, "Ranges").
  const steepness = Math.sin(Math.max(5, Math.min(...nominal.legs.map(({ angle }) => angle)) - 5) / DEGREES);
  const most = heavy / steepness;
  let pulls = springs.map(() => (springs.length > 2 ? 0.8 : 1) * most);
  let found: Found | undefined;
  let sure = false;
  for (let round = 0; ; round++) {
    const legs = springs.map((spring, i): FamilyLeg => {
      const { within: play } = rig.legs[i]!;
      const [softest] = stiffnessBounds(rig.legs[i]!) ?? [];
      const stretch = softest === undefined ? 0 : (pulls[i]! * spring.length) / softest;
      return { eye: spring.eye, lengths: [spring.length - play, (spring.length + play) * (1 + 1e-12) + stretch] };
    });
    found = explore(rig, legs, centres);
    if (found === undefined) return undefined;
    const bounds = springs.map((_, i) => heavy * Math.max(0, found!.share(i, 1)?.bound ?? 0));
    // Once that much is proved no leg stretches farther, and what a smaller box gives holds without asking again.
    if (!sure && bounds.some((bound, i) => !(bound <= pulls[i]!))) {
      if (round > 0) return undefined;
      pulls = springs.map(() => most);
      continue;
    }
    sure = true;
    const gain = springs.some(
      (s, i) => s.stiffness !== undefined && ((pulls[i]! - bounds[i]!) * s.length) / s.stiffness > 1e-3,
    );
    if (!gain || round > 1) break;
    pulls = bounds;
  }
  return assemble(rig, found, light, heavy);
}

/** What comes nearest to an end: a centre, and metres of the legs that carry there. */
export interface Nearby {
  readonly centre: Vector;
  readonly carrying: readonly (readonly [number, number])[];
}
export interface AttitudeRange {
  readonly pitch: readonly [number, number];
  readonly roll: readonly [number, number];
  readonly at: readonly Nearby[];
}

/**
 * Pitch and roll alone, degrees, for a sound rig under one hook; undefined when they have no bounds that tell something. What a search asks of each of its tries.
 *
 * @param tooFar asked of each end as it is found; true: no more is wanted of this rig, and only `tooFar` and what was met so far comes back.
 */
export function attitudeRange(rig: Rig): AttitudeRange | undefined;
export function attitudeRange(
  rig: Rig,
  tooFar: (what: "pitch" | "roll", degrees: number) => boolean,
): AttitudeRange | { readonly tooFar: true; readonly at: readonly Nearby[] } | undefined;
export function attitudeRange(
  rig: Rig,
  tooFar?: (what: "pitch" | "roll", degrees: number) => boolean,
): AttitudeRange | { readonly tooFar: true; readonly at: readonly Nearby[] } | undefined {
  const nominal = hangSound(rig);
  if (nominal.kind !== "hangs") return undefined;
  const { centre, within } = rig.load;
  // No leg pulls more than it would alone, as near to the horizontal as it may come while the load stays about where it hangs.
  const lean = Math.max(FLAT, Math.min(...nominal.legs.map(({ angle }) => angle)) - LEAN);
  const most = (rig.load.mass.high * GRAVITY) / Math.sin(lean / DEGREES);
  const legs = springsOf(rig).map((spring, i): FamilyLeg => {
    const { within: play } = rig.legs[i]!;
    const [softest] = stiffnessBounds(rig.legs[i]!) ?? [];
    const stretch = softest === undefined ? 0 : (most * spring.length) / softest;
    return { eye: spring.eye, lengths: [spring.length - play, (spring.length + play) * (1 + 1e-12) + stretch] };
  });
  const found = explore(
    rig,
    legs,
    centre.map((c, i) => [c - within[i]!, c + within[i]!] as const),
  );
  if (found === undefined) return undefined;
  const at: Nearby[] = [];
  const ends: number[] = [];
  for (const [what, output, sign, value] of ENDS) {
    const end = found.whole(output, sign);
    if (end === undefined || !Number.isFinite(end.bound)) return undefined;
    const degrees = value(end.bound);
    const reached = end.value === undefined ? undefined : value(end.value);
    if (reached === undefined ? Math.abs(degrees) > STEEP : Math.abs(degrees - reached) > LOOSE) return undefined;
    if (end.at !== undefined)
      at.unshift({
        centre: [end.at[0]!, end.at[1]!, end.at[2]!],
        carrying: end.support.map((i, k) => [i, end.at![3 + k]!] as const),
      });
    if (tooFar?.(what, degrees)) return { tooFar: true, at };
    if (lean > FLAT && Math.abs(degrees - nominal[what]) > LEAN - 2) return undefined;
    ends.push(degrees);
  }
  return { pitch: [ends[0]!, ends[1]!], roll: [ends[2]!, ends[3]!], at };
}

/** Degrees by which a bound may go beyond what some case reaches, and still tell something; and how far it may go where no case was found. */
const LOOSE = 15;
const STEEP = 45;
/** Degrees that a leg may lean farther over than it does with the figures as they are, as long as the load tilts by less; and from the horizontal, what the checks refuse in any case. */
const LEAN = 10;
const FLAT = 20;

interface Family extends Part {
  readonly support: readonly number[];
}
interface Located {
  readonly bound: number;
  readonly at?: readonly number[];
  readonly value?: number;
  readonly support: readonly number[];
}

interface Found {
  readonly legs: readonly FamilyLeg[];
  readonly supports: readonly (readonly number[])[];
  /** The extreme of an output over all families. */
  readonly whole: (output: number, sign: 1 | -1) => Located | undefined;
  /** Extremes over the families in which leg i carries. */
  readonly share: (i: number, sign: 1 | -1) => Located | undefined;
  readonly cosine: (i: number, sign: 1 | -1) => Located | undefined;
}

function explore(rig: Rig, legs: readonly FamilyLeg[], centres: Edges): Found | undefined {
  const families = supportsOf(rig.legs.length).flatMap((support) => {
    const asked = new Asked(familyOf(legs, support), boxOf(centres, legs, support));
    if (!possible(asked, 12)) return [];
    return [
      {
        support,
        asked,
        ...(support.length === 2 && legs.length > 2 ? { swung: once(() => swingOf(legs, support, centres)) } : {}),
      },
    ];
  });
  if (families.length === 0) return undefined;
  const over = (output: (support: readonly number[]) => number | undefined, sign: 1 | -1): Located | undefined => {
    const parts = families.flatMap(({ support, asked, swung }): Family[] => {
      const index = output(support);
      if (index === undefined) return [];
      return [{ support, asked, output: index, ...(swung && index < OUTPUT.margin ? { held: swung } : {}) }];
    });
    const found = extreme(parts, sign);
    if (found === undefined) return undefined;
    const { bound, at, value, part } = found;
    return { bound, support: part?.support ?? parts[0]!.support, ...(at && value !== undefined ? { at, value } : {}) };
  };
  const memo = <T>(make: (i: number, sign: 1 | -1) => T): ((i: number, sign: 1 | -1) => T) => {
    const known = new Map<number, T>();
    return (i, sign) => {
      const key = 2 * i + (sign > 0 ? 1 : 0);
      if (!known.has(key)) known.set(key, make(i, sign));
      return known.get(key)!;
    };
  };
  const place =
    (i: number, more: number) =>
    (support: readonly number[]): number | undefined => {
      const index = support.indexOf(i);
      return index < 0 ? undefined : OUTPUT.legs + 2 * index + more;
    };
  return {
    legs,
    supports: families.map(({ support }) => support),
    whole: memo((output, sign) => over(() => output, sign)),
    share: memo((i, sign) => over(place(i, 0), sign)),
    cosine: memo((i, sign) => over(place(i, 1), sign)),
  };
}

/**
 * Two legs that carry while others hang slack: they let the load turn about the line of their eyes only so far as the slack ones allow. The same states as
 * three legs taut, the third of any length that the others leave room for; that bounds the attitude where the pair's own formulas do not.
 */
function swingOf(legs: readonly FamilyLeg[], pair: readonly number[], centres: Edges): Asked | undefined {
  for (const third of legs.keys()) {
    if (pair.includes(third)) continue;
    const most = legs[third]!.lengths[1];
    const reach = reachOf(legs, [...pair, third], most);
    if (reach === undefined || reach[0] <= SHORTEST * most * 1.01) continue;
    const wide = legs.with(third, { eye: legs[third]!.eye, lengths: reach });
    return new Asked(familyOf(wide, [...pair, third]), boxOf(centres, wide, [...pair, third]));
  }
  return undefined;
}

const SHORTEST = 0.3;

/** From where to where the third leg's ends may be apart with none of the others overstretched, from outside, by halving. */
function reachOf(
  legs: readonly FamilyLeg[],
  support: readonly number[],
  most: number,
): readonly [number, number] | undefined {
  const family = familyOf(legs, support);
  // Where the hook is does not depend on the centre; any that hangs under all of them will do for asking.
  const point: Edges = legs[support[0]!]!.eye.map((x, i) =>
    i === 2 ? ([x - 10, x - 10] as const) : ([x, x] as const),
  );
  const free = (lo: number, hi: number): boolean =>
    family([...point, ...support.slice(0, 2).map((i) => legs[i]!.lengths), [lo, hi]], false)?.reachable() ?? false;
  const edge = (from: number, to: number): number => {
    // From `from` towards `to`, whole pieces that are proved impossible.
    let at = from;
    for (let piece = (to - from) / 2; Math.abs(piece) > 1e-3 * most; ) {
      if (!free(Math.min(at, at + piece), Math.max(at, at + piece))) at += piece;
      else piece /= 2;
      if (Math.abs(at - to) < 1e-12) return to;
    }
    return at;
  };
  if (!free(SHORTEST * most, most)) return undefined;
  return [edge(SHORTEST * most, most), most];
}

/** Whether some of the box is possible, as far as halving it a few times tells. */
function possible(asked: Asked, boxes: number): boolean {
  if (asked.middle?.possible()) return true;
  const open = asked.may(asked.box) ? [{ edges: asked.box, depth: 0 }] : [];
  for (let looked = 0; open.length > 0; looked++) {
    if (looked >= boxes) return true;
    const { edges, depth } = open.pop()!;
    const side = sideOf(edges, depth);
    const [lo, hi] = edges[side]!;
    if (hi - lo < 1e-9) return true;
    for (const half of [edges.with(side, [lo, (lo + hi) / 2]), edges.with(side, [(lo + hi) / 2, hi])])
      if (asked.may(half)) open.push({ edges: half, depth: depth + 1 });
  }
  return false;
}

const CENTRE = 3;

/** Which side to halve: the widest; but of three legs, whose lengths place the hook the more wildly the thinner the triangle of their eyes is, theirs before the centre's. */
function sideOf(edges: Edges, depth: number): number {
  const legs = edges.length - CENTRE;
  const turn = depth % (legs + 1);
  if (legs === 3 && turn < legs) return CENTRE + turn;
  return edges.reduce(
    (w, [lo, hi], i) => ((legs < 3 || i < CENTRE) && hi - lo > edges[w]![1] - edges[w]![0] ? i : w),
    0,
  );
}

/** Worked out when it is first asked for. */
function once<T>(make: () => T): () => T {
  let known: readonly [T] | undefined;
  return () => {
    known ??= [make()];
    return known[0];
  };
}

const roll = (aside: number): number => Math.atan(aside) * DEGREES;
const pitch = (forward: number): number => -Math.asin(Math.max(-1, Math.min(1, forward))) * DEGREES;
const ENDS = [
  ["pitch", OUTPUT.forward, 1, pitch],
  ["pitch", OUTPUT.forward, -1, pitch],
  ["roll", OUTPUT.aside, -1, roll],
  ["roll", OUTPUT.aside, 1, roll],
] as const;
const angle = (cosine: number): number => 90 - Math.acos(Math.max(-1, Math.min(1, cosine))) * DEGREES;

function assemble(rig: Rig, found: Found, light: number, heavy: number): Ranges | undefined {
  const caseOf = ({ at, support }: Located, mass: number): Case => ({
    mass,
    centre: at === undefined ? rig.load.centre : [at[0]!, at[1]!, at[2]!],
    lengths: rig.legs.map((leg, i) => {
      const index = support.indexOf(i);
      return index < 0 || at === undefined ? madeLength(leg) : at[3 + index]!;
    }),
    carrying: support.map((i) => rig.legs[i]!.id),
  });
  const end = (extremeOf: Located, value: (x: number) => number, mass: number): End => ({
    bound: value(extremeOf.bound),
    reached: value(extremeOf.value ?? extremeOf.bound),
    at: caseOf(extremeOf, mass),
  });
  const missing: string[] = [];
  const range = (
    get: (sign: 1 | -1) => Located | undefined,
    value: (x: number) => number,
    falling: boolean,
    masses: readonly [number, number],
  ): Range => {
    const [lowAt, highAt] = [get(falling ? 1 : -1), get(falling ? -1 : 1)];
    if (lowAt === undefined || highAt === undefined || !Number.isFinite(lowAt.bound + highAt.bound))
      missing.push("a bound");
    const none: Located = { bound: Number.NaN, support: [] };
    return { low: end(lowAt ?? none, value, masses[0]), high: end(highAt ?? none, value, masses[1]) };
  };
  const { mass } = rig.load;
  const same = [mass.nominal, mass.nominal] as const;
  const legs = rig.legs.map((leg, i): LegRange => {
    // A leg that no possible state needs never carries at all.
    const sometimes = found.share(i, 1) !== undefined;
    const always = found.supports.every((support) => support.includes(i));
    const nothing: End = { bound: 0, reached: 0, at: caseOf(found.whole(OUTPUT.height, 1)!, mass.nominal) };
    if (!sometimes)
      return {
        id: leg.id,
        tension: { low: nothing, high: nothing },
        angle: { low: nothing, high: nothing },
        maySlack: true,
      };
    const tension = range(
      (sign) => found.share(i, sign),
      (x) => Math.max(0, x),
      false,
      [mass.low, mass.high],
    );
    const slack = !always || tension.low.bound <= 0;
    const without = found.supports.find((support) => !support.includes(i));
    return {
      id: leg.id,
      tension: {
        low: slack
          ? {
              bound: 0,
              reached: 0,
              at: { ...tension.low.at, ...(without ? { carrying: without.map((j) => rig.legs[j]!.id) } : {}) },
            }
          : { ...tension.low, bound: tension.low.bound * light, reached: tension.low.reached * light },
        high: { ...tension.high, bound: tension.high.bound * heavy, reached: tension.high.reached * heavy },
      },
      angle: range((sign) => found.cosine(i, sign), angle, false, same),
      maySlack: slack,
    };
  });
  const weighing = (load: number, kilograms: number): End => ({
    bound: load,
    reached: load,
    at: caseOf(found.whole(OUTPUT.height, 1)!, kilograms),
  });
  const ranges: Ranges = {
    kind: "ranges",
    pitch: range((sign) => found.whole(OUTPUT.forward, sign), pitch, true, same),
    roll: range((sign) => found.whole(OUTPUT.aside, sign), roll, false, same),
    overCentre: range(
      (sign) => found.whole(OUTPUT.height, sign),
      (x) => x,
      false,
      same,
    ),
    margin: range(
      (sign) => found.whole(OUTPUT.margin, sign),
      (x) => x,
      false,
      same,
    ),
    legs,
    hooks: rig.hooks.map(({ id }) => ({
      id,
      load: { low: weighing(light, mass.low), high: weighing(heavy, mass.high) },
    })),
    weight: [light, heavy],
    status: "proved",
    carrying: found.supports.map((support) => support.map((i) => rig.legs[i]!.id)),
  };
  return missing.length === 0 ? ranges : undefined;
}

/**
 * What the ranges ask of every element, for the checks: the upper ends of tensions, the lower ends of angles, and the ways that each leg pulls in the cases at the ends, hung
 * one by one.
 */
export function demandOverRange(rig: Rig, ranges: Ranges, nominal: Hanging): Demand {
  const cases = [nominal, ...endsHung(rig, ranges)];
  return {
    legs: ranges.legs.map(({ id, tension, angle: each }, i) => ({
      id,
      tension: tension.high.bound,
      angle: each.low.bound,
      directions: cases.flatMap(({ legs }) =>
        legs[i]!.tension > 0 || legs === nominal.legs ? [legs[i]!.direction] : [],
      ),
      least: tension.low.bound,
      found: { tension: tension.high.reached, angle: each.low.reached },
    })),
    hooks: ranges.hooks.map(({ id, load }) => ({ id, load: load.high.bound })),
    weight: ranges.weight[1],
    margin: ranges.margin.low.bound,
    over: "the range",
  };
}

/** How it hangs in each of the cases at the ends of attitude and pulls, legs as long as they may be made. */
function endsHung(rig: Rig, { pitch, roll, legs }: Ranges): Hanging[] {
  const ends = [pitch, roll, ...legs.flatMap(({ tension, angle: each }) => [tension, each])].flatMap(
    ({ low, high }) => [low.at, high.at],
  );
  const samples = ends.map(({ mass, centre, lengths, stiffness }): Sample => {
    const made = rig.legs.map((leg, i) => {
      const own = madeLength(leg);
      return Math.min(own + leg.within, Math.max(own - leg.within, lengths[i] ?? own));
    });
    return { mass, centre, lengths: made, ...(stiffness === undefined ? {} : { stiffness }) };
  });
  const different = new Map(samples.map((sample) => [JSON.stringify(sample), sample]));
  return [...different.values()].flatMap((sample) => {
    const hung = hangSound(rig, { sample });
    return hung.kind === "hangs" ? [hung] : [];
  });
}
