// Owns one job reckoned in full: what must come off, who does what when, and its finish by chance; as it is, or with the vehicle and the crew changed.

import { check, type Schedule, solve as schedule } from "../crew/index.ts";
import { checkPlan, type Plan, type Problem, type Result, solve } from "../release/index.ts";
import { DEFAULT_SPREAD, fromMedian, type Lognormal, percentile, Replay } from "../times/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import { type CrewQuestion, crewQuestion } from "./crew-question.ts";
import { finishNetwork, workOf } from "./finish.ts";
import { orderFor } from "./order.ts";
import { type Question, translate } from "./question.ts";
import { type WholeJob, wholeJob } from "./whole-job.ts";

export interface Reckoning {
  readonly runs: number;
  readonly seed: number;
  readonly common: number;
  /** Times that runs have taught, as a finish takes them. */
  readonly learnt: ReadonlyMap<string, Lognormal>;
  /** Schedules bred for each job; else so many as are quick. */
  readonly schedules?: number;
  readonly stop?: () => boolean;
}

/** What a job takes. */
export interface Taken {
  /** Person-minutes, release and refit together. */
  readonly labour: number;
  /** Minutes, by the plan's own times in the schedule's order. */
  readonly elapsed: number;
  /** Finishes by chance, minutes, in the order of the runs. */
  readonly finishes: Float64Array;
  readonly p95: number;
}

/** A job that has a plan and a schedule. */
export interface Reckoned extends Taken {
  readonly question: Question;
  readonly plan: Plan;
  readonly crew: CrewQuestion;
  readonly schedule: Schedule;
  /** Tools that the longest chain of the schedule waits for. */
  readonly scarce: ReadonlySet<string>;
  /** By id of an activity: what runs know it by. */
  readonly works: ReadonlyMap<string, string>;
  /** Its finish by the plan's own times, and by chance. */
  readonly planned: Replay;
  readonly chance: Replay;
}

/** Schedules bred for each: the same for the job as it is and as it would be, and counts rather than time, so that the same question has the same answer. */
const SEARCH = { schedules: 100, conflicts: 0 };

const p95Of = (finishes: Float64Array): number => percentile(finishes.slice().sort(), 0.95).value;

/** The time of a step: as runs taught, else the plan's with the default spread. */
export const timeIn = (crew: CrewQuestion, { learnt }: Reckoning, id: string, minutes: number): Lognormal =>
  learnt.get(workOf(crew, id)) ?? fromMedian(minutes, DEFAULT_SPREAD);

/** The question of what must come off for this job with so many people. */
export const questionOf = (vehicle: Vehicle, job: string, people: number): Question =>
  translate(vehicle, { ...orderFor(job), people });

/** The question with these tasks asking for nothing. */
const freeTasks = (problem: Problem, ids: readonly string[]): Problem => ({
  ...problem,
  tasks: problem.tasks.map((task) => (ids.includes(task.id) ? { ...task, needs: [], without: [] } : task)),
});

/** What must come off for this job with this crew; `freed`: tasks that ask for nothing. */
export const release = (
  vehicle: Vehicle,
  job: string,
  people: number,
  { stop }: Reckoning,
  freed: readonly string[] = [],
): { readonly question: Question; readonly result: Result } => {
  const question = questionOf(vehicle, job, people);
  return { question, result: solve(freeTasks(question.problem, freed), stop === undefined ? {} : { stop }) };
};

/** Who does what when for a plan, and its finish; undefined where the crew cannot do it or its way back keeps no order. `known`: the plan as a whole job, where it is made already. */
export const carryOut = (
  question: Question,
  plan: Plan,
  crew: Crew,
  asked: Reckoning,
  known?: WholeJob,
): Reckoned | undefined => {
  const { verdict, mismatched } = checkPlan(question.problem, plan);
  if (!verdict.legal || mismatched.length > 0)
    throw new Error(`the checker refuses the answer: ${JSON.stringify(verdict.faults)} ${mismatched.join(", ")}`);
  const job = known ?? wholeJob(question, plan);
  if (job === undefined) return undefined;
  const whole = crewQuestion(job, crew);
  const found = schedule(whole.problem, {
    ...SEARCH,
    ...(asked.schedules === undefined ? {} : { schedules: asked.schedules }),
    seed: asked.seed,
    ...(asked.stop === undefined ? {} : { stop: asked.stop }),
  });
  if (found.schedule === undefined || !check(whole.problem, found.schedule).legal) return undefined;
  const planned = new Replay(
    finishNetwork(whole, found.schedule, (_, minutes) => ({ minutes })),
    { ...asked, runs: 1 },
  );
  const network = finishNetwork(whole, found.schedule, (id, minutes) => timeIn(whole, asked, id, minutes));
  const chance = new Replay(network, asked);
  const finishes = chance.finishes();
  return {
    question,
    plan,
    crew: whole,
    schedule: found.schedule,
    scarce: new Set(
      found.chain.flatMap(({ because }) =>
        because.kind === "stock" && because.id.startsWith("tool:") ? [because.id.slice("tool:".length)] : [],
      ),
    ),
    works: new Map(network.activities.map(({ id }) => [id, workOf(whole, id)])),
    planned,
    chance,
    labour: plan.labour,
    elapsed: planned.finishes()[0] ?? 0,
    finishes,
    p95: p95Of(finishes),
  };
};

/** The same plan in the same order, some works taking so many times what they took. */
export const retime = (base: Reckoned, factors: ReadonlyMap<string, number>, labour: number): Taken => {
  const byActivity = activitiesOf(base, factors);
  const finishes = base.chance.finishes(byActivity);
  return { labour, elapsed: base.planned.finishes(byActivity)[0] ?? 0, finishes, p95: p95Of(finishes) };
};

/** Minutes by the plan's own times alone. */
export const elapsedWith = (base: Reckoned, factors: ReadonlyMap<string, number>): number =>
  base.planned.finishes(activitiesOf(base, factors))[0] ?? 0;

const activitiesOf = ({ works }: Reckoned, factors: ReadonlyMap<string, number>): ReadonlyMap<string, number> =>
  new Map(
    [...works].flatMap(([id, work]) => {
      const factor = factors.get(work);
      return factor === undefined ? [] : [[id, factor] as const];
    }),
  );
