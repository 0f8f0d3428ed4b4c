// Owns how far the plan is: each step done or not by what was recorded, how much is loose, and what comes next.

import type { BriefStep } from "./brief.ts";
import type { Ledger } from "./ledger.ts";

export interface StepStanding extends BriefStep {
  readonly done: boolean;
}

export interface Progress {
  readonly steps: readonly StepStanding[];
  /** Connections that the plan takes apart: how many there are, are apart, and are verified loose; and are made again. */
  readonly planned: number;
  readonly apart: number;
  readonly loose: number;
  readonly back: number;
  /** The first steps that are not done, in the plan's order. */
  readonly next: readonly StepStanding[];
}

const NEXT = 8;

/** A step that the plan has several times counts as done as often as it was recorded. */
export const progressOf = (ledger: Ledger): Progress => {
  const { brief } = ledger;
  const hangs = new Map(brief.hangs.map((one) => [one.id, one]));
  const seen = new Map<string, number>();
  const nth = (step: BriefStep): number => {
    const key = `${step.action} ${step.id}`;
    seen.set(key, (seen.get(key) ?? 0) + 1);
    return seen.get(key) ?? 1;
  };
  const isDone = (step: BriefStep): boolean => {
    const { id, action } = step;
    const n = nth(step);
    const hang = hangs.get(id);
    switch (action) {
      case "release":
      case "loosen":
        return ledger.joint(id).state !== "tied";
      case "refit":
      case "tighten": {
        const { state } = ledger.joint(id);
        return state === "refitted" || state === "proved";
      }
      case "verify":
        return step.verify.every((one) => {
          const { state, verified } = ledger.joint(one);
          return state === "proved" || (state === "tied" && verified === undefined);
        });
      case "do":
        return hang === undefined ? ledger.task(id).done >= n : ledger.part(hang.part).awayTimes >= n;
      case "undo":
      case "return":
        return hang === undefined ? ledger.task(id).undone >= n : ledger.part(hang.part).backTimes >= n;
      case "work":
      case "perform":
        return ledger.task(id).state === "done";
    }
  };
  const steps = brief.steps.map((step): StepStanding => ({ ...step, done: isDone(step) }));
  const planned = brief.joints.filter((joint) => joint.planned !== undefined);
  const states = planned.map(({ id }) => ledger.joint(id));
  const count = (...wanted: readonly string[]) => states.filter(({ state }) => wanted.includes(state)).length;
  const apart = states.filter(({ state, opened }) => opened && state !== "tied").length;
  return {
    steps,
    planned: planned.length,
    apart,
    loose: count("loose"),
    back: count("refitted", "proved"),
    next: steps.filter(({ done }) => !done).slice(0, NEXT),
  };
};
