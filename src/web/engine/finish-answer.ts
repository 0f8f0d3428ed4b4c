// Owns the answer to when an order is done: its schedule carried out ten thousand times by chance.

import { answerFinish, crewQuestion } from "../../plan/index.ts";
import type { Bench } from "./bench.ts";
import { crewFor } from "./crews.ts";
import type { FinishAsked, FinishSaid } from "./times-asked.ts";

const RUNS = 10_000;
/** Its `common` is the spread of the logarithm that all steps of a run share, as everywhere. */
export const LUCK = { seed: 1, common: 0.1 } as const;
const THOUSANDTHS = 1000;

/** @throws Error where the order has no whole job: then it has no schedule either, and nobody asks. */
export const finishOf = async (
  bench: Bench,
  { order, crew, schedule, elapsed, taught }: FinishAsked,
  tell: (said: FinishSaid) => void,
): Promise<FinishSaid> => {
  const began = performance.now();
  const { question, job } = await bench.job(order);
  if (job === undefined) throw new Error("a schedule was given for an order that has none");
  const whole = crewQuestion(job, crewFor(question.vehicle, crew === undefined ? {} : { crew }));
  let quantiles: readonly number[] = [];
  const finish = answerFinish(whole, schedule, elapsed, {
    runs: RUNS,
    ...LUCK,
    learnt: new Map(Object.entries(taught)),
    onSimulated: (found, sorted) => {
      quantiles = Array.from(
        { length: THOUSANDTHS + 1 },
        (_, index) => sorted[Math.round((index / THOUSANDTHS) * (sorted.length - 1))] ?? 0,
      );
      tell({ finish: found, quantiles, isLast: false, ms: performance.now() - began });
    },
  });
  return { finish, quantiles, isLast: true, ms: performance.now() - began };
};
