// Owns the way back: everything that was released made again, everything set undone, in an order for one pair of hands.

import { check, type Step, type Verdict } from "../release/index.ts";
import { type Arrangement, arrange, idOf, positionsOf, turningLabour, visitsOf } from "./arrange.ts";
import { type BackFault, checkBack } from "./back-check.ts";
import { type Mirror, mirror } from "./mirror.ts";
import type { Question } from "./question.ts";

/** One step of the way back. */
export type BackStep =
  | { readonly refit: string; readonly way: string }
  /** A task's return: filled after drained, in after out, off after on. */
  | { readonly return: string }
  /** A task that belongs to the way back: bleed, adjust, test. */
  | { readonly perform: string }
  | { readonly do: string }
  | { readonly undo: string };

export interface Back {
  readonly steps: readonly BackStep[];
  /** The position of each step; undefined where it does not matter. */
  readonly positions: readonly (string | undefined)[];
  readonly visits: number;
  /** No order back of these steps has fewer visits. */
  readonly fewest: number;
  /** Toggles that the way out never set: their labour is beyond what was proved least. */
  readonly beyond: readonly string[];
  /** What the independent replay of these very steps finds; empty when the way back holds. */
  readonly faults: readonly BackFault[];
}

/** An order of the mirror, read backwards. */
const readBackwards = (question: Question, order: readonly Step[]): readonly BackStep[] =>
  order.toReversed().map((step): BackStep => {
    if ("release" in step) return { refit: step.release, way: step.way };
    if ("undo" in step) return { do: step.undo };
    const source = question.sources.get(step.do);
    if (source?.kind === "task" && source.task.undo !== undefined) return { undo: step.do };
    return source?.kind === "task" && source.task.phase === "back" ? { perform: step.do } : { return: step.do };
  });

/** The order out as it stands, where no better was found: back tasks first, so that read backwards they come last. */
const mirrored = (order: readonly Step[], { steps, ends }: Mirror): readonly Step[] => {
  const kept = new Set(steps.map(idOf));
  const met = new Set(order.map(idOf));
  return [
    ...steps.filter((step) => !met.has(idOf(step)) && !ends.has(idOf(step))),
    ...order.filter((step) => kept.has(idOf(step))),
  ];
};

/**
 * The way back from an order that was carried out.
 *
 * @param order the steps out and of the work, legal.
 * @param verdict what the checker says of that order.
 */
export const wayBack = (question: Question, order: readonly Step[], verdict: Verdict): Back => {
  const glass = mirror(question, order, verdict);
  const turning = turningLabour(question.problem, order);
  const met = new Set(order.map(idOf));
  const added = glass.problem.tasks.filter((task) => task.toggle && !met.has(task.id));
  const once = added.reduce((sum, task) => sum + 2 * task.labour, 0);
  const ask: Omit<Arrangement, "labour"> = {
    problem: glass.problem,
    steps: glass.steps,
    last: new Set(),
    bothWays: true,
    ends: glass.ends,
    visits: 2 * visitsOf(question.problem, order) + glass.problem.tasks.length,
  };
  const legal = (found: readonly Step[] | undefined) => found !== undefined && check(glass.problem, found).legal;
  // At the labour of the way out; with the states that only the way back needs; at twice that.
  const tries = [turning, turning + once, 2 * (turning + once)].map((labour) => () => arrange({ ...ask, labour }));
  let fewest = 0;
  let found: readonly Step[] | undefined;
  for (const attempt of tries) {
    const arranged = attempt();
    fewest = arranged.fewest;
    if (!legal(arranged.order)) continue;
    found = arranged.order;
    break;
  }
  const chosen = found ?? mirrored(order, glass);
  const steps = readBackwards(question, chosen);
  const visits = visitsOf(glass.problem, chosen);
  const set = new Set(chosen.flatMap((step) => ("do" in step ? [step.do] : [])));
  return {
    steps,
    positions: positionsOf(glass.problem, chosen).toReversed(),
    visits,
    fewest: Math.min(fewest, visits),
    beyond: added.filter((task) => set.has(task.id)).map((task) => task.id),
    faults: checkBack(question, order, steps),
  };
};
