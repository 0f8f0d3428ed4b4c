// Owns the whole answer of what to change first, and of the ways to mend, each stopped with what there is.

import type { Vehicle } from "../vehicle/index.ts";
import { type ImproveAsked, type Improved, improve } from "./improve.ts";
import type { Overseer } from "./overseer.ts";
import { compareWays, type Ways, type WaysAsked } from "./ways.ts";

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

export const solveTimes = (call: TimesAsked, overseer: Overseer): TimesAnswered => {
  const began = overseer.now();
  const limits = {
    stop: () => overseer.stop() || (call.milliseconds !== undefined && overseer.now() - began > call.milliseconds),
    onProgress: (what: string) => overseer.report({ kind: "doing", what }),
  };
  return call.what === "improve"
    ? { improved: improve(call.vehicle, { ...call.asked, ...limits }) }
    : { compared: compareWays(call.vehicle, { ...call.asked, ...limits }) };
};
