// Owns a thread of the engine: it answers the questions that it can, one after the other, by the pure rooms, and knows no page.

import type { AskedOf, FromThread, Kind, SaidOf, ToThread } from "./asked.ts";
import { Bench } from "./bench.ts";

/** What answers each kind of question. */
export type Answers = {
  readonly [K in Kind]: (
    bench: Bench,
    body: AskedOf[K],
    tell: (progress: SaidOf[K]) => void,
  ) => Promise<SaidOf[K]> | SaidOf[K];
};

type Answer = (bench: Bench, body: unknown, tell: (said: unknown) => void) => unknown;

/** Models that are kept; the page goes from one version to the next as it is typed. */
const KEPT = 4;
const send = (message: FromThread): void => postMessage(message);

/** Makes this thread answer these kinds. */
export const answerWith = (answers: Partial<Answers>): void => {
  const benches = new Map<number, Bench>();
  let last: Promise<void> = Promise.resolve();
  addEventListener("message", ({ data }: MessageEvent<ToThread>) => {
    if (data.is === "model") {
      if (benches.size >= KEPT) benches.delete(benches.keys().next().value ?? -1);
      benches.set(data.model, new Bench(data.files));
      return;
    }
    const { id, kind, body } = data;
    const bench = benches.get(data.model);
    last = last.then(async () => {
      try {
        // The compiler does not see that a kind and the body of its question belong together.
        const answer = answers[kind] as Answer | undefined;
        if (bench === undefined || answer === undefined) throw new Error(`${kind} is not answered here`);
        send({ is: "said", id, said: await answer(bench, body, (said) => send({ is: "progress", id, said })) });
      } catch (error) {
        send({ is: "failed", id, why: error instanceof Error ? error.message : String(error) });
      }
    });
  });
};
