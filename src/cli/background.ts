// Owns the thread that computes while this one listens: Ctrl-C must reach a search that never pauses, and progress must show.

import { Worker } from "node:worker_threads";
import type { Progress } from "../plan/index.ts";
import type { Terminal } from "./terminal.ts";

/** What the computing thread sends back. */
export type Report<Answer> = Progress | { readonly kind: "answer"; readonly answer: Answer };

/** What the computing thread is given beside its question. */
export interface Start<Asked> {
  readonly asked: Asked;
  /** Its first element turns 1 when the search is to stop with what it has. */
  readonly stop: Int32Array<SharedArrayBuffer>;
}

/** Shown only when there is something to wait for. */
const QUIET_MS = 700;

/**
 * Computes in a thread of its own, shows progress, and asks it to stop at Ctrl-C. A second Ctrl-C ends the process at once, with
 * the shell's code for it.
 */
export async function computeAside<Asked, Answer>(
  asked: Asked,
  terminal: Terminal,
  thread = new URL("./thread.js", import.meta.url),
): Promise<Answer> {
  const stop = new Int32Array(new SharedArrayBuffer(4));
  const started = performance.now();
  let doing = "searching";
  let best = "";
  const worker = new Worker(thread, {
    workerData: { asked, stop } satisfies Start<Asked>,
    // A search makes much that is soon let go of: with more room it is looked through less often.
    resourceLimits: { maxYoungGenerationSizeMb: 64 },
  });
  const show = setInterval(() => {
    const seconds = (performance.now() - started) / 1000;
    if (seconds * 1000 < QUIET_MS) return;
    terminal.progress(
      `${doing} ${seconds.toFixed(0)} s${best}${Atomics.load(stop, 0) ? ", stopping" : "; Ctrl-C takes the best so far"}`,
    );
  }, 200);
  const interrupt = () => {
    if (Atomics.exchange(stop, 0, 1) === 1) process.exit(130);
  };
  process.on("SIGINT", interrupt);
  try {
    return await new Promise<Answer>((resolve, reject) => {
      worker.on("message", (report: Report<Answer>) => {
        if (report.kind === "doing") [doing, best] = [report.what, ""];
        else if (report.kind === "best") best = `: ${sayBest(report)}`;
        else resolve(report.answer);
      });
      worker.once("error", reject);
      worker.once("exit", (code) => reject(new Error(`the computing thread ended with code ${code} and no answer`)));
    });
  } finally {
    clearInterval(show);
    terminal.progress("");
    process.off("SIGINT", interrupt);
    await worker.terminate();
  }
}

function sayBest({ of, best, bound }: Progress & { readonly kind: "best" }): string {
  if (of === "labour") return `best ${best} person-minutes, none below ${Math.ceil(bound)}`;
  const gap = best > 0 ? Math.round((100 * Math.max(0, best - bound)) / best) : 0;
  return `best ${best} min, bound ${Math.floor(bound)}, gap ${gap} %`;
}
