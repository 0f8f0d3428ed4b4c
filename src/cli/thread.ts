// Owns the computing thread: it answers one question and ends. The other end is background.ts.

import { parentPort, workerData } from "node:worker_threads";
import {
  type Conflict,
  conflictOf,
  makePlan,
  type Plan,
  type Question,
  type WhileOut,
  whileItIsOut,
} from "../plan/index.ts";
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
import type { Report, Start } from "./background.ts";

/** What the thread is asked, about a question that has no faults. */
export interface Asked {
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
export interface Answer {
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
 * Where the call sets no limit, for what is asked beside the plan: each answer that a conflict or another job is found by, and all of a
 * choice, or of the edge, together. What is not known in time is said to be so.
 */
const BESIDE_MS = 20_000;

const { asked, stop } = workerData as Start<Asked>;
const { what, question, milliseconds, others, reasons, about } = asked;

const limits: Limits = {
  ...(milliseconds === undefined ? {} : { milliseconds }),
  now: () => performance.now(),
  stop: () => Atomics.load(stop, 0) === 1,
};

const beside: Limits = { ...limits, milliseconds: milliseconds ?? BESIDE_MS };

function report(message: Report<Answer>): void {
  parentPort?.postMessage(message);
}

function answer(): Answer {
  report({ kind: "doing", what: "searching" });
  const result = solve(question.problem, {
    ...limits,
    onBest: (labour, bound) => report({ kind: "best", labour, bound }),
  });
  if (result.status === "infeasible") {
    report({ kind: "doing", what: "asking why not" });
    const conflict = conflictOf(question, beside);
    return { result, ...(conflict === undefined ? {} : { conflict }) };
  }
  if (result.plan === undefined) return { result };
  const { verdict, mismatched } = checkPlan(question.problem, result.plan);
  // Nobody is shown a plan that the checker refuses, however it came about.
  if (!verdict.legal || mismatched.length > 0) {
    throw new Error(`the checker refuses the answer: ${JSON.stringify(verdict.faults)} ${mismatched.join(", ")}`);
  }
  report({ kind: "doing", what: what === "plan" ? "putting it in order" : "asking what else" });
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
}

report({ kind: "answer", answer: answer() });
