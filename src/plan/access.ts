// Owns what in a plan is there only to get at something else: the dearest access, and the step that most others wait for.
//
// A step waits for another when its needs (its position's among them, `first` aside) would fail without that one, everything else of the plan
// being done. A step that all who wait for it lead to one other step serves that one alone: it is dominated by it on the way to the job.

import type { Need, Plan, Problem } from "../release/index.ts";
import { idOf } from "./arrange.ts";
import type { Question } from "./question.ts";

export interface Access {
  /** The step that most is done to get at, a lift and the jobs' own work aside; absent where nothing is done for access. */
  readonly dearest?: {
    readonly id: string;
    /** The connections and tasks that serve it alone, in the order of the plan. */
    readonly steps: readonly string[];
    /** Person-minutes of those, release and refit. */
    readonly labour: number;
  };
  /** The step that most others wait for, directly or through one another; absent where none waits. */
  readonly blocksMost?: { readonly id: string; readonly blocked: readonly string[] };
}

/** Which parts hang together once every release of the plan is made. */
const bodiesOf = (problem: Problem, plan: Plan): ReadonlyMap<string, number> => {
  const gone = new Set([...problem.released, ...plan.releases.map(({ id }) => id)]);
  const hung = new Set(plan.hung);
  const hangs = problem.tasks.flatMap(({ id, hang }) =>
    hang !== undefined && hung.has(id) ? [[hang.part, hang.to]] : [],
  );
  const joined = [...problem.connections.filter(({ id }) => !gone.has(id)).map(({ joins }) => joins), ...hangs];
  const tiesOf = new Map<string, (readonly string[])[]>(problem.parts.map(({ id }) => [id, []]));
  for (const parts of joined) for (const part of parts) tiesOf.get(part)?.push(parts);
  const body = new Map<string, number>();
  for (const { id } of problem.parts) {
    if (body.has(id)) continue;
    const number = body.size;
    const open = [id];
    for (let part = open.pop(); part !== undefined; part = open.pop()) {
      if (body.has(part)) continue;
      body.set(part, number);
      for (const parts of tiesOf.get(part) ?? []) open.push(...parts);
    }
  }
  return body;
};

/** What of a plan a need cannot do without. Undefined: the need does not hold even with all of it. */
class Critical {
  private readonly present: ReadonlySet<string>;
  private readonly released: readonly { readonly id: string; readonly bodies: ReadonlySet<number> }[];
  private readonly bodies: ReadonlyMap<string, number>;

  constructor(problem: Problem, plan: Plan) {
    this.bodies = bodiesOf(problem, plan);
    const made = new Set(plan.releases.map(({ id }) => id));
    this.present = new Set([...problem.released, ...plan.order.map(idOf)]);
    this.released = problem.connections
      .filter(({ id }) => made.has(id))
      .map(({ id, joins }) => ({ id, bodies: this.bodiesOf(joins) }));
  }

  of(need: Need): ReadonlySet<string> | undefined {
    if ("released" in need) return this.present.has(need.released) ? new Set([need.released]) : undefined;
    if ("done" in need) return this.present.has(need.done) ? new Set([need.done]) : undefined;
    if ("all" in need) {
      const each = need.all.map((one) => this.of(one));
      return each.includes(undefined) ? undefined : new Set(each.flatMap((one) => [...(one ?? [])]));
    }
    if ("any" in need) {
      const [first, ...others] = need.any.flatMap((one) => this.of(one) ?? []);
      return first && new Set([...first].filter((id) => others.every((one) => one.has(id))));
    }
    const [some, others] = need.apart.map((parts) => this.bodiesOf(parts));
    if (some === undefined || others === undefined || [...some].some((body) => others.has(body))) return undefined;
    const rejoins = (bodies: ReadonlySet<number>) =>
      [some, others].every((side) => [...bodies].some((body) => side.has(body)));
    return new Set(this.released.filter(({ bodies }) => rejoins(bodies)).map(({ id }) => id));
  }

  private bodiesOf(parts: readonly string[]): ReadonlySet<number> {
    return new Set(parts.flatMap((part) => this.bodies.get(part) ?? []));
  }
}

interface Node {
  readonly id: string;
  readonly labour: number;
  readonly needs: readonly Need[];
  /** Its access is no access: a lift, or a job's own work. */
  readonly goal: boolean;
}

/** The steps of a plan in their order, each once. */
const nodesOf = ({ problem, access }: Question, plan: Plan): readonly Node[] => {
  const wayOf = new Map(problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way] as const)));
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const fixed = problem.parts.filter((part) => part.fixed).map(({ id }) => id);
  const nodes = new Map<string, Node>();
  for (const step of plan.order) {
    const id = idOf(step);
    const work = "release" in step ? wayOf.get(step.way) : tasks.get(id);
    if (work === undefined) continue;
    const task = tasks.get(id);
    const freedom: readonly Need[] = task?.lift === undefined ? [] : [{ apart: [task.lift.parts, fixed] }];
    nodes.set(id, {
      id,
      // A state of the vehicle costs its labour each time it is turned.
      labour: (nodes.get(id)?.labour ?? 0) + work.labour,
      needs: [...(access.get(work.id) ?? work.needs), ...freedom],
      goal: task !== undefined && (task.must || task.lift !== undefined),
    });
  }
  return [...nodes.values()];
};

/** What in this plan is there only to get at something else. Time grows with the square of the number of steps. */
export const accessOf = (question: Question, plan: Plan): Access => {
  const nodes = nodesOf(question, plan);
  const place = new Map(nodes.map(({ id }, index) => [id, index]));
  const critical = new Critical(question.problem, plan);
  const waiting: number[][] = nodes.map(() => []);
  nodes.forEach(({ needs }, index) => {
    const wanted = new Set(needs.flatMap((need) => [...(critical.of(need) ?? [])]));
    for (const id of wanted) {
      const before = place.get(id);
      if (before !== undefined && before < index) waiting[before]?.push(index);
    }
  });

  // Who waits comes later, so going backwards every dominator is known before it is asked for. −1 is the job as a whole.
  const dominator: number[] = nodes.map(() => -1);
  const depth = (index: number): number => (index < 0 ? 0 : depth(dominator[index] ?? -1) + 1);
  const meet = (a: number, b: number): number => {
    if (a === b) return a;
    const [da, db] = [depth(a), depth(b)];
    return meet(da >= db ? (dominator[a] ?? -1) : a, db >= da ? (dominator[b] ?? -1) : b);
  };
  for (let index = nodes.length - 1; index >= 0; index--) {
    const [first, ...others] = waiting[index] ?? [];
    if (first !== undefined) dominator[index] = others.reduce(meet, first);
  }
  const serves = nodes.map((): number[] => []);
  nodes.forEach((_, index) => {
    for (let by = dominator[index] ?? -1; by >= 0; by = dominator[by] ?? -1) serves[by]?.push(index);
  });
  const dearest = nodes
    .map(({ id, goal }, index) => {
      const steps = goal ? [] : (serves[index] ?? []);
      return {
        id,
        steps: steps.map((one) => nodes[one]?.id ?? ""),
        labour: steps.reduce((sum, one) => sum + (nodes[one]?.labour ?? 0), 0),
      };
    })
    .reduce<NonNullable<Access["dearest"]> | undefined>(
      (most, one) => (one.labour > (most?.labour ?? 0) ? one : most),
      undefined,
    );

  const blocked = (from: number): readonly string[] => {
    const seen = new Set<number>();
    const open = [...(waiting[from] ?? [])];
    for (let index = open.pop(); index !== undefined; index = open.pop()) {
      if (seen.has(index)) continue;
      seen.add(index);
      open.push(...(waiting[index] ?? []));
    }
    return [...seen].sort((a, b) => a - b).map((index) => nodes[index]?.id ?? "");
  };
  const blocksMost = nodes
    .map(({ id }, index) => ({ id, blocked: blocked(index) }))
    .reduce<NonNullable<Access["blocksMost"]> | undefined>(
      (most, one) => (one.blocked.length > (most?.blocked.length ?? 0) ? one : most),
      undefined,
    );
  return { ...(dearest === undefined ? {} : { dearest }), ...(blocksMost === undefined ? {} : { blocksMost }) };
};
