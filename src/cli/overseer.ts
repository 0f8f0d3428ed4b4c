// Owns the computing threads' side of background.ts: the clock, whether Ctrl-C was pressed, and the way back.

import { parentPort, workerData } from "node:worker_threads";
import type { Overseer } from "../plan/index.ts";
import type { Report, Start } from "./background.ts";

/** Answers the question that this thread was started with. */
export async function answerAsked<Asked, Answer>(
  solve: (asked: Asked, overseer: Overseer) => Answer | Promise<Answer>,
): Promise<void> {
  const { asked, stop } = workerData as Start<Asked>;
  const send = (report: Report<Answer>) => parentPort?.postMessage(report);
  const answer = await solve(asked, {
    now: () => performance.now(),
    stop: () => Atomics.load(stop, 0) === 1,
    report: send,
  });
  send({ kind: "answer", answer });
}
