// Owns a thread of the engine: it answers questions one after the other by the pure rooms, and knows no page.

import { ANSWERS } from "./answers.ts";
import type { FromThread, Kind, ToThread } from "./asked.ts";
import { Bench } from "./bench.ts";

/** Models that are kept; the page goes from one version to the next as it is typed. */
const KEPT = 4;
const benches = new Map<number, Bench>();
const send = (message: FromThread): void => postMessage(message);

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
      if (bench === undefined) throw new Error("the model is not here");
      send({ is: "said", id, said: await answer(kind, bench, body, (said) => send({ is: "progress", id, said })) });
    } catch (error) {
      send({ is: "failed", id, why: error instanceof Error ? error.message : String(error) });
    }
  });
});

/** The kind's answer to the body that goes with it: the compiler does not see that the two belong together. */
const answer = (kind: Kind, bench: Bench, body: unknown, tell: (said: unknown) => void): unknown =>
  (ANSWERS[kind] as (bench: Bench, body: unknown, tell: (said: unknown) => void) => unknown)(bench, body, tell);
