// Owns the whole answer of what must come off: searched, checked before anybody sees it, and what is made of it beside.

import {
  type Choice,
  checkPlan,
  choiceOf,
  type EdgePart,
  edgeParts,
  type Limits,
  type Reason,
  type Result,
  reasonFor,
  reasonsFor,
  solve,
  type Verdict,
} from "../release/index.ts";
import { type Conflict, conflictOf } from "./conflict.ts";
import { makePlan } from "./make-plan.ts";
import type { Overseer } from "./overseer.ts";
import type { Plan } from "./plan.ts";
import type { Question } from "./question.ts";
import { type WhileOut, whileItIsOut } from "./while-out.ts";

/** What is asked, about a question that has no faults. */
export interface ReleaseAsked {
  readonly what: "release" | "plan" | "why";
  readonly question: Question;
  /** When to stop the search. */
  readonly milliseconds?: number;
  /** Also what every other job of the vehicle would add. */
  readonly others: boolean;
  /** Also why each step is made, and what each part at the edge of a lift would cost on the other side. */
  readonly reasons: boolean;
  /** The connection or task that `why` asks about. */
  readonly about: string;
}

/** The solver's answer and, where it has a plan, the checker's verdict on it and what was made of it. */
export interface ReleaseAnswered {
  readonly result: Result;
  readonly verdict?: Verdict;
  readonly plan?: Plan;
  readonly others?: readonly WhileOut[];
  readonly reasons?: ReadonlyMap<string, readonly Reason[]>;
  readonly edge?: readonly EdgePart[];
  /** Of what `why` asks about. */
  readonly chain?: readonly Reason[];
  readonly choice?: Choice;
  /** Of an infeasible question, unless it was stopped before it was known. */
  readonly conflict?: Conflict;
}

/**
 * Where no limit is set, for what is asked beside the plan: each answer that a conflict or another job is found by, and all of a choice, or of the edge,
 * together. What is not known in time is said to be so.
 */
export const BESIDE_MS = 20_000;

/**
 * What must come off, with the checker's verdict where there is a plan: nobody is shown one that it refuses, however it came about.
 *
 * @throws when the checker refuses it: a fault of this program, never of the file.
 */
export const solveChecked = (
  question: Question,
  limits: Limits,
): { readonly result: Result; readonly verdict?: Verdict } => {
  const result = solve(question.problem, limits);
  if (result.plan === undefined) return { result };
  const { verdict, mismatched } = checkPlan(question.problem, result.plan);
  if (!verdict.legal || mismatched.length > 0)
    throw new Error(`the checker refuses the answer: ${JSON.stringify(verdict.faults)} ${mismatched.join(", ")}`);
  return { result, verdict };
};

/** The limits of a search that somebody watches over. */
export const limitsOf = ({ now, stop }: Overseer, milliseconds?: number): Limits => ({
  ...(milliseconds === undefined ? {} : { milliseconds }),
  now,
  stop,
});

/** @throws when the checker refuses what was found: a fault of this program, never of the file. */
export const solveRelease = (asked: ReleaseAsked, overseer: Overseer): ReleaseAnswered => {
  const { what, question, milliseconds, others, reasons, about } = asked;
  const limits = limitsOf(overseer, milliseconds);
  const beside = limitsOf(overseer, milliseconds ?? BESIDE_MS);
  overseer.report({ kind: "doing", what: "searching" });
  const { result, verdict } = solveChecked(question, {
    ...limits,
    onBest: (best, bound) => overseer.report({ kind: "best", of: "labour", best, bound }),
  });
  if (result.status === "infeasible") {
    overseer.report({ kind: "doing", what: "asking why not" });
    const conflict = conflictOf(question, beside);
    return { result, ...(conflict === undefined ? {} : { conflict }) };
  }
  if (result.plan === undefined || verdict === undefined) return { result };
  overseer.report({ kind: "doing", what: what === "plan" ? "putting it in order" : "asking what else" });
  const { problem } = question;
  const plan = what === "plan" ? makePlan(question, result) : undefined;
  return {
    result,
    verdict,
    ...(plan === undefined ? {} : { plan }),
    ...(others ? { others: whileItIsOut(question, result, beside) } : {}),
    ...(reasons
      ? { reasons: reasonsFor(problem, result.plan, beside), edge: edgeParts(problem, result.plan, beside) }
      : {}),
    ...(what === "why"
      ? { chain: reasonFor(problem, result.plan, about), choice: choiceOf(problem, result.plan, about, beside) }
      : {}),
  };
};
