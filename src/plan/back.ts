// Owns the way back: everything that was released made again, everything set undone, in an order for one pair of hands.

import { check, type Step, type Verdict } from "../release/index.ts";
import { type Arrangement, arrange, fewestFor, idOf, positionsOf, turningLabour, visitsOf } from "./arrange.ts";
import { type BackFault, checkBack } from "./back-check.ts";
import type { BackStep } from "./back-step.ts";
import { type Mirror, mirror } from "./mirror.ts";
import type { Question } from "./question.ts";

export interface Back {
  readonly steps: readonly BackStep[];
  /** The position of each step; undefined where it does not matter. */
  readonly positions: readonly (string | undefined)[];
  readonly visits: number;
  /** No order back of these steps has fewer visits. A search of its own, so only for who asks. */
  readonly fewest: () => number;
  /** Person-minutes of states that the way back sets oftener than the way out did: beyond what was proved least. */
  readonly beyond: number;
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

/** The questions of an order of the mirror: at the labour of the way out, with every state once more, or twice more. */
const questionsOf = (glass: Mirror, turning: number, visits: number): readonly Arrangement[] => {
  const once = glass.problem.tasks.reduce((sum, task) => (task.toggle ? sum + 2 * task.labour : sum), 0);
  const ask = {
    problem: glass.problem,
    steps: glass.steps,
    last: new Set<string>(),
    bothWays: true,
    ends: glass.ends,
    visits,
  };
  return [0, 1, 2].map((times) => ({ ...ask, labour: turning + times * once }));
};

/** The first of the questions that a legal order answers, and that order. */
const answerOf = (
  asks: readonly Arrangement[],
): { readonly ask: Arrangement; readonly order: readonly Step[] } | undefined => {
  for (const ask of asks) {
    const order = arrange(ask);
    if (order !== undefined && check(ask.problem, order).legal) return { ask, order };
  }
  return undefined;
};

/**
 * The way back from an order that was carried out. Where the file asks for what cannot be (this after that, though that hangs from this), the way back
 * that does without is given, and its faults say what it does not keep.
 *
 * @param order the steps out and of the work, legal.
 * @param verdict what the checker says of that order.
 */
export const wayBack = (question: Question, order: readonly Step[], verdict: Verdict): Back => {
  const turning = turningLabour(question.problem, order);
  const most = 2 * visitsOf(question.problem, order) + question.problem.tasks.length;
  const whole = mirror(question, order, verdict, true);
  const lesser = () => mirror(question, order, verdict, false);
  const answer = answerOf(questionsOf(whole, turning, most)) ?? answerOf(questionsOf(lesser(), turning, most));
  const chosen = answer?.order ?? mirrored(order, whole);
  const { problem } = answer?.ask ?? whole;
  const steps = readBackwards(question, chosen);
  const visits = visitsOf(problem, chosen);
  return {
    steps,
    positions: positionsOf(problem, chosen).toReversed(),
    visits,
    fewest: () => (answer === undefined ? 0 : Math.min(visits, fewestFor(answer.ask))),
    // Each time counts its setting and its undoing, and so twice what one of the two takes.
    beyond: Math.max(0, turningLabour(problem, chosen) - turning) / 2,
    faults: checkBack(question, order, steps),
  };
};
