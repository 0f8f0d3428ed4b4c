// Owns the computing thread: it answers one question and ends. The other end is background.ts.

import { parentPort, workerData } from "node:worker_threads";
import { checkPlan, type Limits, type Result, solve, type Verdict } from "../release/index.ts";
import type { Report, Start } from "./background.ts";
import type { Asked } from "./release.ts";

/** The solver's answer, and the checker's verdict on it where there is a plan. */
export interface ReleaseAnswer {
  readonly result: Result;
  readonly verdict?: Verdict;
}

const { asked, stop } = workerData as Start<Asked>;

function report(message: Report<ReleaseAnswer>): void {
  parentPort?.postMessage(message);
}

const limits: Limits = {
  ...(asked.milliseconds === undefined ? {} : { milliseconds: asked.milliseconds }),
  now: () => performance.now(),
  stop: () => Atomics.load(stop, 0) === 1,
  onBest: (labour, bound) => report({ kind: "best", labour, bound }),
};

function answerRelease(): ReleaseAnswer {
  const { problem } = asked.question;
  const result = solve(problem, limits);
  if (result.plan === undefined) return { result };
  const { verdict, mismatched } = checkPlan(problem, result.plan);
  // Nobody is shown a plan that the checker refuses, however it came about.
  if (!verdict.legal || mismatched.length > 0) {
    throw new Error(`the checker refuses the answer: ${JSON.stringify(verdict.faults)} ${mismatched.join(", ")}`);
  }
  return { result, verdict };
}

report({ kind: "answer", answer: answerRelease() });
