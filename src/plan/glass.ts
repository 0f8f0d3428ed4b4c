// Owns the way back as the mirror sees it: its order, what the checker says of it, and what waits for what in it.

import { check, type Step, type Verdict } from "../release/index.ts";
import type { Back } from "./back.ts";
import type { BackStep } from "./back-step.ts";
import { type Mirror, mirror } from "./mirror.ts";
import type { Question } from "./question.ts";
import type { Sequence } from "./sequence.ts";
import { type Waits, waitsOf } from "./waits.ts";

/** The id of a step of the way back: `back:` before what the way out had, the task itself where it belongs to the way back or is a state. */
export const backId = (step: BackStep): string => {
  if ("refit" in step) return `back:${step.refit}`;
  if ("return" in step) return `back:${step.return}`;
  if ("perform" in step) return step.perform;
  return "do" in step ? step.do : step.undo;
};

/** The way back as an order of the mirror. */
const reversed = (steps: readonly BackStep[]): readonly Step[] =>
  steps.toReversed().map((step): Step => {
    if ("refit" in step) return { release: step.refit, way: step.way };
    if ("return" in step) return { do: step.return };
    if ("perform" in step) return { do: step.perform };
    return "do" in step ? { undo: step.do } : { do: step.undo };
  });

export interface Glass {
  readonly mirror: Mirror;
  readonly order: readonly Step[];
  readonly verdict: Verdict;
  readonly waits: Waits;
}

/** The mirror that the way back keeps to: with everything the file says comes after something else, or without what cannot be. */
export const glassOf = (
  question: Question,
  { order, verdict }: Sequence,
  back: Back,
  turned: ReadonlySet<string>,
): Glass | undefined => {
  const list = reversed(back.steps);
  for (const withAfter of [true, false]) {
    const glass = mirror(question, order, verdict, withAfter);
    const replayed = check(glass.problem, list);
    const waits = replayed.legal ? waitsOf(glass.problem, list, replayed.lifts, turned) : undefined;
    if (waits !== undefined) return { mirror: glass, order: list, verdict: replayed, waits };
  }
  return undefined;
};
