// Owns the answer to a crew's question: searched, checked by the crew room's checker and replayed as a course of releases and refits before anybody sees it.

import { check, type Limits, type Result, type Schedule, solve } from "../crew/index.ts";
import type { Reading } from "../vehicle/index.ts";
import { type CrewLack, sayCrewLacks } from "./crew-lack.ts";
import { type CrewPlan, makeCrewPlan } from "./crew-plan.ts";
import type { CrewQuestion } from "./crew-question.ts";
import { replaySchedule } from "./crew-replay.ts";
import { oneByOne } from "./one-by-one.ts";

export interface CrewAnswer {
  readonly status: Result["status"];
  /** Absent when there is none, or none was found. */
  readonly plan?: CrewPlan;
  readonly schedule?: Schedule;
  /** Minutes from `now`; Infinity when there is no schedule. */
  readonly bound: number;
  /** Why there is none. */
  readonly lacks: readonly CrewLack[];
}

/** Why there is no schedule, each lack with the place of what it is about; its shape is in schema/schedule.schema.json. */
export const describeCrewLack = ({ status, bound, lacks }: CrewAnswer, place: Reading["place"]) => ({
  format: "unmoor/crew-lack/1" as const,
  status: status === "infeasible" ? ("infeasible" as const) : ("unknown" as const),
  bound: Number.isFinite(bound) ? bound : null,
  lacks: lacks.map((lack) => {
    const at = place(lack.at.replace(/^(back|look|wait|change):/, "").replace(/^back:/, ""));
    return { ...lack, ...(at === undefined ? {} : { place: at }) };
  }),
});

/** Minutes by which two counts of the same may differ. */
const ROUNDING = 1e-6;

/** What is legal already: a schedule known beforehand stands where the search finds none, or a worse one. */
const known = (question: CrewQuestion, schedule: Schedule | undefined, found: Result): Result => {
  if (schedule === undefined || found.status === "infeasible") return found;
  const { legal, figures } = check(question.problem, schedule);
  const worth = question.problem.told?.worth ?? 0;
  const cost = (one: NonNullable<Result["figures"]>) => one.elapsed + worth * one.retold;
  if (!legal || (found.figures !== undefined && cost(found.figures) <= cost(figures))) return found;
  const optimal = figures.elapsed <= found.bound && figures.retold === 0;
  return { ...found, status: optimal ? "optimal" : "feasible", schedule, figures, chain: [] };
};

/**
 * The schedule of a crew's question.
 *
 * @param carriedOn what was told before, as it goes on from now: the answer is never worse.
 * @throws when a checker refuses what was found: a fault of this program, never of the file.
 */
export const answerCrew = (question: CrewQuestion, limits: Limits, carriedOn?: Schedule): CrewAnswer => {
  const start = carriedOn === undefined ? {} : { known: [carriedOn] };
  const found = known(question, carriedOn, solve(question.problem, { ...limits, ...start }));
  const begun = question.problem.tasks.some((task) => task.begun !== undefined);
  const result = found.schedule === undefined && !begun ? known(question, oneByOne(question), found) : found;
  const { schedule } = result;
  if (schedule !== undefined) {
    const verdict = check(question.problem, schedule);
    if (!verdict.legal) throw new Error(`the crew's checker refuses the schedule: ${JSON.stringify(verdict.faults)}`);
    const { elapsed } = verdict.figures;
    if (
      !(Math.abs(elapsed - (result.figures?.elapsed ?? Number.NaN)) <= ROUNDING) ||
      !(result.bound <= elapsed + ROUNDING)
    )
      throw new Error(
        `the crew's checker counts ${elapsed} min, the search ${result.figures?.elapsed} with ${result.bound} as its bound`,
      );
    const faults = replaySchedule(question, schedule);
    if (faults.length > 0) throw new Error(`the checkers refuse the order of the schedule: ${faults.join(" ")}`);
  }
  const plan = makeCrewPlan(question, result);
  return {
    status: result.status,
    ...(plan === undefined ? {} : { plan }),
    ...(schedule === undefined ? {} : { schedule }),
    bound: result.bound,
    lacks: sayCrewLacks(question, result.lacks),
  };
};
