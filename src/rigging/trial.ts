// Owns the reading of the trial lift: from load, tilt and rise, how likely the load is free, and if not, what most likely still holds it.
//
// Every explanation (free; one tie; two; a known part left on; a mass that nobody knows of) forecasts the readings from what is not known of it, and is weighed by how
// well its forecasts meet them, times how likely it was before (docs/rigging.md, "The trial lift").

import { GRAVITY } from "./gravity.ts";
import { hangSound } from "./hang.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Remark } from "./remark.ts";
import { Scene } from "./scene.ts";
import { pairsWorthALook } from "./screen.ts";
import { type Foot, takingUp } from "./taking.ts";
import type { TieStiffness } from "./tie.ts";

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
  /** Newtons on the hook, or on both together, without tackle and beam, degrees of pitch and roll, metres of rise since the legs came taut; each with its standard error. */
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
  /** Sound. Mass and centre are uncertain by its limits, taken as two standard errors each way. */
  readonly rig: Rig;
  readonly ties: readonly TrialTie[];
  readonly suspects: readonly Suspect[];
  /** A mass nobody knows of: how likely, how many kilograms as a middle guess, how far from the centre, metres. */
  readonly unknown: { readonly chance: number; readonly kilograms: number; readonly within: number };
  /** How likely it is that it still stands on something at all readings. */
  readonly standing: number;
  /** What it stands on before the lift; fewer than three: not known. */
  readonly feet: readonly Foot[];
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
  /** That part of its weight still rests on something. */
  readonly standing: number;
  /** Each tie that can be told: the probability that it still holds, alone or with another; the likeliest first, which is what to look at first. */
  readonly ties: readonly { readonly id: string; readonly probability: number; readonly pull: number }[];
  /** The likeliest explanations by ties, one or two together. */
  readonly explanations: readonly Held[];
  /** Ties that would pull nothing yet at the highest reading, so that the readings say nothing of them; and the metres of slack they would have left. */
  readonly cannotTell: readonly { readonly id: string; readonly chance: number; readonly slackLeft: number }[];
  /** What the readings would be freed, in their order. */
  readonly expected: readonly Expected[];
  /** Squared distance of the readings from the best explanation in standard errors, and how many readings there are: far more than that, nothing here explains them. */
  readonly misfit: { readonly value: number; readonly readings: number };
}
/** What a reading would be freed: the middle and two standard errors each way. */
export interface Expected {
  readonly load: Middle;
  readonly pitch: Middle;
  readonly roll: Middle;
  /** The freed load would still press on its feet at that rise: such a reading is not weighed. */
  readonly early?: Early;
}
/** Newtons that the freed load would press on its feet, the most that its hook would show, and whether more than that was read. */
export interface Early {
  readonly onFeet: number;
  readonly most: number;
  readonly isMore: boolean;
}
export interface Middle {
  readonly value: number;
  /** Two standard errors; absent where it was not read. */
  readonly within?: number;
}

export type TrialResult = TrialAnswer | { readonly kind: "cannot"; readonly why: Remark };

/** How many pairs of ties are weighed in full, of those that a first look at all of them finds the likeliest. */
const PAIRS = 40;

/** Metres of rise at which it is looked whether the load has left its feet. */
const LEAVING = [0.005, 0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.07, 0.1];

/** Weighs every explanation of the readings that were taken when the load, if it is free, hung. */
export function weighTrial(trial: Trial): TrialResult {
  const { rig, readings } = trial;
  if (readings.length === 0) return { kind: "cannot", why: { is: "no reading" } };
  if (hangSound(rig).kind !== "hangs") return { kind: "cannot", why: { is: "would not hang" } };
  const early = readings.map((reading) => beforeItHangs(trial, reading));
  const hanging = readings.filter((_, r) => early[r] === undefined);
  if (hanging.length > 0) {
    const weighed = weighHanging({ ...trial, readings: hanging });
    const expected = [...weighed.expected];
    return { ...weighed, expected: early.map((each) => each ?? expected.shift()!) };
  }
  return {
    kind: "cannot",
    why: whyTooEarly(
      trial,
      early.map((each) => each!.early!),
    ),
  };
}

/**
 * What the freed load would show at a reading's rise while it still stands on its feet; undefined when it would hang there, and where more is read than it can weigh: that
 * says that something holds it, wherever it stands.
 */
function beforeItHangs({ rig, feet }: Trial, { load, rise }: Reading): Expected | undefined {
  if (rise === undefined || feet.length < 3) return undefined;
  if (load.value > rig.load.mass.high * GRAVITY + 2 * load.error) return undefined;
  const [step, later] = takingUp(rig, feet, [rise.value, rise.value + 2 * rise.error]);
  if (step === undefined || later === undefined || step.onFeet <= 2 * load.error) return undefined;
  const most = Math.max(step.load, later.load);
  return {
    load: { value: step.load },
    pitch: { value: step.pitch },
    roll: { value: step.roll },
    early: { onFeet: step.onFeet, most, isMore: load.value > most + 2 * load.error },
  };
}

/** Of readings that were all taken too early: the first that shows more than it may, else from which rise on it hangs. */
function whyTooEarly({ rig, feet, readings }: Trial, early: readonly Early[]): Remark {
  const rises = readings.map(({ rise }) => rise!.value);
  const more = early.findIndex(({ isMore }) => isMore);
  if (more >= 0)
    return {
      is: "more than on its feet",
      rise: rises[more]!,
      read: readings[more]!.load.value,
      most: early[more]!.most,
    };
  const last = rises.indexOf(Math.max(...rises));
  const off = takingUp(rig, feet, LEAVING).find(({ onFeet }) => onFeet < readings[last]!.load.error);
  return { is: "still on its feet", rise: rises[last]!, force: early[last]!.onFeet, off: off?.rise };
}

function weighHanging(trial: Trial): TrialAnswer {
  const scene = new Scene(trial);

  const weights: { readonly log: number; readonly add: (share: number) => void }[] = [];
  let best = Number.POSITIVE_INFINITY;
  const enter = (log: number, misfit: number, add: (share: number) => void): void => {
    weights.push({ log, add });
    best = Math.min(best, misfit);
  };
  let free = 0;
  const alone = scene.freed();
  enter(alone.log, alone.misfit, (share) => {
    free += share;
  });

  const suspects = trial.suspects.map(({ id }) => ({ id, probability: 0 }));
  for (const [i, suspect] of trial.suspects.entries()) {
    const { log, misfit } = scene.withMass(suspect.mass, suspect.centre);
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

  let standing = 0;
  const stands = scene.standing();
  enter(stands.log + logOdds(trial.standing), stands.misfit, (share) => {
    standing += share;
  });

  const explanations: Held[] = [];
  const marginal = new Map(scene.told.map(({ tie }) => [tie.id, { probability: 0, pull: 0 }]));
  const explain = (which: readonly (typeof scene.told)[number][]): void => {
    const found = scene.explain(which);
    if (found === undefined) return;
    const ids = which.map(({ tie }) => tie.id);
    enter(found.log + which.reduce((sum, { tie }) => sum + logOdds(tie.chance), 0), found.misfit, (share) => {
      explanations.push({ ids, probability: share, pulls: found.pulls });
      for (const [k, id] of ids.entries()) {
        const sum = marginal.get(id)!;
        sum.probability += share;
        sum.pull += share * found.pulls[k]!;
      }
    });
  };
  for (const one of scene.told) explain([one]);
  for (const pair of pairsWorthALook(scene, PAIRS)) explain(pair);

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
    standing,
    ties: [...marginal]
      .map(([id, { probability, pull }]) => ({ id, probability, pull: probability > 0 ? pull / probability : 0 }))
      .sort((a, b) => b.probability - a.probability),
    explanations: explanations.sort((a, b) => b.probability - a.probability).slice(0, 10),
    cannotTell: scene.untold.map(({ tie, move }) => ({
      id: tie.id,
      chance: tie.chance,
      slackLeft: Math.max(0, tie.slack - move),
    })),
    expected: scene.expected(),
    misfit: { value: best, readings: scene.count },
  };
}

const logOdds = (chance: number): number => Math.log(chance / (1 - chance));
