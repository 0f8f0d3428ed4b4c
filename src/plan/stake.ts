// Owns what is at stake with whatever a file does not surely say: the least labour with every answer that it may get, and so how far the answer can move the plan.
//
// Most answers are settled without a search of their own. (1) Where the question stays the same, or only steps that the plan leaves out become dearer, the plan stays. (2) A step that every
// plan makes, or that the plan makes and that becomes cheaper, moves the least labour by just as much. (3) What can but lower it (steps outside the plan that become cheaper, needs
// that are dropped) is asked all at once: where nothing is below the plan then, none of it alone moves it. (4) Steps of the plan become dearer all at once: where it is still the least then,
// each alone makes it dearer by its own. (5) Parts become heavier all at once: where the plan can still be carried out, none of them alone moves it, as long as nothing rests on its centre.
// Where one of these fails, halves are asked. All else is searched, one by one, in the order given, until the time is up; what was not is known between bounds.

import { kilograms, minutes } from "../quantity/index.ts";
import { check, type Limits, type Plan, type Problem, type Result, solve } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { orderFor } from "./order.ts";
import { labourOf, ownerOf, type Question, type Source, translate } from "./question.ts";
import { mustOf } from "./stake-must.ts";

/** What an answer makes of a vehicle: so many minutes for one of its ways or tasks, a way or task without a need, a part so heavy in kilograms, or another vehicle. */
export type Answer =
  | { readonly step: string; readonly minutes: number }
  | { readonly step: string; readonly without: string }
  | { readonly part: string; readonly mass: number }
  | { readonly vehicle: Vehicle };

/** Something that is not surely known of a connection, part or task, with the answers that it may get besides what is taken now. */
export interface Doubt {
  readonly of: string;
  readonly answers: readonly Answer[];
}

/** What an answer can change in the plan of one of the vehicle's jobs. */
export interface Stake {
  /** Person-minutes between the least labour of the dearest answer and of the cheapest: at least `from` and at most `to`, the same where both are known. */
  readonly from: number;
  readonly to: number;
  /** With some answers there is a plan, and with others none. */
  readonly decidesPlan: boolean;
  /** It is released, or done, with some answers, and with others not. */
  readonly decidesStep: boolean;
}

/** What is at stake over all jobs, and what their plans, as the file stands, release and do, and put on a hoist or a support. */
export interface Stakes {
  readonly stakes: readonly Stake[];
  readonly made: ReadonlySet<string>;
  readonly lifted: ReadonlySet<string>;
  readonly supported: ReadonlySet<string>;
  /** Person-minutes of the longest of the plans; 0 where none was found. */
  readonly labour: number;
  /** Searches that were made for all of them. */
  readonly searches: number;
}

const EPS = 1e-6;
const NOTHING: Stake = { from: 0, to: 0, decidesPlan: false, decidesStep: false };

/** The least labour of a question, as far as it is known; infinite where there is no plan. `steps`: what the plan makes. */
interface Least {
  readonly low: number;
  readonly high: number;
  readonly steps?: ReadonlySet<string>;
}

const UNKNOWN: Least = { low: 0, high: Number.POSITIVE_INFINITY };
const exactly = (labour: number, steps?: ReadonlySet<string>): Least => ({
  low: labour,
  high: labour,
  ...(steps === undefined ? {} : { steps }),
});

const stepsOf = (plan: Plan): ReadonlySet<string> => new Set([...plan.releases.map(({ id }) => id), ...plan.tasks]);

const leastOf = ({ status, plan, bound }: Result): Least => {
  if (status === "infeasible") return exactly(Number.POSITIVE_INFINITY, new Set());
  return plan === undefined
    ? { low: bound, high: Number.POSITIVE_INFINITY }
    : { low: Math.min(bound, plan.labour), high: plan.labour, steps: stepsOf(plan) };
};

/** One answer to one doubt, and what came of it. `more`: person-minutes that the step becomes dearer by; `isSure`: every plan makes it, so that all plans are dearer by as much. */
interface Case {
  readonly answer: Answer;
  readonly more: number;
  readonly isSure: boolean;
  least: Least;
}

/** How a case is settled: at once, among others by one of the rules, or by a search of its own. */
type Group = "known" | "lower" | "dearer" | "heavier" | "alone";

/** The answers to all doubts on one job. */
class Asking {
  readonly plan: Plan | undefined;
  readonly cases: readonly Case[];
  private readonly byDoubt: readonly (readonly Case[])[];
  searches = 0;
  private readonly vehicle: Vehicle;
  private readonly question: Question;
  private readonly base: Least;
  private readonly must: ReadonlySet<string>;
  private readonly limits: Limits;
  private readonly left: () => number;

  constructor(vehicle: Vehicle, job: string, doubts: readonly Doubt[], limits: Limits, left: () => number) {
    this.vehicle = vehicle;
    this.limits = limits;
    this.left = left;
    this.question = translate(vehicle, orderFor(job));
    const result = this.solve(this.question.problem);
    this.plan = result?.plan;
    this.base = result === undefined ? UNKNOWN : leastOf(result);
    this.must = mustOf(this.question.problem);
    this.byDoubt = doubts.map(({ answers }) =>
      answers.map((answer) => ({
        answer,
        more: this.moreBy(answer),
        isSure: "minutes" in answer && this.must.has(answer.step) && !this.isState(answer.step),
        least: UNKNOWN,
      })),
    );
    this.cases = this.byDoubt.flat();
    this.ask();
  }

  private moreBy(answer: Answer): number {
    const source = "minutes" in answer ? this.question.sources.get(answer.step) : undefined;
    if (source === undefined || !("minutes" in answer)) return 0;
    return labourOf(withTime(source, answer.minutes)) - labourOf(source);
  }

  private solve(problem: Problem): Result | undefined {
    const milliseconds = this.left();
    if (milliseconds <= 0) return undefined;
    this.searches += 1;
    return solve(problem, { ...this.limits, milliseconds });
  }

  private problemWith(answers: readonly Answer[]): Problem {
    return translate(answers.reduce(withAnswer, this.vehicle), this.question.order).problem;
  }

  private search(all: readonly Case[]): Least {
    if (this.left() <= 0) return UNKNOWN;
    const result = this.solve(this.problemWith(all.map(({ answer }) => answer)));
    return result === undefined ? UNKNOWN : leastOf(result);
  }

  private ask(): void {
    const groups: Record<Group, Case[]> = { known: [], lower: [], dearer: [], heavier: [], alone: [] };
    for (const one of this.cases) groups[this.groupOf(one)].push(one);
    const sum = (all: readonly Case[]) => all.reduce((total, { more }) => total + more, 0);
    // Of several answers to one doubt the last stands when all are asked at once: it is to be the furthest.
    const rising = (all: readonly Case[]) => all.toSorted((a, b) => sizeOf(a.answer) - sizeOf(b.answer));
    this.settle(rising(groups.heavier), (all) => this.isStill(all), 0);
    this.settle(rising(groups.lower).toReversed(), (all) => this.isLeast(all, 0), 0);
    this.settle(rising(groups.dearer), (all) => this.isLeast(all, sum(all)), 1);
    this.askAlone(groups.alone);
  }

  /** By which of the rules a case is settled. What it comes to, as far as that is seen at once, is written down. */
  private groupOf(one: Case): Group {
    const { base, plan } = this;
    const { answer, more, isSure } = one;
    if (isSure) {
      one.least = { ...base, low: base.low + more, high: base.high + more };
      return "known";
    }
    if (plan === undefined || base.low < base.high - EPS || "vehicle" in answer) return "alone";
    if ("minutes" in answer) {
      if (this.isState(answer.step)) return "alone";
      const isMade = plan.tasks.includes(answer.step) || plan.releases.some(({ way }) => way === answer.step);
      one.least = { low: base.high + Math.min(0, more), high: base.high + Math.max(0, more) };
      if (isMade !== more <= 0) return isMade ? "dearer" : "lower";
      one.least = exactly(base.high + (isMade ? more : 0), base.steps);
      return "known";
    }
    if ("mass" in answer) {
      const now = this.question.problem.parts.find(({ id }) => id === answer.part)?.mass ?? 0;
      // A heavier part may bring the centre of a body over what it rests on.
      if (this.question.problem.connections.some(({ rests }) => rests)) return "alone";
      if (answer.mass >= now) return "heavier";
    }
    // To see what asks no more takes a translation of the whole vehicle, and so time of the search.
    else if (this.left() <= 0) return "alone";
    // What comes before anything else may gain a need where another step loses one.
    else if (!asksNoMore(this.problemWith([answer]), this.question.problem)) return "alone";
    one.least = { low: Number.NEGATIVE_INFINITY, high: base.high };
    return "lower";
  }

  /** A state of the vehicle, which one plan may set more often than another. */
  private isState(step: string): boolean {
    const source = this.question.sources.get(step);
    return source?.kind === "task" && source.task.undo !== undefined;
  }

  /** With all of these the plan as it is, dearer by so much, is still the least; else what was found, where one alone was asked. */
  private isLeast(all: readonly Case[], more: number): true | Least {
    const found = this.search(all);
    return found.low >= this.base.high + more - EPS || found;
  }

  /** With all of these the plan as it is can be carried out; else what one alone leads to. */
  private isStill(all: readonly Case[]): true | Least {
    const { plan } = this;
    const problem = this.problemWith(all.map(({ answer }) => answer));
    if (plan !== undefined && check(problem, plan.order).legal) return true;
    if (all.length > 1) return UNKNOWN;
    const result = this.solve(problem);
    return result === undefined ? UNKNOWN : leastOf(result);
  }

  /** Asked together, and in halves where that settles nothing. `own`: how much of its own `more` each is dearer by where it does. */
  private settle(group: readonly Case[], asked: (all: readonly Case[]) => true | Least, own: 0 | 1): void {
    const [first] = group;
    if (first === undefined || this.left() <= 0) return;
    const found = asked(group);
    if (found === true) for (const one of group) one.least = exactly(this.base.high + own * one.more, this.base.steps);
    else if (group.length > 1) {
      const half = Math.ceil(group.length / 2);
      this.settle(group.slice(0, half), asked, own);
      this.settle(group.slice(half), asked, own);
    } else
      first.least = {
        ...found,
        low: Math.max(found.low, first.least.low),
        high: Number.isFinite(found.low) ? Math.min(found.high, first.least.high) : found.high,
      };
  }

  /** Those that no rule settles. Answers that come to the same question are asked once; where somebody stands is none of it. */
  private askAlone(alone: readonly Case[]): void {
    const keyOf = (problem: Problem) =>
      JSON.stringify(problem, (key, value) => (key === "position" ? undefined : value));
    const known = new Map([[keyOf(this.question.problem), this.base]]);
    for (const one of alone) {
      if (this.left() <= 0) return;
      const problem = this.problemWith([one.answer]);
      const key = keyOf(problem);
      const found = known.get(key);
      const result = found === undefined ? this.solve(problem) : undefined;
      one.least = found ?? (result === undefined ? UNKNOWN : leastOf(result));
      known.set(key, one.least);
    }
  }

  /** Connections and tasks that the plan makes; where none was found in time, those that every plan makes. */
  made(): ReadonlySet<string> {
    if (this.plan !== undefined) return stepsOf(this.plan);
    const owners = [...this.must].map((id) => this.question.sources.get(id));
    return new Set(owners.flatMap((source) => (source === undefined ? [] : [ownerOf(source)])));
  }

  stakeOf(doubt: number, of: string): Stake {
    const cases = this.byDoubt[doubt] ?? [];
    if (cases.length > 0 && cases.every(({ isSure }) => isSure) && this.base.low < Number.POSITIVE_INFINITY) {
      const moved = [0, ...cases.map(({ more }) => more)];
      const swing = Math.max(...moved) - Math.min(...moved);
      return { ...NOTHING, from: swing, to: swing };
    }
    const all = [this.base, ...cases.map(({ least }) => least)];
    const some = all.filter(({ low }) => low < Number.POSITIVE_INFINITY);
    if (some.length === 0) return NOTHING;
    const lows = some.map(({ low }) => low);
    const highs = some.map(({ high }) => high);
    const from = Math.max(...lows) - Math.min(...highs);
    const to = Math.max(...highs) - Math.min(...lows);
    const made = some.flatMap(({ steps }) => (steps === undefined ? [] : [steps.has(of)]));
    return {
      from: from > EPS ? from : 0,
      to: to > EPS ? to : 0,
      decidesPlan: some.length < all.length && some.some(({ high }) => high < Number.POSITIVE_INFINITY),
      decidesStep: from > EPS && made.includes(true) && made.includes(false),
    };
  }
}

/** Whether no step of the one question asks for more than it does in the other. */
function asksNoMore(one: Problem, other: Problem): boolean {
  const worksOf = ({ tasks, connections }: Problem) => [...tasks, ...connections.flatMap(({ ways }) => ways)];
  const theirs = new Map(
    worksOf(other).map((work) => [work.id, new Set(work.needs.map((need) => JSON.stringify(need)))]),
  );
  return worksOf(one).every(({ id, needs }) =>
    needs.every((need) => theirs.get(id)?.has(JSON.stringify(need)) === true),
  );
}

const sizeOf = (answer: Answer): number => ("minutes" in answer ? answer.minutes : "mass" in answer ? answer.mass : 0);

const withTime = (source: Source, of: number): Source => {
  const time = minutes(of);
  if (source.kind === "way") return { ...source, way: { ...source.way, time } };
  return source.kind === "task" ? { ...source, task: { ...source.task, time } } : source;
};

/** The vehicle as an answer has it. */
function withAnswer(vehicle: Vehicle, answer: Answer): Vehicle {
  if ("vehicle" in answer) return answer.vehicle;
  if ("part" in answer) {
    const mass = kilograms(answer.mass);
    const heavy = { low: mass, nominal: mass, high: mass };
    return {
      ...vehicle,
      parts: vehicle.parts.map((part) => (part.id === answer.part ? { ...part, mass: heavy } : part)),
    };
  }
  const change = <S extends Vehicle["tasks"][number] | Vehicle["connections"][number]["ways"][number]>(step: S): S => {
    if (step.id !== answer.step) return step;
    if ("minutes" in answer) return { ...step, time: minutes(answer.minutes) };
    return { ...step, needs: step.needs.filter((need) => !("id" in need && need.id === answer.without)) };
  };
  return {
    ...vehicle,
    tasks: vehicle.tasks.map(change),
    connections: vehicle.connections.map((one) =>
      one.ways.some(({ id }) => id === answer.step) ? { ...one, ways: one.ways.map(change) } : one,
    ),
  };
}

const most = (one: Stake, other: Stake): Stake => ({
  from: Math.max(one.from, other.from),
  to: Math.max(one.to, other.to),
  decidesPlan: one.decidesPlan || other.decidesPlan,
  decidesStep: one.decidesStep || other.decidesStep,
});

/**
 * What is at stake with each doubt, in the job that it moves most.
 *
 * @param limits all searches together end after their `milliseconds` by `now`; what was not searched then lies between wider bounds
 */
export const stakesOf = (vehicle: Vehicle, doubts: readonly Doubt[], limits: Limits): Stakes => {
  const now = limits.now ?? (() => 0);
  const begun = now();
  const left = () => (limits.milliseconds ?? Number.POSITIVE_INFINITY) - (now() - begun);
  const asked = vehicle.jobs.map(({ id }) => new Asking(vehicle, id, doubts, limits, left));
  const supports = new Map(vehicle.tasks.map((task) => [task.id, task.supports]));
  const made = new Set(asked.flatMap((one) => [...one.made()]));
  return {
    stakes: doubts.map(({ of }, doubt) => asked.map((one) => one.stakeOf(doubt, of)).reduce(most, NOTHING)),
    made,
    lifted: new Set(asked.flatMap(({ plan }) => plan?.lifts.flatMap(({ parts }) => parts) ?? [])),
    supported: new Set([...made].flatMap((id) => supports.get(id) ?? [])),
    labour: Math.max(0, ...asked.map(({ plan }) => plan?.labour ?? 0)),
    searches: asked.reduce((sum, { searches }) => sum + searches, 0),
  };
};
