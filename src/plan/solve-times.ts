// Owns the whole answer of what to change first, of the ways to mend and of the standards' figures, each stopped with what there is.

import type { Vehicle } from "../vehicle/index.ts";
import { type ImproveAsked, type Improved, improve } from "./improve.ts";
import { sayStage } from "./improve-text.ts";
import type { Overseer } from "./overseer.ts";
import { type FiguresAsked, type StandardFiguresOf, standardFiguresOf } from "./standard-figures.ts";
import { compareWays, type Ways, type WaysAsked } from "./ways.ts";

export type TimesAsked = {
  readonly vehicle: Vehicle;
  /** When to stop with what there is. */
  readonly milliseconds?: number;
} & (
  | { readonly what: "improve"; readonly asked: Omit<ImproveAsked, "stop" | "onProgress"> }
  | { readonly what: "ways"; readonly asked: Omit<WaysAsked, "stop" | "onProgress"> }
  | { readonly what: "figures"; readonly asked: Omit<FiguresAsked, "stop" | "onProgress"> }
);

export interface TimesAnswered {
  readonly improved?: Improved;
  readonly compared?: Ways;
  readonly figures?: StandardFiguresOf;
}

export const solveTimes = (call: TimesAsked, overseer: Overseer): TimesAnswered => {
  const began = overseer.now();
  const limits = {
    stop: () => overseer.stop() || (call.milliseconds !== undefined && overseer.now() - began > call.milliseconds),
  };
  const doing = (what: string) => overseer.report({ kind: "doing", what });
  const planning = (what: string) => (at: number, of: number) => doing(`planning ${what} ${at} of ${of}`);
  if (call.what === "improve")
    return {
      improved: improve(call.vehicle, { ...call.asked, ...limits, onProgress: (stage) => doing(sayStage(stage)) }),
    };
  if (call.what === "figures")
    return { figures: standardFiguresOf(call.vehicle, { ...call.asked, ...limits, onProgress: planning("job") }) };
  return { compared: compareWays(call.vehicle, { ...call.asked, ...limits, onProgress: planning("way") }) };
};
