// Owns what really waits for what in a legal order: so much of it that every other order of the same steps that keeps to it is legal as well.
//
// An order for one pair of hands says of any two steps which comes first; most of that is chance. What is no chance: a step waits for what its needs name
// (of an `any` the branch that held; of `apart` a smallest set of releases that parted them), the sides of a lift stay its sides, and what holds a part is there
// before what held it goes (holding.ts). States are no steps here: a step wants them on or off, and some may not be undone for a while.

import type { Need, Problem, Step, Task, Verdict, Way } from "../release/index.ts";
import { idOf } from "./arrange.ts";
import { holdingOf, type Keep } from "./holding.ts";
import { Moments } from "./moments.ts";

/** What a step, or a change of a state, waits for. */
export interface Wait {
  /** Steps that must be made before it, and still be made when it is. */
  readonly needs: ReadonlySet<string>;
  /** Steps that must be made before it, for the sake of what is held. */
  readonly follows: ReadonlySet<string>;
  readonly on: ReadonlySet<string>;
  readonly off: ReadonlySet<string>;
}

export interface Waits {
  /** By id of the connection or task. */
  readonly of: ReadonlyMap<string, Wait>;
  readonly keeps: readonly Keep[];
  /** A toggle that is undone only while another is on. */
  readonly handed: readonly (readonly [string, string])[];
  /** Sets of parts whose carrying connections, released and made, keep the order of out and back apart. */
  readonly exact: readonly (readonly string[])[];
}

/** What one need comes to. */
interface Asked {
  readonly made: readonly string[];
  readonly on: readonly string[];
  /** Hangs that must not be tied up before it. */
  readonly later: readonly string[];
}

const NOTHING: Asked = { made: [], on: [], later: [] };

const together = (list: readonly Asked[]): Asked => ({
  made: list.flatMap((one) => one.made),
  on: list.flatMap((one) => one.on),
  later: list.flatMap((one) => one.later),
});

/** Reads needs as the order met them. */
class Reader {
  private readonly moments: Moments;

  constructor(moments: Moments) {
    this.moments = moments;
  }

  /** What a need comes to for a step made at each of these moments; undefined where it does not hold at one. */
  ask(need: Need, times: readonly number[]): Asked | undefined {
    if ("released" in need) return this.made(need.released, times);
    if ("done" in need) {
      if (!this.moments.toggles.has(need.done)) return this.made(need.done, times);
      return times.every((time) => this.moments.spellAt(need.done, time) !== undefined)
        ? { ...NOTHING, on: [need.done] }
        : undefined;
    }
    if ("all" in need) {
      const all = need.all.map((one) => this.ask(one, times));
      return all.includes(undefined) ? undefined : together(all.flatMap((one) => one ?? []));
    }
    if ("any" in need) {
      const any = need.any.flatMap((one) => this.ask(one, times) ?? []);
      return any.toSorted((a, b) => this.lateness(a) - this.lateness(b))[0];
    }
    return this.apart(need.apart, times);
  }

  private made(id: string, times: readonly number[]): Asked | undefined {
    if (times.some((time) => this.moments.from(id) > time)) return undefined;
    return this.moments.isStep(id) ? { ...NOTHING, made: [id] } : NOTHING;
  }

  /** The branch of an `any` that was open first leaves most orders open; a state that must be on leaves fewest. */
  private lateness({ made, on }: Asked): number {
    return on.length * this.moments.order.length + Math.max(0, ...made.map((id) => this.moments.from(id)));
  }

  private apart(sides: readonly [readonly string[], readonly string[]], times: readonly number[]): Asked | undefined {
    const first = Math.min(...times);
    const { problem } = this.moments;
    const released = new Set(problem.connections.map((one) => one.id).filter((id) => this.moments.from(id) <= first));
    const parted = (pairs: readonly (readonly [string, string])[]): boolean => {
      const reached = this.moments.reach(sides[0], (one) => !released.has(one.id), pairs);
      return !sides[1].some((part) => reached.has(part));
    };
    const hung = this.moments.hangsAt(Math.max(...times));
    if (!parted(hung)) return undefined;
    // The last released is given up first, so that what is left was there earliest.
    for (const id of [...released].sort((a, b) => this.moments.from(b) - this.moments.from(a))) {
      released.delete(id);
      if (!parted(hung)) released.add(id);
    }
    const later = problem.tasks.filter(
      ({ id, hang }) =>
        hang !== undefined &&
        this.moments.isStep(id) &&
        this.moments.from(id) > Math.max(...times) &&
        !parted([...hung, [hang.part, hang.to]]),
    );
    return {
      made: [...released].filter((id) => this.moments.isStep(id)),
      on: [],
      later: later.map((task) => task.id),
    };
  }
}

class Drawer {
  private readonly problem: Problem;
  private readonly order: readonly Step[];
  private readonly lifts: Verdict["lifts"];
  private readonly moments: Moments;
  /** Toggles that the job turns at any time, in this order or elsewhere. */
  private readonly turned: ReadonlySet<string>;
  private readonly needs = new Map<string, Set<string>>();
  private readonly follows = new Map<string, Set<string>>();
  private readonly on = new Map<string, Set<string>>();
  private readonly off = new Map<string, Set<string>>();

  constructor(problem: Problem, order: readonly Step[], lifts: Verdict["lifts"], turned: ReadonlySet<string>) {
    this.problem = problem;
    this.turned = turned;
    this.order = order;
    this.lifts = lifts;
    this.moments = new Moments(problem, order);
  }

  draw(): Waits | undefined {
    const reader = new Reader(this.moments);
    for (const [id, { work, times }] of this.works()) {
      const asked = reader.ask({ all: work.needs }, times);
      if (asked === undefined) return undefined;
      for (const made of asked.made) this.add(this.needs, id, made);
      for (const toggle of asked.on) this.add(this.on, id, toggle);
      for (const hang of asked.later) this.add(this.follows, hang, id);
      for (const toggle of work.without) if (this.turned.has(toggle)) this.add(this.off, id, toggle);
    }
    this.sides();
    const holding = holdingOf(this.moments, this.ups());
    for (const [made, end] of holding.before) this.add(this.follows, end, made);
    for (const [id, toggle] of holding.on) this.add(this.on, id, toggle);
    const ids = new Set(this.order.map(idOf));
    return {
      of: new Map(
        [...ids].map((id) => [
          id,
          {
            needs: this.needs.get(id) ?? new Set(),
            follows: this.follows.get(id) ?? new Set(),
            on: this.on.get(id) ?? new Set(),
            off: this.off.get(id) ?? new Set(),
          },
        ]),
      ),
      keeps: holding.keeps,
      handed: holding.handed,
      exact: holding.exact,
    };
  }

  private add(map: Map<string, Set<string>>, id: string, value: string): void {
    const known = map.get(id);
    if (known === undefined) map.set(id, new Set([value]));
    else known.add(value);
  }

  /** Each step with the moments at which it is made: a toggle may be set more than once. */
  private works(): ReadonlyMap<string, { readonly work: Way | Task; readonly times: readonly number[] }> {
    const tasks = new Map(this.problem.tasks.map((task) => [task.id, task]));
    const works = new Map<string, { readonly work: Way | Task; readonly times: readonly number[] }>();
    for (const [index, step] of this.order.entries()) {
      if ("undo" in step) continue;
      const id = idOf(step);
      const work =
        "release" in step ? this.moments.connections.get(id)?.ways.find((way) => way.id === step.way) : tasks.get(id);
      if (work !== undefined) works.set(id, { work, times: [...(works.get(id)?.times ?? []), index] });
    }
    return works;
  }

  /** What touches a lifted group stays on its side of the lift, so that the same group goes up. */
  private sides(): void {
    for (const { task, parts } of this.lifts) {
      const group = new Set(parts);
      const touching = [
        ...this.problem.connections.filter((one) => one.joins.some((part) => group.has(part))).map((one) => one.id),
        ...this.problem.tasks.flatMap(({ id, hang }) =>
          hang !== undefined && (group.has(hang.part) || group.has(hang.to)) ? [id] : [],
        ),
      ].filter((id) => this.moments.isStep(id));
      for (const id of touching) {
        if (this.moments.from(id) < this.moments.from(task)) this.add(this.needs, task, id);
        else this.add(this.needs, id, task);
      }
    }
  }

  /** By part the lift that it goes up with: what the group carries, not what hangs from it by a hose. */
  private ups(): ReadonlyMap<string, string> {
    const ups = new Map<string, string>();
    for (const { task, parts } of this.lifts) {
      const hook = this.problem.tasks.find((one) => one.id === task)?.lift?.parts ?? [];
      const moment = this.moments.from(task);
      const carried = this.moments.reach(hook, (one) => one.carrying && this.moments.from(one.id) > moment);
      for (const part of parts) if (carried.has(part) && !ups.has(part)) ups.set(part, task);
    }
    return ups;
  }
}

/**
 * The steps of an order that a need rests on at a moment, and the toggles; undefined where it does not hold then.
 */
export const restsOn = (
  moments: Moments,
  need: Need,
  moment: number,
): { readonly made: readonly string[]; readonly on: readonly string[] } | undefined =>
  new Reader(moments).ask(need, [moment]);

/**
 * What waits for what in this order; undefined when the order does not keep its own needs.
 *
 * @param lifts what goes up with each lift, by the checker's replay of the order.
 * @param turned toggles that the job turns, in this order or elsewhere.
 */
export const waitsOf = (
  problem: Problem,
  order: readonly Step[],
  lifts: Verdict["lifts"],
  turned: ReadonlySet<string>,
): Waits | undefined => new Drawer(problem, order, lifts, turned).draw();
