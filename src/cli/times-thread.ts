// Owns the computing thread of what to change first and of the ways to mend. The other end is background.ts.

import { parentPort, workerData } from "node:worker_threads";
import { compareWays, type ImproveAsked, type Improved, improve, type Ways, type WaysAsked } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Report, Start } from "./background.ts";

export type TimesAsked = {
  readonly vehicle: Vehicle;
  /** When to stop with what there is. */
  readonly milliseconds?: number;
} & (
  | { readonly what: "improve"; readonly asked: Omit<ImproveAsked, "stop" | "onProgress"> }
  | { readonly what: "ways"; readonly asked: Omit<WaysAsked, "stop" | "onProgress"> }
);

export interface TimesAnswered {
  readonly improved?: Improved;
  readonly compared?: Ways;
}

const { asked: call, stop } = workerData as Start<TimesAsked>;
const began = performance.now();

function report(message: Report<TimesAnswered>): void {
  parentPort?.postMessage(message);
}

const limits = {
  stop: () =>
    Atomics.load(stop, 0) === 1 || (call.milliseconds !== undefined && performance.now() - began > call.milliseconds),
  onProgress: (what: string) => report({ kind: "doing", what }),
};

report({
  kind: "answer",
  answer:
    call.what === "improve"
      ? { improved: improve(call.vehicle, { ...call.asked, ...limits }) }
      : { compared: compareWays(call.vehicle, { ...call.asked, ...limits }) },
});
