// Owns the computing thread of the server: it answers questions and plans runs anew, one after another. The other end is computing.ts.

import { parentPort } from "node:worker_threads";
import type { Overseer } from "../../plan/index.ts";
import { planAnew } from "../plan-anew.ts";
import { type Answer, answerQuestion } from "./answer.ts";
import type { Message, Task, Work } from "./computing.ts";

const send = (message: Message) => parentPort?.postMessage(message);

/** Milliseconds that a new plan may be searched for: people stand around the vehicle meanwhile. */
const ANEW = 20_000;

const carryOut = async (work: Work, overseer: Overseer): Promise<unknown> =>
  "anew" in work ? planAnew(work.anew, overseer, ANEW) : answerQuestion(work.wanted, work.files, overseer);

const isUnfound = (answer: unknown): answer is Extract<Answer, { readonly kind: "unfound" }> =>
  (answer as { readonly kind?: unknown }).kind === "unfound";

parentPort?.on("message", async ({ work, stop }: Task) => {
  try {
    const answer = await carryOut(work, {
      now: () => performance.now(),
      stop: () => Atomics.load(stop, 0) === 1,
      report: send,
    });
    send(
      isUnfound(answer) ? { kind: "unfound", ...answer.document } : { kind: "answer", answer: JSON.stringify(answer) },
    );
  } catch (error) {
    send({ kind: "fault", fault: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
