// Owns the reading of the trial lift: from load, tilt and rise, how likely the load is free, and if not, what most likely still holds it.
//
// Every explanation (free; one tie; two; a known part left on; a mass that nobody knows of) forecasts the readings from what is not known of it, and is weighed by how
// well its forecasts meet them, times how likely it was before (docs/rigging.md, "The trial lift"). Forces of ties are integrated out by Laplace's method.

import { type Downward, type Freed, forecast, freedOf, risen } from "./freed.ts";
import { GRAVITY } from "./gravity.ts";
import type { Rig, Vector } from "./problem.ts";
import { madeLength } from "./refuse.ts";
import type { TieStiffness } from "./tie.ts";
import { type Whitening, whiten, whitening } from "./whiten.ts";

export interface TrialTie {
  readonly id: string;
  /** Where it holds the load, body axes as built in. */
  readonly at: Vector;
  readonly stiffness: TieStiffness;
  /** Metres that it gives before it pulls. */
  readonly slack: number;
  /** How likely it was before the reading that it is still on: 0 to 1, both left out. */
  readonly chance: number;
}

/** A part that may have been left on, a fluid not drained: known mass at a known place. */
export interface Suspect {
  readonly id: string;
  readonly mass: number;
  readonly centre: Vector;
  readonly chance: number;
}

export interface Reading {
  /** Newtons on the hook without tackle, degrees of pitch and roll, metres of rise since the legs came taut; each with its standard error. */
  readonly load: Measured;
  readonly pitch?: Measured;
  readonly roll?: Measured;
  readonly rise?: Measured;
}
export interface Measured {
  readonly value: number;
  readonly error: number;
}

export interface Trial {
  /** One hook, no beam, sound. Mass and centre are uncertain by its limits, taken as two standard errors each way. */
  readonly rig: Rig;
  readonly ties: readonly TrialTie[];
  readonly suspects: readonly Suspect[];
  /** A mass nobody knows of: how likely, how many kilograms as a middle guess, how far from the centre, metres. */
  readonly unknown: { readonly chance: number; readonly kilograms: number; readonly within: number };
  readonly readings: readonly Reading[];
}

/** One tie, or two together, as an explanation of the readings. */
export interface Held {
  readonly ids: readonly string[];
  readonly probability: number;
  /** Newtons that each would pull now. */
  readonly pulls: readonly number[];
}

export interface TrialAnswer {
  readonly kind: "weighed";
  /** They add up to one, with the ties' explanations. */
  readonly free: number;
  readonly unknownMass: { readonly probability: number; readonly kilograms: number };
  readonly suspects: readonly { readonly id: string; readonly probability: number }[];
  /** Each tie that can be told: the probability that it still holds, alone or with another; the likeliest first, which is what to look at first. */
  readonly ties: readonly { readonly id: string; readonly probability: number; readonly pull: number }[];
  /** The likeliest explanations by ties, one or two together. */
  readonly explanations: readonly Held[];
  /** Ties that would still be slack at this rise, so that the readings say nothing of them; with the rise at which they would pull. */
  readonly cannotTell: readonly { readonly id: string; readonly chance: number; readonly pullsAt: number }[];
  /** What the readings would be freed: the middle and two standard errors each way. */
  readonly expected: readonly { readonly load: Middle; readonly pitch: Middle; readonly roll: Middle }[];
  /** Squared distance of the readings from the best explanation in standard errors, and how many readings there are: far more than that, nothing here explains them. */
  readonly misfit: { readonly value: number; readonly readings: number };
}
export interface Middle {
  readonly value: number;
  readonly within: number;
}

export type TrialResult = TrialAnswer | { readonly kind: "cannot"; readonly why: string };

/** Where no rise is read: a trial lift of some centimetres, as is common practice. */
const USUAL_RISE: Measured = { value: 0.03, error: 0.01 };
/** What the forecast itself may be out by: sideways pull, legs that go slack; degrees, and as a share of what a tie pulls. */
const MODEL_DEGREES = 0.15;
/** A tie pulls at least so much, newtons, to count as pulling. */
const FAINT = 1;
const LOG_2PI = Math.log(2 * Math.PI);

/** Weighs every explanation of the readings. */
export function weighTrial(trial: Trial): TrialResult {
  const { rig, readings } = trial;
  if (rig.beam || rig.hooks.length !== 1)
    return { kind: "cannot", why: "only a load on one hook without a beam can be weighed so" };
  if (readings.length === 0) return { kind: "cannot", why: "no reading" };
  const freed = freedOf(rig);
  if (freed === undefined) return { kind: "cannot", why: "freed it would not hang as it is slung" };
  const scene = sceneOf(trial, freed);
  const { told, untold } = scene;

  const weights: { readonly log: number; readonly add: (share: number) => void }[] = [];
  let best = Number.POSITIVE_INFINITY;
  const enter = (log: number, misfit: number, add: (share: number) => void): void => {
    weights.push({ log, add });
    best = Math.min(best, misfit);
  };
  let free = 0;
  const alone = scene.likelihood([]);
  enter(alone.log, alone.misfit, (share) => {
    free += share;
  });

  const suspects = trial.suspects.map(({ id }) => ({ id, probability: 0 }));
  for (const [i, suspect] of trial.suspects.entries()) {
    const { log, misfit } = scene.likelihood([{ newtons: suspect.mass * GRAVITY, at: suspect.centre }]);
    enter(log + logOdds(suspect.chance), misfit, (share) => {
      suspects[i]!.probability += share;
    });
  }

  const unknown = { probability: 0, kilograms: 0 };
  for (const { log, misfit, kilograms } of scene.unknownMasses())
    enter(log + logOdds(trial.unknown.chance), misfit, (share) => {
      unknown.probability += share;
      unknown.kilograms += share * kilograms;
    });

  const explanations: { ids: string[]; probability: number; pulls: readonly number[] }[] = [];
  const marginal = new Map(told.map(({ tie }) => [tie.id, { probability: 0, pull: 0 }]));
  const explain = (which: readonly Pulling[]): void => {
    const found = scene.explainedBy(which);
    if (found === undefined) return;
    const log = found.log + which.reduce((sum, { tie }) => sum + logOdds(tie.chance), 0);
    enter(log, found.misfit, (share) => {
      explanations.push({ ids: which.map(({ tie }) => tie.id), probability: share, pulls: found.pulls });
      for (const [k, { tie }] of which.entries()) {
        const sum = marginal.get(tie.id)!;
        sum.probability += share;
        sum.pull += share * found.pulls[k]!;
      }
    });
  };
  for (const one of told) explain([one]);
  for (const [i, one] of told.entries()) for (const other of told.slice(i + 1)) explain([one, other]);

  const top = Math.max(...weights.map(({ log }) => log));
  const sum = weights.reduce((s, { log }) => s + Math.exp(log - top), 0);
  for (const { log, add } of weights) add(Math.exp(log - top) / sum);

  return {
    kind: "weighed",
    free,
    unknownMass: {
      probability: unknown.probability,
      kilograms: unknown.probability > 0 ? unknown.kilograms / unknown.probability : 0,
    },
    suspects: suspects.sort((a, b) => b.probability - a.probability),
    ties: [...marginal]
      .map(([id, { probability, pull }]) => ({ id, probability, pull: probability > 0 ? pull / probability : 0 }))
      .sort((a, b) => b.probability - a.probability),
    explanations: explanations.sort((a, b) => b.probability - a.probability).slice(0, 10),
    cannotTell: untold.map(({ tie, free: rises }) => ({
      id: tie.id,
      chance: tie.chance,
      pullsAt: scene.highest + Math.max(0, tie.slack - rises),
    })),
    expected: scene.expected,
    misfit: { value: best, readings: scene.count },
  };
}

const logOdds = (chance: number): number => Math.log(chance / (1 - chance));

/** A tie that would pull at the highest reading, and by how much its point would have risen freed. */
interface Pulling {
  readonly tie: TrialTie;
  readonly free: number;
  readonly logMiddle: number;
  readonly logSpread: number;
  /** Newtons it would pull by its middle stiffness, the others gone. */
  readonly usual: number;
}

interface Weighed {
  /** Logarithm of the likelihood. */
  readonly log: number;
  readonly misfit: number;
}

interface Scene {
  readonly told: readonly Pulling[];
  readonly untold: readonly { readonly tie: TrialTie; readonly free: number }[];
  readonly likelihood: (pulls: readonly Downward[]) => Weighed;
  readonly unknownMasses: () => readonly (Weighed & { readonly kilograms: number })[];
  readonly explainedBy: (which: readonly Pulling[]) => (Weighed & { readonly pulls: readonly number[] }) | undefined;
  readonly expected: TrialAnswer["expected"];
  /** Metres of the highest reading's rise. */
  readonly highest: number;
  readonly count: number;
}

/** Everything that explanations are weighed with: readings, their errors, what the freed load does. */
function sceneOf(trial: Trial, freed: Freed): Scene {
  const { readings } = trial;
  const rises = readings.map(({ rise }) => rise ?? USUAL_RISE);
  const reference = rises.reduce((most, { value }, i) => (value > rises[most]!.value ? i : most), 0);
  const slots = readings.flatMap((reading, r) =>
    (["load", "pitch", "roll"] as const).flatMap((what) => {
      const measured = reading[what];
      return measured === undefined ? [] : [{ what, r, value: measured.value, error: measured.error }];
    }),
  );
  const n = slots.length;
  const bare = freedForecast(freed);
  const covariance = errorsOf(trial, freed, slots);
  const white = whitening(covariance, n);
  const offset = new Float64Array(n);
  const whitened = new Float64Array(n);

  const forecastsFor = (perReading: readonly (readonly Downward[])[]): void => {
    const forecasts = perReading.map((pulls) => (pulls.length === 0 ? bare : forecast(freed, pulls)));
    for (const [k, slot] of slots.entries()) offset[k] = slot.value - forecasts[slot.r]![slot.what];
  };
  const distanceOf = (by: Whitening): number => {
    whiten(by, offset, whitened);
    let sum = 0;
    for (let i = 0; i < n; i++) sum += whitened[i]! * whitened[i]!;
    return sum;
  };
  const weigh = (by: Whitening): Weighed => {
    const misfit = distanceOf(by);
    return { misfit, log: -(misfit + by.logDet + n * LOG_2PI) / 2 };
  };

  const rise = rises[reference]!;
  const pulling = trial.ties.map((tie) => pullingOf(tie, freed, bare, rise));
  const told = pulling.filter(({ free, tie, usual }) => free > tie.slack && usual > FAINT);
  const untold = pulling.filter(({ free, tie, usual }) => !(free > tie.slack && usual > FAINT));

  return {
    told,
    untold,
    likelihood: (pulls) => {
      forecastsFor(readings.map(() => pulls));
      return weigh(white);
    },
    unknownMasses: () => unknownMasses(trial, freed, slots, covariance, forecastsFor, weigh),
    explainedBy: (which) =>
      explain(which, {
        freed,
        rises,
        reference,
        forecastsFor,
        whiten: () => whiten(white, offset, whitened),
        whitened,
        white,
        n,
      }),
    expected: readings.map((_, r) => {
      const middle = (what: Slot["what"]): Middle => {
        const k = slots.findIndex((slot) => slot.what === what && slot.r === r);
        return { value: bare[what], within: k < 0 ? Number.NaN : 2 * Math.sqrt(covariance[k * n + k]!) };
      };
      return { load: middle("load"), pitch: middle("pitch"), roll: middle("roll") };
    }),
    highest: rise.value,
    count: n,
  };
}

const freedForecast = (freed: Freed) => forecast(freed, []);

interface Slot {
  readonly what: "load" | "pitch" | "roll";
  readonly r: number;
  readonly value: number;
  readonly error: number;
}

/** Errors of the readings, and what mass, centre and lengths may be out by, which is the same in every reading. */
function errorsOf(trial: Trial, freed: Freed, slots: readonly Slot[]): Float64Array {
  const n = slots.length;
  const covariance = new Float64Array(n * n);
  const bare = freedForecast(freed);
  for (const [k, { what, error }] of slots.entries())
    covariance[k * n + k] = error ** 2 + (what === "load" ? 0 : MODEL_DEGREES ** 2);
  const { mass, centre, within } = trial.rig.load;
  const spread = (other: Freed | undefined, share: number): void => {
    if (other === undefined) return;
    const there = freedForecast(other);
    const by = slots.map(({ what }) => (there[what] - bare[what]) * share);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) covariance[i * n + j] = covariance[i * n + j]! + by[i]! * by[j]!;
  };
  // Limits are taken as two standard errors each way.
  spread(
    { ...freed, weight: mass.high * GRAVITY },
    (mass.high - mass.low) / Math.max(1e-12, mass.high - mass.nominal) / 4,
  );
  for (let i = 0; i < 3; i++)
    if (within[i]! > 0) spread({ ...freed, centre: centre.with(i, centre[i]! + within[i]!) as unknown as Vector }, 0.5);
  const made = trial.rig.legs.map(madeLength);
  for (const [i, leg] of trial.rig.legs.entries())
    if (leg.within > 0) spread(freedOf(trial.rig, { lengths: made.with(i, made[i]! + leg.within) }), 0.5);
  return covariance;
}

function pullingOf(tie: TrialTie, freed: Freed, bare: ReturnType<typeof freedForecast>, rise: Measured): Pulling {
  const free = risen(freed, bare, tie.at, rise.value);
  const over = free - tie.slack;
  const probe = 0.02 * freed.weight;
  const pulled = risen(freed, forecast(freed, [{ newtons: probe, at: tie.at }]), tie.at, rise.value);
  const give = Math.max(0, (free - pulled) / probe);
  return {
    tie,
    free,
    logMiddle: Math.log(tie.stiffness.likely),
    // A rise that is out by some millimetres is as if the tie were stiffer or softer.
    logSpread: Math.hypot(tie.stiffness.spread, over > 0 ? Math.min(2, rise.error / over) : 0),
    usual: over / (1 / tie.stiffness.likely + give),
  };
}

/** Masses from a tenth of the middle guess to ten times, anywhere about the centre. */
function unknownMasses(
  trial: Trial,
  freed: Freed,
  slots: readonly Slot[],
  covariance: Float64Array,
  forecastsFor: (perReading: readonly (readonly Downward[])[]) => void,
  weigh: (by: Whitening) => Weighed,
): (Weighed & { kilograms: number })[] {
  const { kilograms: middle, within } = trial.unknown;
  const n = slots.length;
  const points = 24;
  return Array.from({ length: points }, (_, i) => {
    // Even steps in the quantile of a lognormal of spread 1 would miss its tail; even steps of the logarithm, weighted.
    const z = -2.4 + (4.8 * (i + 0.5)) / points;
    const kilograms = middle * Math.exp(z);
    const newtons = kilograms * GRAVITY;
    const total = Float64Array.from(covariance);
    const at = (axis: number): Vector => freed.centre.with(axis, freed.centre[axis]! + within) as unknown as Vector;
    const level = forecast(freed, [{ newtons, at: freed.centre }]);
    for (let axis = 0; axis < 3; axis++) {
      const there = forecast(freed, [{ newtons, at: at(axis) }]);
      const by = slots.map(({ what }) => there[what] - level[what]);
      for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) total[a * n + b] = total[a * n + b]! + by[a]! * by[b]!;
    }
    forecastsFor(trial.readings.map(() => [{ newtons, at: freed.centre }]));
    const { log, misfit } = weigh(whitening(total, n));
    const prior = -(z * z) / 2 - LOG_2PI / 2 + Math.log(4.8 / points);
    return { log: log + prior, misfit, kilograms };
  });
}

interface Scales {
  readonly freed: Freed;
  readonly rises: readonly Measured[];
  readonly reference: number;
  readonly forecastsFor: (perReading: readonly (readonly Downward[])[]) => void;
  readonly whiten: () => void;
  readonly whitened: Float64Array;
  readonly white: Whitening;
  readonly n: number;
}

/** How far beyond all stiffness a tie counts that does not let its point rise at all. */
const RIGID = 30;

/**
 * One or two ties as the explanation. The unknowns are the logarithms of their pulls at the highest reading; the stiffness that each pull means is weighed by the
 * tie's kind. Gauss–Newton from a few starts to the likeliest, then Laplace's integral about it, with the pulls changed into stiffness by their Jacobian.
 */
function explain(
  which: readonly Pulling[],
  scales: Scales,
): (Weighed & { readonly pulls: readonly number[] }) | undefined {
  const { freed, rises, reference, forecastsFor, whitened, white, n } = scales;
  const d = which.length;
  const m = n + d;
  const residual = (z: readonly number[], into: Float64Array): number => {
    const pulls = z.map((each, k): Downward => ({ newtons: Math.exp(each), at: which[k]!.tie.at }));
    const here = forecast(freed, pulls);
    const stiffness = which.map(({ tie }, k) => {
      const over = risen(freed, here, tie.at, rises[reference]!.value) - tie.slack;
      return over <= 0 ? RIGID : Math.min(RIGID, z[k]! - Math.log(over));
    });
    forecastsFor(rises.map((rise, r) => (r === reference ? pulls : pullsAt(which, stiffness, freed, rise.value))));
    scales.whiten();
    let sum = 0;
    for (let i = 0; i < n; i++) into[i] = whitened[i]!;
    for (let k = 0; k < d; k++) into[n + k] = (stiffness[k]! - which[k]!.logMiddle) / which[k]!.logSpread;
    for (let i = 0; i < m; i++) sum += into[i]! ** 2;
    return sum;
  };
  const excess = Math.log(Math.max(FAINT, rises.length > 0 ? excessOf(scales) : FAINT));
  const usual = which.map((each) => Math.log(each.usual));
  const starts =
    d === 1
      ? [[usual[0]!], [Math.min(excess, usual[0]! + 2)]]
      : [usual, [excess - 0.7, excess - 0.7], [excess, usual[1]! - 1], [usual[0]! - 1, excess]];
  const here = new Float64Array(m);
  let z = starts[0]!;
  let value = Number.POSITIVE_INFINITY;
  for (const start of starts) {
    const there = residual(start, here);
    if (there < value) {
      value = there;
      z = start;
    }
  }
  const base = new Float64Array(m);
  const shifted = new Float64Array(m);
  const slopes = [new Float64Array(m), new Float64Array(m)];
  const differentiate = (): void => {
    residual(z, base);
    for (let k = 0; k < d; k++) {
      residual(z.with(k, z[k]! + STEP), shifted);
      for (let i = 0; i < m; i++) slopes[k]![i] = (shifted[i]! - base[i]!) / STEP;
    }
  };
  const along = (a: Float64Array, b: Float64Array, from = 0): number => {
    let sum = 0;
    for (let i = from; i < m; i++) sum += a[i]! * b[i]!;
    return sum;
  };
  for (let round = 0; round < 6; round++) {
    differentiate();
    const a = along(slopes[0]!, slopes[0]!) + 1e-9;
    const ga = along(slopes[0]!, base);
    let move: number[];
    if (d === 1) move = [-ga / a];
    else {
      const b = along(slopes[0]!, slopes[1]!);
      const c = along(slopes[1]!, slopes[1]!) + 1e-9;
      const gc = along(slopes[1]!, base);
      const det = a * c - b * b;
      move = det > 1e-12 * a * c ? [(-ga * c + gc * b) / det, (-gc * a + ga * b) / det] : [-ga / a, -gc / c];
    }
    let share = Math.min(1, 1.5 / Math.max(1e-9, ...move.map(Math.abs)));
    let better = false;
    for (let halving = 0; halving < 6; halving++, share /= 3) {
      const next = z.map((each, k) => each + share * move[k]!);
      const there = residual(next, here);
      if (there >= value) continue;
      better = value - there > 1e-3;
      value = there;
      z = next;
      break;
    }
    if (!better) break;
  }
  differentiate();
  const [s0, s1] = [slopes[0]!, slopes[1]!];
  // ln|∂ln k/∂z| of the change from pulls to stiffness, the spread taken out again.
  const k00 = s0[n]!;
  const jacobian = d === 1 ? Math.abs(k00) : Math.abs(k00 * s1[n + 1]! - s0[n + 1]! * s1[n]!);
  const a = along(s0, s0);
  const det = d === 1 ? a : a * along(s1, s1) - along(s0, s1) ** 2;
  if (!(det > 0 && jacobian > 0)) return undefined;
  let misfit = 0;
  for (let i = 0; i < n; i++) misfit += base[i]! ** 2;
  return {
    misfit,
    log: -(value + white.logDet + n * LOG_2PI) / 2 + Math.log(jacobian) - Math.log(det) / 2,
    pulls: z.map(Math.exp),
  };
}

const STEP = 1e-4;

/** Newtons that the highest reading is over the freed load. */
function excessOf({ forecastsFor, whiten: apply, whitened, white, rises, reference }: Scales): number {
  forecastsFor(rises.map(() => []));
  apply();
  // The load comes first of each reading's figures, so of the first reading its whitened offset is by its own error alone.
  return reference === 0 ? whitened[0]! * white.lower[0]! : Math.abs(whitened[0]! * white.lower[0]!);
}

/** What ties of known stiffness pull at another rise. */
function pullsAt(which: readonly Pulling[], logStiffness: readonly number[], freed: Freed, rise: number): Downward[] {
  let pulls = which.map(({ tie }): Downward => ({ newtons: 0, at: tie.at }));
  for (let round = 0; round < 12; round++) {
    const here = forecast(freed, pulls);
    let moved = 0;
    pulls = pulls.map((pull, k) => {
      const { tie, free, usual } = which[k]!;
      const over = risen(freed, here, tie.at, rise) - tie.slack;
      const give = Math.max(0, (free - tie.slack) / usual - 1 / tie.stiffness.likely);
      const newtons = Math.max(
        0,
        pull.newtons + (over - pull.newtons / Math.exp(logStiffness[k]!)) / (1 / Math.exp(logStiffness[k]!) + give),
      );
      moved = Math.max(moved, Math.abs(newtons - pull.newtons));
      return { ...pull, newtons };
    });
    if (moved < 0.1) break;
  }
  return pulls;
}
