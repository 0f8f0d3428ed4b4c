// Owns the question as numbers: ids become indices, needs become small formulas over atoms, nonsense is refused.
// Everything after this trusts it.

import { Load } from "./carrying.ts";
import type { Need, Problem } from "./problem.ts";
import { hangsWithout, type Spine, spineOf } from "./spine.ts";

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
  /** Connection → whether it carries weight while it is made. */
  readonly carries: Uint8Array;
  readonly fixed: Uint8Array;
  /** Parts that nothing holds before the first step: outside the carrying rule. */
  readonly uncarried: Uint8Array;
  readonly separations: readonly Separation[];
  readonly supports: readonly (readonly number[])[];
  /** Part → tasks that support it. */
  readonly supporters: readonly (readonly number[])[];
  /** Part → hangs with an end at it. */
  readonly strapsAt: readonly (readonly number[])[];
  /** Task → what it hangs. */
  readonly hangs: ReadonlyMap<number, { readonly part: number; readonly to: number; readonly taut: readonly number[] }>;
  /** Task → what it lifts. */
  readonly lifts: ReadonlyMap<number, { readonly parts: readonly number[]; readonly limit: number }>;
  /** Lifts first, then separations. */
  readonly contexts: readonly ({ readonly lift: number } | { readonly separation: number })[];
  /** Context → part → whether it can be on the rising side at all. */
  readonly mayRise: readonly Uint8Array[];
  /** Context → how parts hang from the hook of a lift; a separation has none. */
  readonly spines: readonly (Spine | undefined)[];
  readonly keep: readonly number[];
  readonly take: readonly number[];
  /** Part → parts at the ends of the carrying ties that are still made when the plan begins, itself among them. */
  readonly carriedTo: readonly (readonly number[])[];
}

/**
 * Atoms are numbered: connections released, tasks done, separations, then "part p is on the rising side of context x". A context
 * is a lift or a separation: it parts the machine in two.
 */
export const doneAtom = (c: Compiled, task: number): number => c.connectionCount + task;
export const separationAtom = (c: Compiled, separation: number): number => c.connectionCount + c.taskCount + separation;
export const sideAtom = (c: Compiled, context: number, part: number): number =>
  c.connectionCount + c.taskCount + c.separations.length + context * c.partCount + part;

type Machine = Omit<Compiled, "mayRise" | "spines" | "carriedTo">;

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

  // A strap put on between two steps that ask for the same separation may leave each its own way of being apart: then each asks for one of its own.
  const strapped = problem.tasks.some((t) => t.hang !== undefined);
  let asking = "";
  const formula = (need: Need): Formula => {
    if ("released" in need) return connection(need.released);
    if ("done" in need) return connectionCount + task(need.done);
    if ("apart" in need) {
      const key = JSON.stringify(strapped ? [asking, need.apart] : need.apart);
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
        asking = w.id;
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
    asking = t.id;
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
  const carries = Uint8Array.from(problem.connections, ({ carrying }) => (carrying ? 1 : 0));
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
  const supporters: number[][] = problem.parts.map(() => []);
  const strapsAt: number[][] = problem.parts.map(() => []);
  supports.forEach((parts, t) => {
    for (const p of parts) supporters[p]?.push(t);
  });
  for (const [t, hang] of hangs) for (const p of [hang.part, hang.to]) strapsAt[p]?.push(t);
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
    carries,
    fixed,
    uncarried: new Uint8Array(problem.parts.length),
    separations,
    supports,
    supporters,
    strapsAt,
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
  if (mightRest(c, [p])) return undefined;
  const by: Formula[] = holdersOf(c, [p]).map((t) => doneAtom(c, t));
  for (const t of carriersOf(c, p)) by.push(...upBy(c, t, [p]));
  const carries = (t: number): boolean => c.released[t] === 1 || c.carries[t] === 1;
  return { by, inHand: part.mass <= c.problem.handLimit ? ties.filter((t) => !carries(t)) : undefined };
}

/**
 * The lifts with which a body can go up by one of its carrying ties: the tie is released only afterwards, so what is at its other end goes up
 * too, and can hang from the hook without the body.
 */
export function upBy(c: Compiled, tie: number, body: readonly number[]): Formula[] {
  const ends = c.joins[tie] as readonly number[];
  return c.contexts.flatMap((context, x): Formula[] => {
    const spine = c.spines[x];
    if (!("lift" in context) || spine === undefined) return [];
    const may = c.mayRise[x] as Uint8Array;
    const hooked = body.some((p) => spine.entered[p] === 0);
    const far = ends.filter((q) => !body.includes(q));
    if (!ends.every((q) => may[q] === 1)) return [];
    if (!hooked && !far.some((q) => body.every((p) => hangsWithout(spine, q, p)))) return [];
    return [{ any: false, of: [doneAtom(c, context.lift), ...ends.map((q) => sideAtom(c, x, q))] }];
  });
}

/** Whether a body would rest if every tie beneath it that rests were released. */
function mightRest(c: Compiled, body: readonly number[]): boolean {
  const points = body.flatMap((p) =>
    (c.tiesOf[p] as readonly number[]).flatMap((t) => {
      const tie = c.problem.connections[t];
      return tie?.rests === true && tie.at !== undefined ? [[tie.at[0], tie.at[1]] as const] : [];
    }),
  );
  return points.length > 2 && new Load(c).couldRest(body, points);
}

/** Tasks that hold a body while they are in force: supports, and straps on it when it is light enough for one. */
export function holdersOf(c: Compiled, body: readonly number[]): number[] {
  const mass = body.reduce((sum, p) => sum + (c.problem.parts[p]?.mass ?? 0), 0);
  return body.flatMap((p) => [
    ...(c.supporters[p] as readonly number[]),
    ...(mass <= c.problem.handLimit
      ? (c.strapsAt[p] as readonly number[]).filter((t) => c.hangs.get(t)?.part === p)
      : []),
  ]);
}

/** The carrying ties of a part that are still made when the plan begins. */
export const carriersOf = (c: Compiled, p: number): number[] =>
  (c.tiesOf[p] as readonly number[]).filter((t) => c.released[t] === 0 && c.carries[t] === 1);

/** Notes the parts that nothing carries, and makes the hold of a part a need of its only carrying tie. */
function carried(machine: Machine): Compiled {
  const near = machine.tiesOf.map((_, p) => neighboursOf(machine, p));
  const mayRise = machine.contexts.map((context) => {
    const may = new Uint8Array(machine.partCount);
    for (const p of "lift" in context
      ? liftable(machine, near, context.lift)
      : separable(machine, near, context.separation))
      may[p] = 1;
    return may;
  });
  const carriedTo = machine.tiesOf.map((ties) =>
    ties
      .filter((t) => machine.released[t] === 0 && machine.carries[t] === 1)
      .flatMap((t) => machine.joins[t] as readonly number[]),
  );
  const spines = machine.contexts.map((context, x) => {
    const hook = "lift" in context ? machine.lifts.get(context.lift)?.parts : undefined;
    if (hook === undefined) return undefined;
    const may = mayRise[x] as Uint8Array;
    return spineOf(machine.partCount, hook, (p) =>
      (carriedTo[p] as readonly number[]).filter((q) => q !== p && may[q] === 1),
    );
  });
  const c: Compiled = { ...machine, mayRise, spines, carriedTo };
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

/** Parts that can be tied to what a lift takes hold of: the lightest chain of parts to them, themselves included, is within the limit. */
function liftable(c: Machine, near: readonly (readonly number[])[], task: number): number[] {
  const lift = c.lifts.get(task);
  if (lift === undefined) return [];
  const least = new Float64Array(c.partCount).fill(Number.POSITIVE_INFINITY);
  const mass = (p: number): number => c.problem.parts[p]?.mass ?? 0;
  const barred = new Set(c.keep);
  const limit = lift.limit * (1 + 1e-9);
  const own = lift.parts.reduce((sum, p) => sum + mass(p), 0);
  const reached: number[] = [];
  const queue = [...new Set(lift.parts)];
  for (const p of queue) least[p] = own;
  // Label-correcting search: the queue holds parts whose chain has become lighter.
  for (let i = 0; i < queue.length; i++) {
    const p = queue[i] as number;
    for (const q of near[p] as readonly number[]) {
      if (c.fixed[q] === 1 || barred.has(q)) continue;
      const chain = (least[p] as number) + mass(q);
      if (chain > limit || chain >= (least[q] as number)) continue;
      least[q] = chain;
      queue.push(q);
    }
  }
  least.forEach((x, p) => {
    if (x < Number.POSITIVE_INFINITY && c.fixed[p] === 0) reached.push(p);
  });
  return reached;
}

/** Parts that can be joined to the one side of a separation without passing through the other. */
function separable(c: Machine, near: readonly (readonly number[])[], separation: number): number[] {
  const { from, to } = c.separations[separation] as { from: readonly number[]; to: readonly number[] };
  const fixedParts = [...c.fixed.keys()].filter((p) => c.fixed[p] === 1);
  const seen = new Set(to.some((p) => c.fixed[p] === 1) ? [...to, ...fixedParts] : to);
  const queue = from.filter((p) => !seen.has(p));
  for (const p of queue) seen.add(p);
  for (let i = 0; i < queue.length; i++) {
    const p = queue[i] as number;
    // The fixed parts hold together: whoever reaches one reaches all.
    const own = near[p] as readonly number[];
    for (const q of c.fixed[p] === 1 ? [...own, ...fixedParts] : own) {
      if (seen.has(q)) continue;
      seen.add(q);
      queue.push(q);
    }
  }
  return queue;
}

/** Parts that an unreleased tie or a possible strap joins to a part, each once. */
function neighboursOf(c: Machine, p: number): number[] {
  const near = new Set<number>();
  for (const t of c.tiesOf[p] as readonly number[])
    if (c.released[t] === 0) for (const q of c.joins[t] as readonly number[]) near.add(q);
  for (const t of c.strapsAt[p] as readonly number[]) {
    const hang = c.hangs.get(t);
    if (hang !== undefined) near.add(hang.part).add(hang.to);
  }
  near.delete(p);
  return [...near];
}
