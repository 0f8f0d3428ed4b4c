// Owns why a step is in a plan, and what another choice would cost: what breaks without it, and the answer to the question put otherwise.
//
// What breaks is found by the checker: the plan is replayed without that one step, all others made as they are. Each fault names another step
// that could then not be made, and so on to the work of the job. What another choice costs is found by solving the changed question in full.

import { type Breach, check, type Fault } from "./check.ts";
import type { Need, Problem, Task, Way } from "./problem.ts";
import type { Limits, Plan, Result, Status, Step } from "./result.ts";
import { solve } from "./solve.ts";

/** One link: what would break without this step, and the step for whose sake it is therefore made. */
export interface Reason {
  /** A connection released or a task done. */
  readonly step: string;
  /** `called`: it has its place on the way back only, and that step calls for it. */
  readonly breaks: Breach | { readonly kind: "called"; readonly of: string };
  /** The next step of the chain; absent where the order itself asks for it: work of the job, or a part that must go up. */
  readonly for?: string;
}

/** The answer to a question changed in one point, beside the plan that stands. */
export interface Alternative {
  readonly status: Status;
  /** Minutes; absent without a plan. `more` is what it takes beyond the plan that stands. */
  readonly labour?: number;
  readonly more?: number;
  /** Minutes: no legal plan of the changed question costs less. */
  readonly bound: number;
  /** Connections and tasks that come in and that fall away; connections released by another way. */
  readonly adds: readonly string[];
  readonly spares: readonly string[];
  readonly changes: readonly { readonly id: string; readonly way: string }[];
}

/** What it would take to do without a step, or to make it by another way. */
export interface Choice {
  readonly id: string;
  /** Whether it is in the plan that stands; by which way, if it is a connection. */
  readonly made: boolean;
  readonly way?: string;
  /** The plan without it; absent where there is none of it in the plan, and for the work of the job itself. */
  readonly without?: Alternative;
  /** With it, by each way that the plan does not take; of a task that is not in the plan: with it done, `way` being the task. */
  readonly ways: readonly { readonly way: string; readonly with: Alternative }[];
}

/** A part at the edge of a lifted group: something that the plan releases ties, or tied, it to the other side. */
export interface EdgePart {
  readonly part: string;
  readonly lift: string;
  /** Whether it goes up in the plan that stands. */
  readonly goes: boolean;
  /** The releases between it and the other side. */
  readonly ties: readonly string[];
  /** Left on the vehicle if it goes up, taken along if it stays. */
  readonly otherwise: Alternative;
}

const NEVER: Need = { any: [] };

/**
 * For each step of the plan the shortest chain of reasons to what the order asks for. A step without which nothing breaks has an empty chain:
 * no plan proved least has one, unless it takes no labour. Each step costs one replay.
 *
 * @param limits what is not looked at in time has no entry
 */
export function reasonsFor(problem: Problem, plan: Plan, limits: Limits = {}): ReadonlyMap<string, readonly Reason[]> {
  const reasons = new Reasons(problem, plan);
  const over = clock(limits);
  const found = new Map<string, readonly Reason[]>();
  for (const id of stepsOf(plan)) {
    if (over()) break;
    found.set(id, reasons.chain(id));
  }
  return found;
}

/** The chain of one step, as `reasonsFor` gives it; empty also for what is not in the plan. Replays no more than it has to. */
export function reasonFor(problem: Problem, plan: Plan, id: string): readonly Reason[] {
  return new Reasons(problem, plan).chain(id);
}

class Reasons {
  private readonly problem: Problem;
  private readonly plan: Plan;
  private readonly ownerOf: ReadonlyMap<string, string>;
  private readonly works: ReadonlyMap<string, Way | Task>;
  private readonly made: ReadonlySet<string>;
  private readonly links = new Map<string, readonly Reason[]>();

  constructor(problem: Problem, plan: Plan) {
    this.problem = problem;
    this.plan = plan;
    this.made = new Set(stepsOf(plan));
    this.ownerOf = new Map(problem.connections.flatMap(({ id, ways }) => ways.map((way) => [way.id, id] as const)));
    const wayOf = new Map(problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way] as const)));
    this.works = new Map<string, Way | Task>([
      ...problem.tasks.map((task) => [task.id, task] as const),
      ...plan.releases.flatMap(({ id, way }) => {
        const work = wayOf.get(way);
        return work === undefined ? [] : [[id, work] as const];
      }),
    ]);
  }

  /** Breadth first, so that the first link to the order itself ends a shortest chain. */
  chain(id: string): readonly Reason[] {
    const cameBy = new Map<string, Reason | undefined>(this.made.has(id) ? [[id, undefined]] : []);
    for (const step of cameBy.keys()) {
      for (const reason of this.linksOf(step)) {
        if (reason.for === undefined) return this.walk(cameBy, reason);
        if (!cameBy.has(reason.for)) cameBy.set(reason.for, reason);
      }
    }
    return [];
  }

  private walk(cameBy: ReadonlyMap<string, Reason | undefined>, last: Reason): readonly Reason[] {
    const chain = [last];
    for (let link = cameBy.get(last.step); link !== undefined; link = cameBy.get(link.step)) chain.push(link);
    return chain.reverse();
  }

  /** What breaks without a step, that the order itself asks for first. */
  private linksOf(id: string): readonly Reason[] {
    const known = this.links.get(id);
    if (known !== undefined) return known;
    const links = this.breaks(id);
    const sorted = [
      ...links.filter((link) => link.for === undefined),
      ...links.filter((link) => link.for !== undefined && link.for !== id && this.made.has(link.for)),
    ];
    this.links.set(id, sorted);
    return sorted;
  }

  private breaks(id: string): readonly Reason[] {
    const task = this.problem.tasks.find((one) => one.id === id);
    if (task?.back) {
      if (task.must) return [{ step: id, breaks: { kind: "must", task: id } }];
      const callers = [...this.made].filter((one) => this.works.get(one)?.entails.includes(id));
      return callers.map((of) => ({ step: id, breaks: { kind: "called", of }, for: of }));
    }
    const order = this.plan.order.filter((step) => idOf(step) !== id);
    return check(this.problem, order).faults.map((fault) => {
      const end = this.brokenStep(order, fault);
      return { step: id, breaks: fault.what, ...(end === undefined ? {} : { for: end }) };
    });
  }

  /** Which step a fault hits; undefined where it is the order's own wish. */
  private brokenStep(order: readonly Step[], { step, what }: Fault): string | undefined {
    if (what.kind === "taut") return what.hang;
    if ("of" in what) return this.ownerOf.get(what.of) ?? what.of;
    const hit = step === "end" ? undefined : order[step];
    return hit && idOf(hit);
  }
}

/**
 * What it would take to do without a connection's release or a task, and to make it otherwise. Each question is solved in full.
 *
 * @param limits for all of them together; what is not reached in time is `unknown`
 */
export function choiceOf(problem: Problem, plan: Plan, id: string, limits: Limits = {}): Choice {
  const made = stepsOf(plan).includes(id);
  const way = plan.releases.find((one) => one.id === id)?.way;
  const task = problem.tasks.find((one) => one.id === id);
  const released = problem.released.includes(id);
  const ways = released ? [] : (problem.connections.find((one) => one.id === id)?.ways ?? []);
  const others = ways.filter((one) => one.id !== way).map((one) => one.id);
  const idle = task !== undefined && !made ? [id] : [];
  const ask = asker(plan, limits, 1 + others.length);
  return {
    id,
    made,
    ...(way === undefined ? {} : { way }),
    ...(made && task?.must !== true ? { without: ask(forbid(problem, id)) } : {}),
    ways: [...others, ...idle].map((one) => ({ way: one, with: ask(force(problem, id, one)) })),
  };
}

/**
 * For each part at the edge of a lifted group, what it would take to have it on the other side. Left out: what a lift takes hold of by itself,
 * what is fixed, and what the order itself keeps or takes.
 *
 * @param limits for all of them together; what is not reached in time is `unknown`
 */
export function edgeParts(problem: Problem, plan: Plan, limits: Limits = {}): readonly EdgePart[] {
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const settled = new Set([
    ...problem.keep,
    ...problem.take,
    ...problem.parts.flatMap(({ id, fixed }) => (fixed ? [id] : [])),
    ...plan.lifts.flatMap(({ task }) => tasks.get(task)?.lift?.parts ?? []),
  ]);
  const released = new Set(plan.releases.map(({ id }) => id));
  const cut = problem.connections.filter(({ id }) => released.has(id));
  // What one lift leaves may go up with another: it has no other side to be on.
  const anyLift = new Set(plan.lifts.flatMap(({ parts }) => parts));
  const edge = plan.lifts.flatMap(({ task, parts }) => {
    const up = new Set(parts);
    const crossing = cut.filter(({ joins }) => joins.some((id) => up.has(id)) && joins.some((id) => !up.has(id)));
    return [...new Set(crossing.flatMap(({ joins }) => joins))]
      .filter((id) => !settled.has(id) && (up.has(id) || !anyLift.has(id)))
      .map((part) => ({
        part,
        lift: task,
        goes: up.has(part),
        ties: crossing.filter(({ joins }) => joins.includes(part)).map(({ id }) => id),
      }));
  });
  const ask = asker(plan, limits, edge.length);
  return edge.map((one): EdgePart => {
    const { keep, take } = problem;
    const changed = one.goes ? { keep: [...keep, one.part] } : { take: [...take, one.part] };
    return { ...one, otherwise: ask({ problem: { ...problem, ...changed } }) };
  });
}

interface Changed {
  readonly problem: Problem;
  /** A task that stands for the change and is nothing that anybody does. */
  readonly mark?: string;
}

/** The question in which a release, or a task, is not to be had; nor what calls for it on the way back. */
function forbid(problem: Problem, id: string): Changed {
  const lost = new Set([id]);
  const back = problem.tasks.filter((task) => task.back);
  for (let grown = 0; grown < lost.size; ) {
    grown = lost.size;
    for (const task of back) if (task.entails.some((one) => lost.has(one))) lost.add(task.id);
  }
  const calls = ({ entails }: Way | Task): boolean => entails.some((one) => lost.has(one));
  return {
    problem: {
      ...problem,
      connections: problem.connections.map((one) => ({
        ...one,
        ways: one.id === id ? [] : one.ways.filter((way) => !calls(way)),
      })),
      tasks: problem.tasks.map((task) =>
        !task.back && (task.id === id || calls(task)) ? { ...task, needs: [NEVER] } : task,
      ),
    },
  };
}

/** The question in which a connection is released by this way, or a task is done, whatever it costs. */
function force(problem: Problem, id: string, way: string): Changed {
  const connection = problem.connections.find((one) => one.id === id);
  if (problem.tasks.some((task) => task.id === id && task.back)) {
    const tasks = problem.tasks.map((task) => (task.id === id ? { ...task, must: true } : task));
    return { problem: { ...problem, tasks } };
  }
  const taken = new Set([
    ...problem.tasks.map((task) => task.id),
    ...problem.connections.flatMap((one) => [one.id, ...one.ways.map((each) => each.id)]),
  ]);
  let mark = `${way}/made`;
  while (taken.has(mark)) mark += "*";
  const goal: Task = {
    id: mark,
    labour: 0,
    needs: [connection === undefined ? { done: id } : { released: id }],
    without: [],
    entails: [],
    toggle: false,
    back: false,
    must: true,
    supports: [],
  };
  return {
    mark,
    problem: {
      ...problem,
      connections: problem.connections.map((one) =>
        one.id === id ? { ...one, ways: one.ways.filter((each) => each.id === way) } : one,
      ),
      tasks: [...problem.tasks, goal],
    },
  };
}

/**
 * Puts so many changed questions beside a plan, all within one limit. Each has its share of the time that is left, so that a hard one does not
 * leave the others without an answer.
 */
function asker(plan: Plan, limits: Limits, count: number): (changed: Changed) => Alternative {
  const over = clock(limits);
  const { gap, stop, now = () => 0, milliseconds = Number.POSITIVE_INFINITY } = limits;
  const end = now() + milliseconds;
  let left = count;
  const old = new Set(stepsOf(plan));
  const wayOf = new Map(plan.releases.map(({ id, way }) => [id, way]));
  const compare = ({ status, bound, plan: other }: Result, mark: string | undefined): Alternative => {
    if (other === undefined) return { status, bound, adds: [], spares: [], changes: [] };
    const others = new Set(stepsOf(other).filter((id) => id !== mark));
    return {
      status,
      labour: other.labour,
      more: other.labour - plan.labour,
      bound,
      adds: [...others].filter((id) => !old.has(id)),
      spares: [...old].filter((id) => !others.has(id)),
      changes: other.releases.filter(({ id, way }) => (wayOf.get(id) ?? way) !== way),
    };
  };
  return ({ problem, mark }) => {
    if (over()) return { status: "unknown", bound: 0, adds: [], spares: [], changes: [] };
    const result = solve(problem, {
      milliseconds: (end - now()) / Math.max(1, left--),
      now,
      ...(stop === undefined ? {} : { stop }),
      ...(gap === undefined ? {} : { gap }),
    });
    if (result.plan !== undefined) {
      const { legal, faults } = check(problem, result.plan.order);
      if (!legal) throw new Error(`the checker refuses an alternative: ${JSON.stringify(faults)}`);
    }
    return compare(result, mark);
  };
}

/** Whether the time for everything together is up. */
function clock({ milliseconds = Number.POSITIVE_INFINITY, stop, now = () => 0 }: Limits): () => boolean {
  const begun = now();
  return () => (stop?.() ?? false) || now() - begun > milliseconds;
}

/** The connections and tasks of a plan, each once: in the order out, then what has its place on the way back only. */
function stepsOf(plan: Plan): readonly string[] {
  return [...new Set([...plan.order.map(idOf), ...plan.tasks])];
}

function idOf(step: Step): string {
  if ("release" in step) return step.release;
  return "do" in step ? step.do : step.undo;
}
