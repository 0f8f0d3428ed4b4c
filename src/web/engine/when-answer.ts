// Owns the answer to when an order is done, and nothing else of it: what the board shows of every run at once.

import { answerCrew, crewQuestion, finishesOf } from "../../plan/index.ts";
import { percentile } from "../../times/index.ts";
import type { Bench } from "./bench.ts";
import { crewFor } from "./crews.ts";
import { LUCK } from "./finish-answer.ts";
import type { WhenAsked, WhenSaid } from "./times-asked.ts";

const [HALF, MOST] = [0.5, 0.9];

/** Nothing where the order has no whole job, or nobody to do it. */
export const whenOf = async (bench: Bench, { order, seconds, runs }: WhenAsked): Promise<WhenSaid> => {
  const { question, job } = await bench.job(order);
  if (job === undefined) return {};
  const crew = crewQuestion(job, crewFor(question.vehicle, {}));
  const { schedule } = answerCrew(crew, { seconds, seed: 1, clock: () => performance.now() });
  if (schedule === undefined) return {};
  const finishes = finishesOf(crew, schedule, { ...LUCK, runs, learnt: new Map() });
  const by = (share: number): number => percentile(finishes, share).value;
  return { minutes: { half: by(HALF), most: by(MOST) } };
};
