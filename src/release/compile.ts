// Owns the question as numbers: ids become indices, needs become small formulas over atoms, nonsense is refused.
// Everything after this trusts it.

import { insideBy, Load } from "./carrying.ts";
import type { Need, Problem } from "./problem.ts";

/** A formula over atoms: an atom's number, or all / any of its parts. */
export type Formula = number | { readonly any: boolean; readonly of: readonly Formula[] };

/** A step is a way (0 … ways − 1) or a task (ways …). */
export interface Step {
  readonly id: string;
  readonly labour: number;
  readonly position: string | undefined;
  readonly needs: Formula;
  /** Toggles that must be off, as task numbers. */
  readonly without: readonly number[];
  readonly entails: readonly number[];
}

export interface Separation {
  readonly from: readonly number[];
  readonly to: readonly number[];
}

export interface Compiled {
  readonly problem: Problem;
  readonly partCount: number;
  readonly connectionCount: number;
  readonly wayCount: number;
  readonly taskCount: number;
  /** Ways first, then tasks. */
  readonly steps: readonly Step[];
  /** Connection → numbers of its ways. */
  readonly waysOf: readonly (readonly number[])[];
  /** Way → its connection. */
  readonly connectionOf: Int32Array;
  /** Connection → its parts. */
  readonly joins: readonly (readonly number[])[];
  /** Part → its connections. */
  readonly tiesOf: readonly (readonly number[])[];
  readonly released: Uint8Array;
  readonly fixed: Uint8Array;
  /** Parts that nothing holds before the first step: outside the carrying rule. */
  readonly uncarried: Uint8Array;
  readonly separations: readonly Separation[];
  readonly supports: readonly (readonly number[])[];
  /** Part → tasks that support it, or strap it to something. */
  readonly holders: readonly (readonly number[])[];
  /** Task → what it hangs. */
  readonly hangs: ReadonlyMap<number, { readonly part: number; readonly to: number; readonly taut: readonly number[] }>;
  /** Task → what it lifts. */
  readonly lifts: ReadonlyMap<number, { readonly parts: readonly number[]; readonly limit: number }>;
  /** Lifts first, then separations. */
  readonly contexts: readonly ({ readonly lift: number } | { readonly separation: number })[];
  readonly keep: readonly number[];
  readonly take: readonly number[];
}

/**
 * Atoms are numbered: connections released, tasks done, separations, then "part p is on the rising side of context x". A context
 * is a lift or a separation: it parts the machine in two.
 */
export const doneAtom = (c: Compiled, task: number): number => c.connectionCount + task;
export const separationAtom = (c: Compiled, separation: number): number => c.connectionCount + c.taskCount + separation;
export const sideAtom = (c: Compiled, context: number, part: number): number =>
  c.connectionCount + c.taskCount + c.separations.length + context * c.partCount + part;

/** Thrown when a problem is not well-formed: a mistake of the caller, never of a vehicle file. */
export class IllPosed extends Error {}

const indexOf = (kind: string, ids: readonly { readonly id: string }[]): ((id: string) => number) => {
  const map = new Map<string, number>();
  ids.forEach((x, i) => {
    if (map.has(x.id)) throw new IllPosed(`The ${kind} "${x.id}" stands twice in the problem; ids are unique.`);
    map.set(x.id, i);
  });
  return (id) => {
    const i = map.get(id);
    if (i === undefined) throw new IllPosed(`The problem names the ${kind} "${id}", and there is none.`);
    return i;
  };
};

/** Puts a problem into numbers. Throws `IllPosed` when an id is unknown or doubled, or a labour or mass is negative. */
export function compile(problem: Problem): Compiled {
  const part = indexOf("part", problem.parts);
  const connection = indexOf("connection", problem.connections);
  const task = indexOf("task", problem.tasks);
  const connectionCount = problem.connections.length;
  const taskCount = problem.tasks.length;
  const separations: Separation[] = [];
  const separationNumber = new Map<string, number>();

  const formula = (need: Need): Formula => {
    if ("released" in need) return connection(need.released);
    if ("done" in need) return connectionCount + task(need.done);
    if ("apart" in need) {
      const key = JSON.stringify(need.apart);
      let at = separationNumber.get(key);
      if (at === undefined) {
        at = separations.push({ from: need.apart[0].map(part), to: need.apart[1].map(part) }) - 1;
        separationNumber.set(key, at);
      }
      return connectionCount + taskCount + at;
    }
    return "any" in need ? join(true, need.any) : join(false, need.all);
  };
  const join = (any: boolean, needs: readonly Need[]): Formula => {
    const of = needs.map(formula);
    const only = of[0];
    return of.length === 1 && only !== undefined ? only : { any, of };
  };
  const proper = (labour: number, id: string): number => {
    if (!(labour >= 0 && Number.isFinite(labour)))
      throw new IllPosed(`The labour of "${id}" is ${labour}; it is a number of minutes from 0 up.`);
    return labour;
  };

  const steps: Step[] = [];
  const waysOf: number[][] = [];
  const connectionOf: number[] = [];
  problem.connections.forEach((c, i) => {
    if (c.joins.length < 2) throw new IllPosed(`The connection "${c.id}" joins fewer than two parts.`);
    waysOf.push(
      c.ways.map((w) => {
        connectionOf.push(i);
        const step = {
          id: w.id,
          labour: proper(w.labour, w.id),
          position: w.position,
          needs: join(false, w.needs),
          without: w.without.map(task),
          entails: w.entails.map(task),
        };
        return steps.push(step) - 1;
      }),
    );
  });
  const wayCount = steps.length;
  for (const t of problem.tasks) {
    steps.push({
      id: t.id,
      labour: proper(t.labour, t.id),
      position: t.position,
      needs: join(false, t.needs),
      without: t.without.map(task),
      entails: t.entails.map(task),
    });
  }

  const joins = problem.connections.map((c) => [...new Set(c.joins.map(part))]);
  const tiesOf: number[][] = problem.parts.map(() => []);
  joins.forEach((ps, c) => {
    for (const p of ps) tiesOf[p]?.push(c);
  });
  const released = new Uint8Array(connectionCount);
  for (const id of problem.released) released[connection(id)] = 1;
  const fixed = Uint8Array.from(problem.parts, (p) => {
    if (!(p.mass >= 0))
      throw new IllPosed(`The mass of "${p.id}" is ${p.mass}; it is a number of kilograms from 0 up.`);
    return p.fixed ? 1 : 0;
  });

  const lifts = new Map(
    problem.tasks.flatMap((t, i) =>
      t.lift === undefined ? [] : [[i, { parts: t.lift.parts.map(part), limit: t.lift.limit }]],
    ),
  );
  const supports = problem.tasks.map((t) => t.supports.map(part));
  const hangs = new Map(
    problem.tasks.flatMap((t, i) =>
      t.hang === undefined
        ? []
        : [[i, { part: part(t.hang.part), to: part(t.hang.to), taut: t.hang.taut.map(connection) }]],
    ),
  );
  const holders: number[][] = problem.parts.map(() => []);
  supports.forEach((parts, t) => {
    for (const p of parts) holders[p]?.push(t);
  });
  for (const [t, hang] of hangs) for (const p of [hang.part, hang.to]) holders[p]?.push(t);
  return carried({
    problem,
    partCount: problem.parts.length,
    connectionCount,
    wayCount,
    taskCount,
    steps,
    waysOf,
    connectionOf: Int32Array.from(connectionOf),
    joins,
    tiesOf,
    released,
    fixed,
    uncarried: new Uint8Array(problem.parts.length),
    separations,
    supports,
    holders,
    hangs,
    lifts,
    contexts: [...[...lifts.keys()].map((lift) => ({ lift })), ...separations.map((_, separation) => ({ separation }))],
    keep: problem.keep.map(part),
    take: problem.take.map(part),
  });
}

/** What may hold a part that nothing carries any more. */
export interface Hold {
  /** A support or a strap in force, or up with a lift: one of them. */
  readonly by: readonly Formula[];
  /** Or two hands, once these ties are released too; absent for a part too heavy for that. */
  readonly inHand: readonly number[] | undefined;
}

/** The hold of a part once its every carrying tie is released; undefined where released rests might bear it. */
export function holdOf(c: Compiled, p: number): Hold | undefined {
  const part = c.problem.parts[p];
  if (part === undefined) return undefined;
  const ties = c.tiesOf[p] as readonly number[];
  if (part.centre !== undefined && part.mass > 0) {
    const bearing = ties.flatMap((t) => {
      const tie = c.problem.connections[t];
      return tie?.rests === true && tie.at !== undefined ? [[tie.at[0], tie.at[1]] as const] : [];
    });
    if (insideBy(bearing, part.centre[0], part.centre[1]) >= c.problem.margin) return undefined;
  }
  const by: Formula[] = (c.holders[p] as readonly number[]).map((t) => doneAtom(c, t));
  c.contexts.forEach((context, x) => {
    if ("lift" in context) by.push({ any: false, of: [doneAtom(c, context.lift), sideAtom(c, x, p)] });
  });
  const carries = (t: number): boolean => c.released[t] === 1 || c.problem.connections[t]?.carrying === true;
  return { by, inHand: part.mass <= c.problem.handLimit ? ties.filter((t) => !carries(t)) : undefined };
}

/** The carrying ties of a part that are still made when the plan begins. */
export const carriersOf = (c: Compiled, p: number): number[] =>
  (c.tiesOf[p] as readonly number[]).filter((t) => c.released[t] === 0 && c.problem.connections[t]?.carrying === true);

/** Notes the parts that nothing carries, and makes the hold of a part a need of its only carrying tie. */
function carried(c: Compiled): Compiled {
  const load = new Load(c);
  const steps = [...c.steps];
  for (let p = 0; p < c.partCount; p++) {
    if (c.fixed[p] === 1) continue;
    if (!load.held(p)) {
      c.uncarried[p] = 1;
      continue;
    }
    const [only, ...others] = carriersOf(c, p);
    if (only === undefined || others.length > 0) continue;
    const hold = holdOf(c, p);
    if (hold === undefined) continue;
    const either = hold.inHand === undefined ? hold.by : [...hold.by, { any: false, of: hold.inHand }];
    for (const w of c.waysOf[only] as readonly number[]) {
      const step = steps[w] as Step;
      steps[w] = { ...step, needs: { any: false, of: [step.needs, { any: true, of: either }] } };
    }
  }
  return { ...c, steps };
}
