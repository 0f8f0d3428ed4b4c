// Owns the computing thread of the crew: what comes off, who does what when, and the curve. The other end is background.ts.

import { parentPort, workerData } from "node:worker_threads";
import type { Limits } from "../crew/index.ts";
import {
  answerCrew,
  answerFinish,
  type Conflict,
  type Crew,
  type CrewAnswer,
  type CrewCurve,
  conflictOf,
  crewCurve,
  crewQuestion,
  type Finish,
  type FinishAsked,
  type Question,
  replan,
  type Standing,
  unknownIn,
  wholeJob,
} from "../plan/index.ts";
import { checkPlan, type Result, solve } from "../release/index.ts";
import type { Report, Start } from "./background.ts";

/** What the thread is asked, about a question that has no faults. */
export type CrewAsked = {
  readonly question: Question;
  /** When to stop the search for what must come off. */
  readonly milliseconds?: number;
  /** When to stop the search for a schedule, each of them. */
  readonly seconds: number;
  readonly seed: number;
} & (
  | { readonly what: "schedule"; readonly crew: Crew; readonly standing?: Standing }
  | { readonly what: "finish"; readonly crew: Crew; readonly finish: Omit<FinishAsked, "stop"> }
  | { readonly what: "curve"; readonly upTo: number; readonly due?: number }
);

export interface CrewAnswered {
  readonly result: Result;
  /** Of an infeasible question, unless it was stopped before it was known. */
  readonly conflict?: Conflict;
  readonly answer?: CrewAnswer;
  readonly curve?: CrewCurve;
  readonly finish?: Finish;
  /** The way back keeps no order, so that nothing is said of who does what. */
  readonly noWayBack?: boolean;
  /** What of the standing names nothing. */
  readonly unknown?: ReturnType<typeof unknownIn>;
}

const { asked, stop } = workerData as Start<CrewAsked>;
const { question, milliseconds, seconds, seed } = asked;
const began = performance.now();
const stopped = () => Atomics.load(stop, 0) === 1;

function report(message: Report<CrewAnswered>): void {
  parentPort?.postMessage(message);
}

function release(about: Question): Result {
  const result = solve(about.problem, {
    ...(milliseconds === undefined ? {} : { milliseconds }),
    now: () => performance.now(),
    stop: stopped,
  });
  if (result.plan !== undefined) {
    const { verdict, mismatched } = checkPlan(about.problem, result.plan);
    if (!verdict.legal || mismatched.length > 0)
      throw new Error(`the checker refuses the answer: ${JSON.stringify(verdict.faults)} ${mismatched.join(", ")}`);
  }
  return result;
}

/** What the search for a schedule is told, and tells: of each point of a curve anew. */
function limits(): Limits {
  let best = Number.POSITIVE_INFINITY;
  let below = 0;
  const say = () => {
    if (!Number.isFinite(best)) return;
    const gap = best > 0 ? Math.round((100 * Math.max(0, best - below)) / best) : 0;
    report({ kind: "so far", text: `best ${best} min, bound ${Math.floor(below)}, gap ${gap} %` });
  };
  return {
    seconds,
    seed,
    clock: () => performance.now(),
    stop: stopped,
    watch: {
      better: (_, figures, bound) => {
        [best, below] = [figures.elapsed, Math.max(below, bound)];
        say();
      },
      bound: (bound) => {
        below = Math.max(below, bound);
        say();
      },
    },
  };
}

function answer(): CrewAnswered {
  report({ kind: "doing", what: "asking what must come off" });
  const result = release(question);
  if (asked.what === "curve") {
    report({ kind: "doing", what: "searching with 1 person" });
    const curve = crewCurve(
      question,
      asked.upTo,
      release,
      limits(),
      ({ people }) => report({ kind: "doing", what: `searching with ${people + 1} people` }),
      asked.due,
    );
    return { result, curve };
  }
  if (result.status === "infeasible") {
    const conflict = conflictOf(question, {
      milliseconds: milliseconds ?? 20_000,
      now: () => performance.now(),
      stop: stopped,
    });
    return { result, ...(conflict === undefined ? {} : { conflict }) };
  }
  if (result.plan === undefined) return { result };
  report({ kind: "doing", what: "putting it in order" });
  const job = wholeJob(question, result.plan);
  if (job === undefined) return { result, noWayBack: true };
  const whole = crewQuestion(job, asked.crew);
  if (asked.what === "finish") {
    report({ kind: "doing", what: "searching" });
    const found = answerCrew(whole, limits());
    if (found.schedule === undefined || found.plan === undefined) return { result, answer: found };
    report({ kind: "doing", what: "simulating" });
    const stop = () => stopped() || (milliseconds !== undefined && performance.now() - began > milliseconds);
    const finish = answerFinish(whole, found.schedule, found.plan.elapsed, { ...asked.finish, stop });
    return { result, answer: found, finish };
  }
  const unknown = asked.standing === undefined ? [] : unknownIn(whole, asked.standing);
  if (unknown.length > 0) return { result, unknown };
  report({ kind: "doing", what: "searching" });
  if (asked.standing === undefined) return { result, answer: answerCrew(whole, limits()) };
  const left = replan(whole, asked.standing);
  return { result, answer: answerCrew(left.question, limits(), left.carriedOn) };
}

report({ kind: "answer", answer: answer() });
