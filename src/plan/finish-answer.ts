// Owns the answer to when a plan is done: its percentiles, the chance of a time, the steps that make it late, with what is assumed.

import type { Schedule } from "../crew/index.ts";
import {
  chanceOf,
  DEFAULT_SPREAD,
  type Estimate,
  fromMedian,
  type Lognormal,
  meanFinish,
  percentile,
  simulate,
  worthKnowing,
} from "../times/index.ts";
import type { CrewQuestion } from "./crew-question.ts";
import { finishNetwork, workOf } from "./finish.ts";
import { labelOf } from "./labels.ts";

export interface FinishAsked {
  readonly runs: number;
  readonly seed: number;
  /** Spread of the logarithm that all steps of a run have in common. */
  readonly common: number;
  /** Minutes from the beginning: the chance to be done by then. */
  readonly by?: number;
  /** Times that runs have taught, by way, `back:` before it for the refit; the others are the file's with the default spread. */
  readonly learnt: ReadonlyMap<string, Lognormal>;
  readonly stop?: () => boolean;
  /** Sees the answer before it is known what is worth knowing, which takes longest, and the finishes of all runs, minutes, rising. */
  readonly onSimulated?: (finish: Finish, sorted: Float64Array) => void;
}

export interface FinishStep {
  readonly id: string;
  readonly label: string;
  /** Share of the runs in which the finish waits for it. */
  readonly criticality: number;
  /** Its own time in the mean. */
  readonly minutes: number;
}

export interface Finish {
  readonly format: "unmoor/finish/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly jobs: readonly { readonly id: string; readonly label: string }[];
  readonly people: number;
  /** Minutes by the plan's own times. */
  readonly planned: number;
  readonly runs: number;
  readonly mean: Estimate;
  readonly percentiles: readonly ({ readonly share: number } & Estimate)[];
  readonly chances: readonly ({ readonly minutes: number } & Estimate)[];
  readonly critical: readonly FinishStep[];
  /** Steps that in some runs would follow something too late, so that it is done again first, and in how many of them. */
  readonly late: readonly { readonly id: string; readonly label: string; readonly share: number }[];
  /** By how many minutes P95 would be sooner were the step's time known. */
  readonly worth: readonly ({ readonly id: string; readonly label: string } & Estimate)[];
  readonly assumed: readonly string[];
}

const SHARES = [0.05, 0.1, 0.25, 0.5, 0.75, 0.8, 0.9, 0.95, 0.99];
const SHOWN = 12;
/** Steps whose certainty is tried. */
const TRIED = 5;
/** For every how many percent of chance a point of the curve. */
const POINTS = 40;

/** What a step of the schedule is called: the same connection comes off, is looked at and goes on again. */
const nameOf = (question: CrewQuestion, id: string): string => {
  const waits = question.waitings.get(id);
  const own = id.replace(/ goes on$/, "");
  const step = question.steps.get(waits ?? own);
  if (step === undefined) {
    const state = question.job.states.find((one) => id.startsWith(`change:${one.id}:`));
    const [, , turn, to] = id.split(":");
    if (state === undefined) return id;
    const time = Math.ceil(Number(turn) / 2);
    return `${(to === "on" ? state.set : state.clear).label}${time === 1 ? "" : `, time ${time}`}`;
  }
  const { says, back, looksAt } = step;
  if (says.action === "verify") return `${says.label} (${looksAt.length} ${looksAt.length === 1 ? "tie" : "ties"})`;
  const label = back !== undefined && "refit" in back ? `${says.label}, back on` : says.label;
  return waits === undefined && own === id ? label : `${label}, waiting`;
};

/** The names of all steps; two that are called the same have their ids beside. */
const namesOf = (question: CrewQuestion, ids: readonly string[]): ((id: string) => string) => {
  const names = new Map(ids.map((id) => [id, nameOf(question, id)]));
  const count = new Map<string, number>();
  for (const name of names.values()) count.set(name, (count.get(name) ?? 0) + 1);
  return (id) => {
    const name = names.get(id) ?? id;
    return (count.get(name) ?? 0) > 1 ? `${name} [${id}]` : name;
  };
};

const networkOf = (question: CrewQuestion, schedule: Schedule, learnt: FinishAsked["learnt"]) =>
  finishNetwork(
    question,
    schedule,
    (id, minutes) => learnt.get(workOf(question, id)) ?? fromMedian(minutes, DEFAULT_SPREAD),
  );

/** Minutes after which each run is done, rising: the simulation without what it says of the steps. */
export const finishesOf = (question: CrewQuestion, schedule: Schedule, asked: FinishAsked): Float64Array =>
  simulate(networkOf(question, schedule, asked.learnt), asked)
    .finishes.slice()
    .sort();

/** When it is done, by simulation of the schedule in its order. */
export const answerFinish = (
  question: CrewQuestion,
  schedule: Schedule,
  planned: number,
  asked: FinishAsked,
): Finish => {
  const network = networkOf(question, schedule, asked.learnt);
  const simulated = simulate(network, asked);
  const label = namesOf(
    question,
    simulated.activities.map(({ id }) => id),
  );
  const sorted = simulated.finishes.slice().sort();
  const [from, to] = [percentile(sorted, 0.001).value, percentile(sorted, 0.999).value];
  const curve = Array.from({ length: POINTS + 1 }, (_, index) => from + ((to - from) * index) / POINTS);
  const { vehicle, order } = question.job.question;
  const known = question.problem.tasks.filter(({ id }) => asked.learnt.has(workOf(question, id))).length;
  const found: Finish = {
    format: "unmoor/finish/1",
    vehicle: vehicle.name,
    ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
    jobs: order.jobs.map((id) => ({ id, label: labelOf(question.job.question, id) })),
    people: question.crew.people.length,
    planned,
    runs: simulated.runs,
    mean: meanFinish(simulated),
    percentiles: SHARES.map((share) => ({ share, ...percentile(sorted, share) })),
    chances: [...(asked.by === undefined ? [] : [asked.by]), ...curve].map((minutes) => ({
      minutes,
      ...chanceOf(sorted, minutes),
    })),
    critical: simulated.activities
      .filter(({ criticality }) => criticality > 0)
      // What is waited for longest comes first: nearly everything of a small crew's is waited for.
      .sort((a, b) => b.criticality * b.minutes - a.criticality * a.minutes)
      .slice(0, SHOWN)
      .map(({ id, criticality, minutes }) => ({ id, label: label(id), criticality, minutes })),
    late: simulated.activities
      .filter((one) => one.late > 0)
      .sort((a, b) => b.late - a.late)
      .map(({ id, late }) => ({ id, label: label(id), share: late })),
    worth: [],
    assumed: [
      known === 0
        ? `Every time is the plan's, taken for the median, with the default spread ${DEFAULT_SPREAD} of its logarithm (ours).`
        : `${known} times are as the runs taught; the others are the plan's, with the default spread ${DEFAULT_SPREAD} (ours).`,
      `All steps of a run share a good or bad day: spread ${asked.common} of the logarithm (ours).`,
      "The order stays as it was planned, whoever is early; finds, waiting for parts and fetching are not in it.",
    ],
  };
  asked.onSimulated?.(found, sorted);
  const worth = worthKnowing(network, asked, simulated, 0.95, TRIED);
  return { ...found, worth: worth.map(({ id, gain }) => ({ id, label: label(id), ...gain })) };
};
