// Owns the answer to when an order is done: what comes off, a schedule for its crew, and ten thousand runs of it by chance.

import {
  answerCrew,
  answerFinish,
  type CrewAnswer,
  type CrewQuestion,
  crewQuestion,
  wholeJob,
} from "../../plan/index.ts";
import type { Bench } from "./bench.ts";
import { crewGiven, peopleOf } from "./crew-given.ts";
import type { FinishAsked, FinishSaid } from "./times-asked.ts";

const RUNS = 10_000;
/** Spread of the logarithm that all steps of a run share, as everywhere. */
const COMMON = 0.1;
const SEED = 1;
/** Of the search for a schedule. */
const SECONDS = 3;
const THOUSANDTHS = 1000;

interface Scheduled {
  readonly whole: CrewQuestion;
  readonly found: CrewAnswer;
}

/** Schedules that were searched for on a bench: what runs taught changes times and not who does what when. */
const schedules = new WeakMap<Bench, Map<string, Scheduled>>();

const schedule = (
  bench: Bench,
  key: string,
  whole: CrewQuestion,
  tell: (best: NonNullable<FinishSaid["best"]>) => void,
): Scheduled => {
  const kept = schedules.get(bench) ?? new Map<string, Scheduled>();
  schedules.set(bench, kept);
  const known = kept.get(key);
  if (known !== undefined) return known;
  let best = { elapsed: Number.POSITIVE_INFINITY, bound: 0 };
  const better = (elapsed: number, bound: number) => {
    best = { elapsed: Math.min(best.elapsed, elapsed), bound: Math.max(best.bound, bound) };
    if (Number.isFinite(best.elapsed)) tell(best);
  };
  const found = answerCrew(whole, {
    seconds: SECONDS,
    seed: SEED,
    clock: () => performance.now(),
    watch: {
      better: (_, { elapsed }, below) => better(elapsed, below),
      bound: (below) => better(Number.POSITIVE_INFINITY, below),
    },
  });
  const scheduled = { whole, found };
  kept.set(key, scheduled);
  return scheduled;
};

export const finishOf = async (
  bench: Bench,
  { order, crew: given, taught }: FinishAsked,
  tell: (said: FinishSaid) => void,
): Promise<FinishSaid> => {
  const began = performance.now();
  const said = (part: Partial<FinishSaid>): FinishSaid => ({
    faults: [],
    quantiles: [],
    ms: performance.now() - began,
    ...part,
  });
  tell(said({ doing: "releasing" }));
  const crew = crewGiven(await bench.vehicle(), given);
  const people = peopleOf(crew);
  const asked = { ...order, ...(people === undefined ? {} : { people }) };
  const { question, answer } = await bench.release(asked);
  if (question.faults.length > 0) return said({ faults: question.faults });
  const plan = answer?.result.plan;
  if (plan === undefined) return said({ none: "no plan" });
  const job = wholeJob(question, plan);
  if (job === undefined) return said({ none: "no way back" });
  tell(said({ doing: "scheduling" }));
  const { whole, found } = schedule(bench, JSON.stringify(asked), crewQuestion(job, crew), (best) =>
    tell(said({ doing: "scheduling", best })),
  );
  if (found.schedule === undefined || found.plan === undefined) return said({ none: "no schedule" });
  const best = { elapsed: found.plan.elapsed, bound: found.bound };
  tell(said({ doing: "simulating", best }));
  let quantiles: readonly number[] = [];
  const finish = answerFinish(whole, found.schedule, found.plan.elapsed, {
    runs: RUNS,
    seed: SEED,
    common: COMMON,
    learnt: new Map(Object.entries(taught)),
    onFinishes: (sorted) => {
      quantiles = Array.from(
        { length: THOUSANDTHS + 1 },
        (_, index) => sorted[Math.round((index / THOUSANDTHS) * (sorted.length - 1))] ?? 0,
      );
    },
  });
  return said({ finish, quantiles, best });
};
