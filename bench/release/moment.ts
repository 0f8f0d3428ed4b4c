// Owns one moment of a plan for the oracle's ordering: what is released, on and up, and which rule keeps a step from being made now.
//
// Everything is worked out afresh at each question, for problems of any size; the checker of src/release has the last word on every order.

import type { Connection, Need, Problem, Task, Way } from "../../src/release/problem.ts";
import type { Step } from "../../src/release/result.ts";

/** Why a step cannot be made now. `drops`: it can, but then nothing holds these parts, bodies of one or more. */
export type Hindrance =
  | { readonly rule: "once" | "need" | "on" | "lift" }
  | { readonly drops: readonly (readonly string[])[] };

type Point = readonly [number, number, number];
const ROUNDING = 1e-9;

export class Moment {
  readonly released: Set<string>;
  readonly on = new Set<string>();
  readonly up = new Set<string>();
  private readonly index: Index;

  constructor(problem: Problem, from?: Moment) {
    this.index = from?.index ?? makeIndex(problem);
    this.released = new Set(from?.released ?? problem.released);
    for (const id of from?.on ?? []) this.on.add(id);
    for (const id of from?.up ?? []) this.up.add(id);
  }

  private get problem(): Problem {
    return this.index.problem;
  }

  /** Names the moment, for telling whether it was met before. */
  get key(): string {
    return [this.released, this.on, this.up].map((ids) => [...ids].sort().join(" ")).join("|");
  }

  hindrance(step: Step): Hindrance | undefined {
    const { tasks, ways } = this.index;
    if ("undo" in step) return this.on.has(step.undo) ? this.drop(step) : { rule: "once" };
    const task = "do" in step ? tasks.get(step.do) : undefined;
    const work: Way | Task | undefined = "release" in step ? ways.get(step.way) : task;
    if (!work || ("release" in step ? this.released.has(step.release) : this.on.has(step.do) || task?.back))
      return { rule: "once" };
    if (!work.needs.every((need) => this.holds(need))) return { rule: "need" };
    if (work.without.some((id) => this.on.has(id))) return { rule: "on" };
    if (task?.lift) {
      const group = this.groupOf(task.lift.parts, false);
      const parts = this.problem.parts.filter((part) => group.has(part.id));
      const mass = parts.reduce((sum, part) => sum + part.mass, 0);
      if (mass > task.lift.limit + ROUNDING || parts.some((part) => part.fixed || this.problem.keep.includes(part.id)))
        return { rule: "lift" };
    }
    return this.drop(step);
  }

  /** Makes the step, whether it may be or not. */
  make(step: Step): void {
    if ("release" in step) this.released.add(step.release);
    else if ("undo" in step) this.on.delete(step.undo);
    else {
      const lift = this.index.tasks.get(step.do)?.lift;
      const carried = this.groupOf(lift?.parts ?? [], true);
      for (const id of this.groupOf(lift?.parts ?? [], false))
        if (carried.has(id) || this.index.exempt.has(id)) this.up.add(id);
      this.on.add(step.do);
    }
  }

  holds(need: Need): boolean {
    if ("released" in need) return this.released.has(need.released);
    if ("done" in need) return this.on.has(need.done);
    if ("all" in need) return need.all.every((each) => this.holds(each));
    if ("any" in need) return need.any.some((each) => this.holds(each));
    const group = this.groupOf(need.apart[0], false);
    return !need.apart[1].some((id) => group.has(id));
  }

  /** Whether what only the whole order can break holds now. */
  get ended(): boolean {
    const taut = this.problem.tasks
      .filter((task) => task.hang && this.on.has(task.id))
      .flatMap((task) => task.hang?.taut ?? []);
    const work = this.problem.tasks.filter((task) => task.must && !task.back);
    return (
      taut.every((id) => this.released.has(id)) &&
      this.problem.take.every((id) => this.up.has(id)) &&
      work.every((task) => this.on.has(task.id))
    );
  }

  /** The bodies that nothing holds now, set aside or not held from the first left out. */
  dropped(exempt: ReadonlySet<string> = new Set()): string[][] {
    const firm = this.firm();
    const bodies: string[][] = [];
    const seen = new Set<string>();
    for (const part of this.problem.parts) {
      if (seen.has(part.id) || firm.has(part.id)) continue;
      const body = this.groupOf([part.id], true);
      for (const id of body) seen.add(id);
      if ([...body].every((id) => exempt.has(id)) || this.isAside(part.id, body)) continue;
      if (this.rests(body, firm) || this.isStrapped(body, firm)) continue;
      bodies.push([...body]);
    }
    return bodies;
  }

  private drop(step: Step): Hindrance | undefined {
    const after = new Moment(this.problem, this);
    after.make(step);
    const drops = after.dropped(this.index.exempt);
    return drops.length > 0 ? { drops } : undefined;
  }

  private isAside(id: string, body: ReadonlySet<string>): boolean {
    const part = this.index.parts.get(id);
    if (!part || body.size > 1 || part.mass > this.problem.handLimit) return false;
    if (this.hangs().some(({ part: hung, to }) => hung === id || to === id)) return false;
    return (this.index.ties.get(id) ?? []).every((c) => this.released.has(c.id));
  }

  private firm(): Set<string> {
    const from = [...this.problem.parts.filter((part) => part.fixed).map((part) => part.id), ...this.up];
    for (const task of this.problem.tasks) if (this.on.has(task.id)) from.push(...task.supports);
    return this.groupOf(from, true);
  }

  private rests(body: ReadonlySet<string>, firm: ReadonlySet<string>): boolean {
    const seats: Point[] = [];
    for (const id of body) {
      for (const c of this.index.ties.get(id) ?? []) {
        if (c.rests && c.at && this.released.has(c.id) && c.joins.some((other) => !body.has(other) && firm.has(other)))
          seats.push(c.at);
      }
    }
    return standsOn(
      this.problem.parts.filter((part) => body.has(part.id)),
      seats,
      this.problem.margin,
    );
  }

  private isStrapped(body: ReadonlySet<string>, firm: ReadonlySet<string>): boolean {
    if (!this.hangs().some(({ part, to }) => body.has(part) && !body.has(to) && firm.has(to))) return false;
    return isLight(this.problem, body);
  }

  private hangs(): { readonly part: string; readonly to: string }[] {
    return this.problem.tasks.flatMap((task) => (task.hang && this.on.has(task.id) ? [task.hang] : []));
  }

  /** What unreleased connections join to these parts: those that carry, or all of them, with the hangs in force and the fixed parts as one. */
  private groupOf(from: readonly string[], carrying: boolean): Set<string> {
    const group = new Set(from);
    const open = [...from];
    const hangs = carrying ? [] : this.hangs();
    const reach = (id: string): void => {
      if (group.has(id)) return;
      group.add(id);
      open.push(id);
    };
    for (let id = open.pop(); id !== undefined; id = open.pop()) {
      for (const c of this.index.ties.get(id) ?? []) {
        if (!this.released.has(c.id) && (c.carrying || !carrying)) for (const other of c.joins) reach(other);
      }
      if (!carrying && this.index.parts.get(id)?.fixed)
        for (const part of this.problem.parts) if (part.fixed) reach(part.id);
      for (const hang of hangs) {
        if (hang.part === id) reach(hang.to);
        if (hang.to === id) reach(hang.part);
      }
    }
    return group;
  }
}

interface Index {
  readonly problem: Problem;
  readonly parts: ReadonlyMap<string, Problem["parts"][number]>;
  readonly tasks: ReadonlyMap<string, Task>;
  readonly ways: ReadonlyMap<string, Way>;
  readonly ties: ReadonlyMap<string, readonly Connection[]>;
  /** Parts that nothing holds before the first step. */
  exempt: ReadonlySet<string>;
}

const indices = new WeakMap<Problem, Index>();

function makeIndex(problem: Problem): Index {
  const known = indices.get(problem);
  if (known) return known;
  const ties = new Map<string, Connection[]>(problem.parts.map((part) => [part.id, []]));
  for (const c of problem.connections) for (const id of new Set(c.joins)) ties.get(id)?.push(c);
  const index: Index = {
    problem,
    parts: new Map(problem.parts.map((part) => [part.id, part])),
    tasks: new Map(problem.tasks.map((task) => [task.id, task])),
    ways: new Map(problem.connections.flatMap((c) => c.ways.map((way) => [way.id, way] as const))),
    ties,
    exempt: new Set(),
  };
  indices.set(problem, index);
  index.exempt = new Set(new Moment(problem).dropped().flat());
  return index;
}

/** Whether these parts weigh no more in all than a strap holds. */
export function isLight(problem: Problem, body: ReadonlySet<string>): boolean {
  const mass = problem.parts.reduce((sum, part) => sum + (body.has(part.id) ? part.mass : 0), 0);
  return mass <= problem.handLimit + ROUNDING;
}

/** Parts that something holds before the first step. */
export function holdsAtFirst(problem: Problem): Set<string> {
  const { exempt } = makeIndex(problem);
  return new Set(problem.parts.map((part) => part.id).filter((id) => !exempt.has(id)));
}

/** Whether the part by itself could stand on mounts whose bolts are out, were all of them there. */
export function restsUnder(problem: Problem, part: string): boolean {
  const { parts, ties } = makeIndex(problem);
  const own = parts.get(part);
  const seats = (ties.get(part) ?? []).flatMap((c) => (c.rests && c.at ? [c.at] : []));
  return own !== undefined && standsOn([own], seats, problem.margin);
}

/** Whether the centre of these parts lies at least `margin` inside the hull of the seats, seen from above. */
function standsOn(parts: readonly Problem["parts"][number][], seats: readonly Point[], margin: number): boolean {
  const heavy = parts.filter((part) => part.mass > 0);
  const mass = heavy.reduce((sum, part) => sum + part.mass, 0);
  if (seats.length < 3 || mass === 0 || heavy.some((part) => !part.centre)) return false;
  const middle = (axis: 0 | 1): number =>
    heavy.reduce((sum, part) => sum + part.mass * (part.centre?.[axis] ?? 0), 0) / mass;
  const [x, y] = [middle(0), middle(1)];
  const cross = (p: Point, q: Point, ax: number, ay: number): number =>
    (q[0] - p[0]) * (ay - p[1]) - (q[1] - p[1]) * (ax - p[0]);
  let wide = false;
  for (const p of seats) {
    for (const q of seats) {
      const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
      if (length === 0) continue;
      const sides = seats.map((r) => cross(p, q, r[0], r[1]));
      if (sides.some((side) => side > ROUNDING)) wide = true;
      // An edge of the hull has all seats on its left; the centre must lie that far to the left of it.
      if (sides.every((side) => side >= -ROUNDING) && cross(p, q, x, y) / length < margin - ROUNDING) return false;
    }
  }
  return wide;
}
