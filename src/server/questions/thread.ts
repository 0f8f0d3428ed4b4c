// Owns the computing thread of the server: it answers questions one after another. The other end is computing.ts.

import { parentPort } from "node:worker_threads";
import { answerQuestion } from "./answer.ts";
import type { Message, Task } from "./computing.ts";

const send = (message: Message) => parentPort?.postMessage(message);

parentPort?.on("message", async ({ wanted, files, stop }: Task) => {
  try {
    const answer = await answerQuestion(wanted, files, {
      now: () => performance.now(),
      stop: () => Atomics.load(stop, 0) === 1,
      report: send,
    });
    send({ kind: "answer", answer: JSON.stringify(answer) });
  } catch (error) {
    send({ kind: "fault", fault: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
