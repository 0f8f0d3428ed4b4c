// Owns the printer of a server: job packs made in a thread of their own, one at a time, for each takes some hundred megabytes.

import { Worker } from "node:worker_threads";
import type { Printed, PrintTask } from "./print-task.ts";

/** Megabytes for what a thread keeps beside the pages. */
const MEMORY = 512;

export type Print = (task: PrintTask) => Promise<Printed>;

/** @param thread the script of the printing thread, print-thread.ts as JavaScript */
export const printerOf = (thread: URL): Print => {
  let last: Promise<unknown> = Promise.resolve();
  return (task) => {
    const next = last.then(() => inThread(thread, task));
    // Whoever is next is printed for whatever became of this one.
    last = next.catch(() => undefined);
    return next;
  };
};

const inThread = (thread: URL, task: PrintTask): Promise<Printed> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(thread, { workerData: task, resourceLimits: { maxOldGenerationSizeMb: MEMORY } });
    worker.once("message", resolve);
    worker.once("error", reject);
    worker.once("exit", (code) => reject(new Error(`the printing thread ended with code ${code} and no pack`)));
  });
