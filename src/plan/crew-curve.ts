// Owns the curve of a job: how long it takes with one person, two, three and so on, with a bound at each, and what one more of a scarce tool would spare.

import { check, type Limits } from "../crew/index.ts";
import type { Result as Released } from "../release/index.ts";
import { crewOf } from "./crew.ts";
import { answerCrew, type CrewAnswer } from "./crew-answer.ts";
import { crewQuestion } from "./crew-question.ts";
import { type Question, translate } from "./question.ts";
import { type WholeJob, wholeJob } from "./whole-job.ts";

/** So many people, each of whom can do anything. Minutes. */
export interface CurvePoint {
  readonly people: number;
  readonly status: CrewAnswer["status"];
  readonly elapsed?: number;
  /** No schedule of so many people takes less; absent where there is none. */
  readonly bound?: number;
  readonly labour?: number;
  /** Why so few cannot do it. */
  readonly why?: string;
}

/** What one more of a tool comes to. */
export interface Spare {
  readonly tool: string;
  /** How many there would be. */
  readonly count: number;
  readonly elapsed: number;
  readonly bound: number;
  /** The schedule found takes the further one; else it could be had without. */
  readonly taken: boolean;
}

export interface CrewCurve {
  readonly format: "unmoor/crew-curve/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly jobs: readonly { readonly id: string; readonly label: string }[];
  readonly points: readonly CurvePoint[];
  /** The answer to a time by which it has to be done. */
  readonly due?: Due;
  /** The fewest people from whom on one more spares less than a twentieth of the time. */
  readonly knee?: number;
  /** With so many people: as at the knee, else the most tried. */
  readonly sparedWith?: number;
  readonly spares: readonly Spare[];
}

export interface Due {
  /** Minutes from the beginning. */
  readonly minutes: number;
  /** The fewest people of the curve who were found to make it. */
  readonly people?: number;
  /** Whether one fewer is proved not to make it; absent where nobody was found to, or one person is enough. */
  readonly fewerCannot?: boolean;
}

/** What one more person must spare of the elapsed time to be worth a bend. */
const WORTHWHILE = 0.05;

/** Tools tried, those that are taken longest first. */
const TOOLS = 4;

interface Step {
  readonly job: WholeJob;
  readonly answer: CrewAnswer;
}

const sayRemoved = (question: Question): string => {
  const people = question.removed.flatMap(({ why }) => (why.lack === "people" ? [why.wanted] : []));
  return people.length === 0
    ? "no order of the steps holds"
    : `there are steps that take ${Math.max(...people)} people`;
};

/** The fewest people from whom on the next spares little. */
const kneeOf = (points: readonly CurvePoint[]): number | undefined =>
  points.find(({ elapsed }, index) => {
    const next = points[index + 1]?.elapsed;
    return elapsed !== undefined && next !== undefined && elapsed - next < WORTHWHILE * elapsed;
  })?.people;

/**
 * The curve from one person to `upTo`. More people are never slower: a schedule of fewer stands where no better is found.
 *
 * @param release answers the question of what must come off.
 * @param limits of each point's search.
 * @param watch told of each point as it is known.
 * @param due minutes by which it has to be done: the curve ends with the fewest people who make it.
 */
export const crewCurve = (
  question: Question,
  upTo: number,
  release: (question: Question) => Released,
  limits: Limits,
  watch: (point: CurvePoint) => void,
  due?: number,
): CrewCurve => {
  const { vehicle, order } = question;
  const points: CurvePoint[] = [];
  const steps = new Map<number, Step>();
  let fewer: CrewAnswer | undefined;
  const within = (point: CurvePoint | undefined): boolean =>
    due !== undefined && (point?.elapsed ?? Number.POSITIVE_INFINITY) <= due;
  const own = due === undefined ? limits : { ...limits, due };
  for (let people = 1; people <= upTo && limits.stop?.() !== true && !within(points.at(-1)); people += 1) {
    const asked = translate(vehicle, { ...order, people });
    const released = release(asked);
    const job = released.plan === undefined ? undefined : wholeJob(asked, released.plan);
    const answer = job === undefined ? undefined : answerCrew(crewQuestion(job, crewOf(people)), own, fewer?.schedule);
    const { plan } = answer ?? {};
    const why = answer === undefined ? sayRemoved(asked) : answer.lacks[0]?.what;
    const point: CurvePoint = {
      people,
      status: answer?.status ?? "infeasible",
      ...(plan === undefined ? {} : { elapsed: plan.elapsed, bound: plan.bound, labour: plan.labour }),
      ...(plan !== undefined || why === undefined ? {} : { why }),
    };
    points.push(point);
    watch(point);
    if (job !== undefined && answer?.plan !== undefined) {
      steps.set(people, { job, answer });
      fewer = answer;
    }
  }
  const knee = due === undefined ? kneeOf(points) : undefined;
  const sparedWith = due === undefined ? (knee ?? [...steps.keys()].at(-1)) : undefined;
  return {
    format: "unmoor/crew-curve/1",
    vehicle: vehicle.name,
    ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
    jobs: vehicle.jobs.filter((job) => order.jobs.includes(job.id)).map(({ id, label }) => ({ id, label })),
    points,
    ...(due === undefined ? {} : { due: dueOf(points, due) }),
    ...(knee === undefined ? {} : { knee }),
    ...(sparedWith === undefined ? {} : { sparedWith }),
    spares: sparedWith === undefined ? [] : sparesOf(steps.get(sparedWith), sparedWith, limits),
  };
};

const dueOf = (points: readonly CurvePoint[], minutes: number): Due => {
  const last = points.at(-1);
  if (last?.elapsed === undefined || last.elapsed > minutes) return { minutes };
  const before = points.at(-2);
  if (before === undefined) return { minutes, people: last.people };
  const fewerCannot = before.status === "infeasible" || (before.bound ?? 0) > minutes;
  return { minutes, people: last.people, fewerCannot };
};

/** One more of each tool that is busy longest, tried one by one. */
const sparesOf = (step: Step | undefined, people: number, limits: Limits): readonly Spare[] => {
  const plan = step?.answer.plan;
  if (step === undefined || plan === undefined) return [];
  const tools = plan.busy.filter((one) => one.kind === "tool").slice(0, TOOLS);
  return tools.flatMap(({ id }): readonly Spare[] => {
    if (limits.stop?.() === true) return [];
    const crew = crewOf(people);
    const { problem } = crewQuestion(step.job, crew);
    const count = (problem.stocks.find((one) => one.id === `tool:${id}`)?.count ?? 0) + 1;
    const more = crewQuestion(step.job, { ...crew, tools: new Map([[id, count]]) });
    const { plan: found, schedule } = answerCrew(more, limits, step.answer.schedule);
    if (found === undefined || schedule === undefined) return [];
    const taken = !check(problem, schedule).legal;
    return [{ tool: id, count, elapsed: found.elapsed, bound: found.bound, taken }];
  });
};
