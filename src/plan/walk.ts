// Owns where the vehicle stands in the middle of an order: which steps may come next and what they leave behind. It knows the rules R1 to R5
// of docs/release.md for the steps of one plan only; whether a whole order is legal is for the release room's checker to say.

import type { Need, Problem, Step, Task } from "../release/index.ts";
import { deepInside } from "./polygon.ts";

/** One step of the plan that is taken once: a release or a task that is no toggle. */
export interface Move {
  readonly index: number;
  readonly step: Step;
  readonly id: string;
  readonly position: string | undefined;
  /** Releases something that carries, so that what it leaves behind must be looked at. */
  readonly carrying: boolean;
  /** Best left as late as it can be: releasing what carries something too heavy for two hands, taking weight from above or below, and straps. */
  readonly late: boolean;
}

/** A state of the vehicle that the plan sets and undoes. */
export interface Toggle {
  readonly index: number;
  readonly id: string;
  readonly position: string | undefined;
  readonly labour: number;
}

/** A moment of the order. Never changed once made. */
export interface Moment {
  /** By index of the move. */
  readonly made: Uint8Array;
  /** By index of the toggle. */
  readonly on: Uint8Array;
  /** By index of the part: it went up with a lift. */
  readonly up: Uint8Array;
}

type Holds = (moment: Moment) => boolean;

interface Tie {
  /** The move that releases it; −1: released before the plan began, or never. */
  readonly move: number;
  readonly ends: readonly number[];
}

interface Rest extends Tie {
  readonly at: readonly [number, number, number];
}

const find = (root: Int32Array, at: number): number => {
  let top = at;
  while (root[top] !== top) top = root[top]!;
  for (let next = at; next !== top; ) {
    const up = root[next]!;
    root[next] = top;
    next = up;
  }
  return top;
};

const join = (root: Int32Array, ends: readonly number[]): void => {
  for (let i = 1; i < ends.length; i++) root[find(root, ends[i]!)] = find(root, ends[0]!);
};

/**
 * The steps of one plan as moves and toggles, with the rules that say when each may be made.
 *
 * @param steps the plan's own order; it says which way releases each connection and which tasks are done.
 */
export class Walk {
  readonly moves: readonly Move[];
  readonly toggles: readonly Toggle[];
  private readonly problem: Problem;
  private readonly partOf: ReadonlyMap<string, number>;
  private readonly moveOf = new Map<string, number>();
  private readonly toggleOf = new Map<string, number>();
  private readonly released: ReadonlySet<string>;
  private readonly needs: readonly Holds[];
  private readonly toggleNeeds: readonly Holds[];
  private readonly without: readonly (readonly number[])[];
  private readonly toggleWithout: readonly (readonly number[])[];
  private readonly lifts: ReadonlyMap<number, { readonly parts: readonly number[]; readonly limit: number }>;
  private readonly supports: readonly (readonly number[])[];
  private readonly toggleSupports: readonly (readonly number[])[];
  private readonly keep: Uint8Array;
  /** Parts that no rule holds to be carried: nothing carried them before the first step. */
  private readonly outside: Uint8Array;
  /** What hangs together as long as the plan lasts, and the ties that it releases; the same of what carries. */
  private readonly tied: Int32Array;
  private readonly ties: readonly Tie[];
  private readonly carried: Int32Array;
  private readonly carriers: readonly Tie[];
  private readonly rests: readonly Rest[];
  private readonly hangs: readonly Tie[];
  /** By part: the moves that must all be made before it is off; undefined where something of it is never released. */
  private readonly offBy: readonly (readonly number[] | undefined)[];

  constructor(problem: Problem, steps: readonly Step[]) {
    this.problem = problem;
    this.partOf = new Map(problem.parts.map((part, index) => [part.id, index]));
    this.released = new Set(problem.released);
    const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
    const connections = new Map(problem.connections.map((one) => [one.id, one]));
    const light = new Set(
      problem.parts.filter((part) => !part.fixed && part.mass <= problem.handLimit).map((part) => part.id),
    );
    const moves: Move[] = [];
    const toggles: Toggle[] = [];
    const works: { readonly needs: readonly Need[]; readonly without: readonly string[] }[] = [];
    const done: (Task | undefined)[] = [];
    const switched: Task[] = [];
    for (const step of steps) {
      const id = "release" in step ? step.release : "do" in step ? step.do : step.undo;
      const connection = "release" in step ? connections.get(id) : undefined;
      const way = "release" in step ? connection?.ways.find((one) => one.id === step.way) : undefined;
      const task = "release" in step ? undefined : tasks.get(id);
      const work = way ?? task;
      if (work === undefined || this.moveOf.has(id) || this.toggleOf.has(id)) continue;
      if (task?.toggle === true) {
        this.toggleOf.set(id, toggles.length);
        toggles.push({ index: toggles.length, id, position: task.position, labour: task.labour });
        switched.push(task);
        continue;
      }
      this.moveOf.set(id, moves.length);
      const carrying = connection?.carrying === true;
      const heavy = carrying && connection.joins.every((part) => !light.has(part));
      const late = heavy || (task?.supports.length ?? 0) > 0 || task?.hang !== undefined;
      moves.push({ index: moves.length, step, id, position: work.position, carrying, late });
      works.push(work);
      done.push(task);
    }
    this.moves = moves;
    this.toggles = toggles;
    const numbers = (ids: readonly string[]) => ids.flatMap((id) => this.partOf.get(id) ?? []);
    const without = (ids: readonly string[]) => ids.flatMap((id) => this.toggleOf.get(id) ?? []);
    this.needs = works.map((work) => this.holds({ all: work.needs }));
    this.toggleNeeds = switched.map((task) => this.holds({ all: task.needs }));
    this.without = works.map((work) => without(work.without));
    this.toggleWithout = switched.map((task) => without(task.without));
    this.supports = done.map((task) => numbers(task?.supports ?? []));
    this.toggleSupports = switched.map((task) => numbers(task.supports));
    this.lifts = new Map(
      done.flatMap((task, index) =>
        task?.lift === undefined ? [] : [[index, { parts: numbers(task.lift.parts), limit: task.lift.limit }]],
      ),
    );
    this.hangs = done.flatMap((task, move) =>
      task?.hang === undefined ? [] : [{ move, ends: numbers([task.hang.part, task.hang.to]) }],
    );
    this.keep = new Uint8Array(problem.parts.length);
    for (const part of numbers(problem.keep)) this.keep[part] = 1;

    this.tied = Int32Array.from(problem.parts.keys());
    this.carried = Int32Array.from(problem.parts.keys());
    const ties: Tie[] = [];
    const carriers: Tie[] = [];
    const rests: Rest[] = [];
    const offBy: (number[] | undefined)[] = problem.parts.map(() => []);
    for (const { id, joins, carrying, rests: bears, at } of problem.connections) {
      const ends = numbers(joins);
      const move = this.moveOf.get(id) ?? -1;
      const gone = this.released.has(id);
      if (bears && at !== undefined && (gone || move >= 0)) rests.push({ move, ends, at });
      if (gone) continue;
      if (move < 0) join(this.tied, ends);
      else ties.push({ move, ends });
      if (carrying && move < 0) join(this.carried, ends);
      else if (carrying) carriers.push({ move, ends });
      for (const end of ends) {
        if (move < 0) offBy[end] = undefined;
        else offBy[end]?.push(move);
      }
    }
    this.ties = ties;
    this.carriers = carriers;
    this.rests = rests;
    this.offBy = offBy;
    this.outside = new Uint8Array(problem.parts.length);
    this.outside = this.unheld(this.start());
  }

  /** Before the first step. */
  start(): Moment {
    return {
      made: new Uint8Array(this.moves.length),
      on: new Uint8Array(this.toggles.length),
      up: new Uint8Array(this.problem.parts.length),
    };
  }

  /** The moment after a move, or undefined when it may not be made now. */
  make(moment: Moment, index: number): Moment | undefined {
    if (moment.made[index] === 1 || this.without[index]!.some((toggle) => moment.on[toggle] === 1)) return undefined;
    if (!this.needs[index]!(moment)) return undefined;
    const lift = this.lifts.get(index);
    const up = lift === undefined ? moment.up : this.liftNow(moment, lift);
    if (up === undefined) return undefined;
    const made = moment.made.slice();
    made[index] = 1;
    const after = { made, on: moment.on, up };
    return this.moves[index]!.carrying && this.unheld(after).includes(1) ? undefined : after;
  }

  /**
   * The moment after a toggle is set or undone, or undefined when it may not be.
   *
   * @param bothWays undoing asks for what setting asks for: so the order may be read backwards as well.
   */
  turn(moment: Moment, index: number, bothWays: boolean): Moment | undefined {
    const setting = moment.on[index] === 0;
    if (setting || bothWays) {
      if (this.toggleWithout[index]!.some((toggle) => moment.on[toggle] === 1)) return undefined;
      if (!this.toggleNeeds[index]!(moment)) return undefined;
    }
    const on = moment.on.slice();
    on[index] = setting ? 1 : 0;
    const after = { made: moment.made, on, up: moment.up };
    return !setting && this.toggleSupports[index]!.length > 0 && this.unheld(after).includes(1) ? undefined : after;
  }

  private holds(need: Need): Holds {
    if ("released" in need) {
      if (this.released.has(need.released)) return () => true;
      return this.isMade(this.moveOf.get(need.released));
    }
    if ("done" in need) {
      const toggle = this.toggleOf.get(need.done);
      return toggle === undefined ? this.isMade(this.moveOf.get(need.done)) : ({ on }) => on[toggle] === 1;
    }
    if ("all" in need) {
      const all = need.all.map((one) => this.holds(one));
      return (moment) => all.every((one) => one(moment));
    }
    if ("any" in need) {
      const any = need.any.map((one) => this.holds(one));
      return (moment) => any.some((one) => one(moment));
    }
    const [some, others] = need.apart.map((side) => side.flatMap((id) => this.partOf.get(id) ?? []));
    return (moment) => {
      const bodies = this.bodies(moment);
      const there = new Set(others!.map((part) => find(bodies, part)));
      return !some!.some((part) => there.has(find(bodies, part)));
    };
  }

  private isMade(move: number | undefined): Holds {
    return move === undefined ? () => false : ({ made }) => made[move] === 1;
  }

  /** What hangs together now. */
  private bodies(moment: Moment): Int32Array {
    const bodies = this.tied.slice();
    for (const { move, ends } of this.ties) if (moment.made[move] === 0) join(bodies, ends);
    for (const { move, ends } of this.hangs) if (moment.made[move] === 1) join(bodies, ends);
    return bodies;
  }

  /** What hangs together by what carries. */
  private carriedBodies(moment: Moment): Int32Array {
    const bodies = this.carried.slice();
    for (const { move, ends } of this.carriers) if (moment.made[move] === 0) join(bodies, ends);
    for (const { move, ends } of this.hangs) if (moment.made[move] === 1) join(bodies, ends);
    return bodies;
  }

  /** R4: who is up after this lift, or undefined when it may not be made. */
  private liftNow(
    moment: Moment,
    lift: { readonly parts: readonly number[]; readonly limit: number },
  ): Uint8Array | undefined {
    const bodies = this.bodies(moment);
    const taken = new Set(lift.parts.map((part) => find(bodies, part)));
    // What hangs from the load by a hose alone goes along and is not held by it.
    const carried = this.carriedBodies(moment);
    const held = new Set(lift.parts.map((part) => find(carried, part)));
    const up = moment.up.slice();
    let mass = 0;
    for (const [part, { fixed, mass: own }] of this.problem.parts.entries()) {
      if (!taken.has(find(bodies, part))) continue;
      if (fixed || this.keep[part] === 1) return undefined;
      mass += own;
      if (held.has(find(carried, part)) || this.outside[part] === 1) up[part] = 1;
    }
    return mass > lift.limit + 1e-9 ? undefined : up;
  }

  /** R5: the parts that nothing holds at this moment, as ones. */
  private unheld(moment: Moment): Uint8Array {
    const { parts, handLimit, margin } = this.problem;
    const bodies = this.carriedBodies(moment);
    const firm = new Uint8Array(parts.length);
    const hold = (part: number) => {
      firm[find(bodies, part)] = 1;
    };
    for (const [part, { fixed }] of parts.entries()) if (fixed || moment.up[part] === 1) hold(part);
    for (const [move, list] of this.supports.entries()) if (moment.made[move] === 1) list.forEach(hold);
    for (const [toggle, list] of this.toggleSupports.entries()) if (moment.on[toggle] === 1) list.forEach(hold);
    const dropped = new Uint8Array(parts.length);
    const resting = new Map<number, boolean>();
    for (const part of parts.keys()) {
      const body = find(bodies, part);
      if (this.outside[part] === 1 || firm[body] === 1) continue;
      let rests = resting.get(body);
      if (rests === undefined) {
        rests = this.restsNow(moment, bodies, body, firm, margin);
        resting.set(body, rests);
      }
      if (!rests && !(parts[part]!.mass <= handLimit && this.isOff(moment, part))) dropped[part] = 1;
    }
    return dropped;
  }

  private isOff(moment: Moment, part: number): boolean {
    const by = this.offBy[part];
    return (
      by?.every((move) => moment.made[move] === 1) === true &&
      !this.hangs.some(({ move, ends }) => moment.made[move] === 1 && ends.includes(part))
    );
  }

  /** Whether a body stands on released mounts that bear from below, its centre of mass far enough inside their polygon. */
  private restsNow(moment: Moment, bodies: Int32Array, body: number, firm: Uint8Array, margin: number): boolean {
    const on = this.rests.filter(({ move, ends }) => {
      if (move >= 0 && moment.made[move] === 0) return false;
      const roots = ends.map((end) => find(bodies, end));
      return roots.includes(body) && roots.some((root) => root !== body && firm[root] === 1);
    });
    if (on.length < 3) return false;
    let [mass, x, y] = [0, 0, 0];
    for (const [part, { mass: own, centre }] of this.problem.parts.entries()) {
      if (own === 0 || find(bodies, part) !== body) continue;
      if (centre === undefined) return false;
      mass += own;
      x += own * centre[0];
      y += own * centre[1];
    }
    return (
      mass > 0 &&
      deepInside(
        [x / mass, y / mass],
        on.map(({ at }) => [at[0], at[1]] as const),
      ) >= margin
    );
  }
}
