// Owns the rehearsal of trial lifts: a load is lifted on springs in all six freedoms, with or without a tie forgotten, read with errors, and weighed. Whether the
// probabilities stated come true is then a matter of counting.

import { type HeldRig, heldRig } from "../../src/rigging/held-rig.ts";
import { hang, type Rig, type Trial, type TrialTie, type Vector, weighTrial } from "../../src/rigging/index.ts";
import { type Body, type End, type Pose, placeOf, settleBodies } from "../../src/rigging/pose.ts";
import { TIE_STIFFNESS } from "../../src/rigging/tie.ts";
import { type Chance, makeChance } from "../release/chance.ts";
import { randomBodies, randomRig } from "./rigs.ts";

const GRAVITY = 9.80665;
const KINDS = ["hose", "line", "cable", "wire", "strap", "linkage", "rod", "bracket", "bolted joint", "mount"] as const;

/** A normal draw (Box and Muller). */
const normal = (chance: Chance): number =>
  Math.sqrt(-2 * Math.log(1 - chance.next())) * Math.cos(2 * Math.PI * chance.next());

export interface Rehearsal {
  readonly trial: Trial;
  /** What was left on. */
  readonly tied: readonly string[];
  readonly extra: boolean;
  /** It stands on a block. */
  readonly stands: boolean;
}

export interface RehearsalOptions {
  readonly ties: number;
  /** How likely each is left on. */
  readonly chance: number;
  readonly readings: number;
  /** Hung from a beam or two hooks. */
  readonly bodies?: boolean;
}

/** One trial lift, drawn as the weighing supposes: each tie left on by its chance, at most two; stiffness by its kind; mass and centre by their limits. */
export function rehearse(seed: number, options: RehearsalOptions): Rehearsal | undefined {
  const chance = makeChance(seed);
  const between = (low: number, high: number): number => low + (high - low) * chance.next();
  const drawn = options.bodies ? randomBodies(seed) : randomRig(seed, chance.pick([2, 3, 4]));
  // A load that is slung to be lifted out hangs near level with its hook over the centre; a trial lift of any other is stopped by eye.
  const freed = hang(drawn);
  if (freed.kind !== "hangs" || Math.max(Math.abs(freed.pitch), Math.abs(freed.roll)) > 4) return undefined;
  const mass = drawn.load.mass.nominal;
  const rig: Rig = {
    ...drawn,
    load: { ...drawn.load, mass: { nominal: mass, low: 0.97 * mass, high: 1.03 * mass }, within: [0.01, 0.01, 0.01] },
    legs: drawn.legs.map((leg) => ({ ...leg, within: 0.003 })),
  };
  const ties = Array.from(
    { length: options.ties },
    (_, i): TrialTie => ({
      id: `tie-${i + 1}`,
      at: [between(-0.8, 0.8), between(-0.45, 0.45), between(-0.2, 0.4)],
      stiffness: TIE_STIFFNESS[chance.pick(KINDS)]!,
      slack: chance.hit(0.3) ? between(0, 0.03) : 0,
      chance: options.chance,
    }),
  );
  const unknown = { chance: 0.05, kilograms: 0.05 * mass, within: 0.3 };
  const standing = 0.02;
  const trial = { rig, ties, suspects: [], unknown, standing, feet: [] };
  const held = heldRig(rig);
  for (let attempt = 0; attempt < 50; attempt++) {
    const tied = ties.filter(({ chance: each }) => chance.hit(each));
    const extra = chance.hit(unknown.chance);
    if (tied.length > 2 || (extra && tied.length > 0)) continue;
    const rises =
      options.readings === 1 ? [0.03] : Array.from({ length: options.readings }, (_, i) => 0.015 + 0.02 * i);
    const truth: Vector = rig.load.centre.map((c) => c + 0.005 * normal(chance)) as unknown as Vector;
    const weight = mass * (1 + 0.015 * normal(chance)) * GRAVITY;
    const lengths = rig.legs.map((leg) => leg.length + 0.0015 * normal(chance));
    const kilograms = extra ? unknown.kilograms * Math.exp(normal(chance)) : 0;
    const spot = truth.map((c) => c + unknown.within * normal(chance)) as unknown as Vector;
    const pulls = tied.map((tie) => tie.stiffness.likely * Math.exp(tie.stiffness.spread * normal(chance)));
    // A block forgotten under it: somewhere below, and up to 30 mm too high for the last rise.
    const stands = chance.hit(standing);
    if (stands && (extra || tied.length > 0)) continue;
    const block = stands
      ? { at: [between(-0.5, 0.5), between(-0.3, 0.3), -0.3] as const, above: between(0, 0.03) }
      : undefined;
    const readings = rises.map((rise) => {
      const lifted = lift(
        rig,
        held,
        weight,
        truth,
        lengths,
        kilograms * GRAVITY,
        spot,
        tied,
        pulls,
        rise + 0.001 * normal(chance),
        block,
      );
      return (
        lifted && {
          load: { value: lifted.load + 15 * normal(chance), error: 15 },
          pitch: { value: lifted.pitch + 0.1 * normal(chance), error: 0.1 },
          roll: { value: lifted.roll + 0.1 * normal(chance), error: 0.1 },
          rise: { value: rise, error: 0.001 },
        }
      );
    });
    if (readings.some((each) => each === undefined)) return undefined;
    return {
      trial: { ...trial, readings: readings.filter((each) => each !== undefined) },
      tied: tied.map(({ id }) => id),
      extra,
      stands,
    };
  }
  return undefined;
}

/** Load and attitude in all freedoms of load and beam, the ties pulling whichever way they are drawn out. */
function lift(
  rig: Rig,
  held: HeldRig,
  weight: number,
  centre: Vector,
  lengths: readonly number[],
  extra: number,
  spot: Vector,
  tied: readonly TrialTie[],
  stiffness: readonly number[],
  rise: number,
  block: { readonly at: Vector; readonly above: number } | undefined,
): { readonly load: number; readonly pitch: number; readonly roll: number } | undefined {
  const all = weight + extra;
  const whole = centre.map((c, i) => (c * weight + spot[i]! * extra) / all) as unknown as Vector;
  const places = held.hooksAt(rise);
  const ends = new Map<string, End>([
    ...rig.eyes.map(({ id, at }) => [id, { body: 0, at }] as const),
    ...(rig.beam?.points ?? []).map(({ id, at }) => [id, { body: 1, at }] as const),
    ...rig.hooks.map(({ id }, i) => [id, { at: places[i]! }] as const),
  ]);
  const legs = rig.legs.map((leg, i) => ({
    lower: ends.get(leg.lower)!,
    upper: ends.get(leg.upper)!,
    length: lengths[i]!,
    stiffness: leg.stiffness! / lengths[i]!,
    firm: false,
  }));
  const ties = tied.map((tie, i) => ({
    lower: { body: 0, at: tie.at },
    upper: { at: tie.at },
    length: tie.slack,
    stiffness: stiffness[i]!,
    firm: false,
  }));
  const still = settleBodies(
    [{ weight: all, centre: whole, start: { turn: LEVEL, at: [0, 0, rise] } }, ...beamOf(rig, held, places, rise)],
    [...legs, ...ties],
    block === undefined
      ? []
      : [{ body: 0, at: block.at, height: placeOf(freedAt(held, rise), block.at)[2] + block.above, stiffness: 2e6 }],
    1,
  );
  if (still.residual > 1e-6) return undefined;
  // World-up in body axes is the third row.
  const [, , up] = still.poses[0]!.turn;
  const beam = (rig.beam?.mass ?? 0) * GRAVITY;
  const pinned = rig.beam?.pin !== undefined;
  const onHooks = rig.hooks.map(({ id }) =>
    legs.reduce<Vector>(
      (sum, { lower, upper }, i) => {
        if (rig.legs[i]!.upper !== id && !(pinned && upper.body === 1)) return sum;
        const [a, b] = [lower, upper].map(({ body, at }) =>
          body === undefined ? at : placeOf(still.poses[body]!, at),
        );
        const arm = a!.map((x, k) => x - b![k]!);
        const size = Math.hypot(...arm);
        return sum.map((s, k) => s + (still.pulls[i]! * arm[k]!) / size) as unknown as Vector;
      },
      [0, 0, pinned ? -beam : 0],
    ),
  );
  return {
    load: onHooks.reduce((sum, force) => sum + Math.hypot(...force), 0) - beam,
    pitch: (-Math.asin(up[0]) * 180) / Math.PI,
    roll: (Math.atan2(up[1], up[2]) * 180) / Math.PI,
  };
}

const LEVEL = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;

/** Where the freed load hangs. */
function freedAt(held: HeldRig, rise: number): Pose {
  const [a, b, c, d, e, f, g, h, i, x, y, z] = held.freed(rise);
  return {
    turn: [
      [a!, b!, c!],
      [d!, e!, f!],
      [g!, h!, i!],
    ],
    at: [x!, y!, z!],
  };
}

/** The beam, level, where it hangs freed. */
function beamOf({ beam }: Rig, held: HeldRig, places: readonly Vector[], rise: number): Body[] {
  if (beam === undefined) return [];
  const pin = beam.points.find(({ id }) => id === beam.pin)?.at;
  const [x, y, z] = held.freed(rise).slice(21);
  const at: Vector = pin ? (places[0]!.map((each, i) => each - pin[i]!) as unknown as Vector) : [x!, y!, z!];
  return [{ weight: beam.mass * GRAVITY, centre: beam.centre, start: { turn: LEVEL, at }, ...(pin ? { pin } : {}) }];
}

export interface Bin {
  /** Stated probabilities from and to, how many statements, their mean, and how often what they said was so. */
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly stated: number;
  readonly happened: number;
}

export interface Reliability {
  readonly lifts: number;
  readonly bins: readonly Bin[];
  /** Of lifts with something left on that shows: how often the first of the ranking is it, and is among the first three. */
  readonly first: number;
  readonly third: number;
  readonly shown: number;
  /** Mean of the squared error of "it is free" (Brier 1950), and of always saying how often it is free. */
  readonly brier: number;
  readonly plain: number;
}

const EDGES = [0, 0.01, 0.05, 0.2, 0.4, 0.6, 0.8, 0.95, 0.99, 1];

/** Rehearses so many lifts, and counts. */
export function measureReliability(lifts: number, options: RehearsalOptions): Reliability {
  const said: { probability: number; so: boolean }[] = [];
  const free: { probability: number; so: boolean }[] = [];
  let [first, third, shown, done] = [0, 0, 0, 0];
  for (let seed = 1; done < lifts; seed++) {
    const rehearsal = rehearse(seed, options);
    if (rehearsal === undefined) continue;
    const answer = weighTrial(rehearsal.trial);
    if (answer.kind !== "weighed") continue;
    done++;
    const cannot = new Set(answer.cannotTell.map(({ id }) => id));
    const telling = rehearsal.tied.filter((id) => !cannot.has(id));
    free.push({ probability: answer.free, so: telling.length === 0 && !rehearsal.extra && !rehearsal.stands });
    said.push({ probability: answer.standing, so: rehearsal.stands });
    said.push({ probability: answer.unknownMass.probability, so: rehearsal.extra });
    for (const { id, probability } of answer.ties) said.push({ probability, so: telling.includes(id) });
    if (telling.length > 0) {
      shown++;
      if (telling.includes(answer.ties[0]!.id)) first++;
      if (answer.ties.slice(0, 3).some(({ id }) => telling.includes(id))) third++;
    }
  }
  const all = [...said, ...free];
  const bins = EDGES.slice(1).map((to, i): Bin => {
    const from = EDGES[i]!;
    const inside = all.filter(
      ({ probability }) => probability >= from && (probability < to || (to === 1 && probability <= 1)),
    );
    const mean = (value: (each: (typeof inside)[number]) => number): number =>
      inside.reduce((sum, each) => sum + value(each), 0) / Math.max(1, inside.length);
    return {
      from,
      to,
      count: inside.length,
      stated: mean((each) => each.probability),
      happened: mean((each) => (each.so ? 1 : 0)),
    };
  });
  const rate = free.filter(({ so }) => so).length / Math.max(1, free.length);
  return {
    lifts: done,
    bins,
    first,
    third,
    shown,
    brier:
      free.reduce((sum, { probability, so }) => sum + (probability - (so ? 1 : 0)) ** 2, 0) / Math.max(1, free.length),
    plain: rate * (1 - rate),
  };
}
