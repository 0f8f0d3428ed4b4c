// Owns the whole answer of a crew: what comes off, who does what when, the curve, and when it is done.

import type { Limits } from "../crew/index.ts";
import type { Result } from "../release/index.ts";
import { type Conflict, conflictOf } from "./conflict.ts";
import type { Crew } from "./crew.ts";
import { answerCrew, type CrewAnswer } from "./crew-answer.ts";
import { type CrewCurve, crewCurve } from "./crew-curve.ts";
import { crewQuestion } from "./crew-question.ts";
import { answerFinish, type Finish, type FinishAsked } from "./finish-answer.ts";
import type { Overseer } from "./overseer.ts";
import type { Question } from "./question.ts";
import { replan, type Standing, unknownIn } from "./replan.ts";
import { BESIDE_MS, limitsOf, solveChecked } from "./solve-release.ts";
import { wholeJob } from "./whole-job.ts";

/** What is asked, about a question that has no faults. */
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

/** What the search for a schedule is told, and tells: of each point of a curve anew. */
const searchOf = ({ seconds, seed }: CrewAsked, overseer: Overseer): Limits => {
  let best = Number.POSITIVE_INFINITY;
  let bound = 0;
  const tell = () => {
    if (Number.isFinite(best)) overseer.report({ kind: "best", of: "elapsed", best, bound });
  };
  return {
    seconds,
    seed,
    clock: overseer.now,
    stop: overseer.stop,
    watch: {
      better: (_, figures, below) => {
        [best, bound] = [figures.elapsed, Math.max(bound, below)];
        tell();
      },
      bound: (below) => {
        bound = Math.max(bound, below);
        tell();
      },
    },
  };
};

/** @throws when a checker refuses what was found: a fault of this program, never of the file. */
export const solveCrew = (asked: CrewAsked, overseer: Overseer): CrewAnswered => {
  const { question, milliseconds } = asked;
  const began = overseer.now();
  const doing = (what: string) => overseer.report({ kind: "doing", what });
  const release = (about: Question) => solveChecked(about, limitsOf(overseer, milliseconds)).result;
  doing("asking what must come off");
  const result = release(question);
  if (asked.what === "curve") {
    doing("searching with 1 person");
    const curve = crewCurve(
      question,
      asked.upTo,
      release,
      searchOf(asked, overseer),
      ({ people }) => doing(`searching with ${people + 1} people`),
      asked.due,
    );
    return { result, curve };
  }
  if (result.status === "infeasible") {
    const conflict = conflictOf(question, limitsOf(overseer, milliseconds ?? BESIDE_MS));
    return { result, ...(conflict === undefined ? {} : { conflict }) };
  }
  if (result.plan === undefined) return { result };
  doing("putting it in order");
  const job = wholeJob(question, result.plan);
  if (job === undefined) return { result, noWayBack: true };
  const whole = crewQuestion(job, asked.crew);
  if (asked.what === "finish") {
    doing("searching");
    const found = answerCrew(whole, searchOf(asked, overseer));
    if (found.schedule === undefined || found.plan === undefined) return { result, answer: found };
    doing("simulating");
    const stop = () => overseer.stop() || (milliseconds !== undefined && overseer.now() - began > milliseconds);
    const finish = answerFinish(whole, found.schedule, found.plan.elapsed, { ...asked.finish, stop });
    return { result, answer: found, finish };
  }
  const unknown = asked.standing === undefined ? [] : unknownIn(whole, asked.standing);
  if (unknown.length > 0) return { result, unknown };
  doing("searching");
  if (asked.standing === undefined) return { result, answer: answerCrew(whole, searchOf(asked, overseer)) };
  const left = replan(whole, asked.standing);
  return { result, answer: answerCrew(left.question, searchOf(asked, overseer), left.carriedOn) };
};
