// Owns the reading of the trial lift: from load, tilt and rise, how likely the load is free, and if not, what most likely still holds it.
//
// Every explanation (free; one tie; two; a known part left on; a mass that nobody knows of) forecasts the readings from what is not known of it, and is weighed by how
// well its forecasts meet them, times how likely it was before (docs/rigging.md, "The trial lift").

import { GRAVITY } from "./gravity.ts";
import { hangSound } from "./hang.ts";
import type { Early, Expected, Held, Reading, Trial, TrialAnswer, TrialResult } from "./readings.ts";
import type { Remark } from "./remark.ts";
import { Scene } from "./scene.ts";
import { pairsWorthALook } from "./screen.ts";
import { takingUp } from "./taking.ts";

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
