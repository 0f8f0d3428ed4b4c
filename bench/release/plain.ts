// Owns the plain reading of the rules R1 to R7: everything worked out afresh in every state, for problems of a few parts.
//
// Sets of parts, connections and tasks are the bits of whole numbers. Nothing is carried from one state to the next, and
// nothing is shared with the checker or the solver: where they differ from this, one of the three is wrong.

import type { Need, Problem, Task, Way } from "../../src/release/problem.ts";
import type { Step } from "../../src/release/result.ts";

/** Where an order has got to. */
export interface State {
  readonly released: number;
  /** Tasks done, toggles that are on. */
  readonly on: number;
  /** Parts that a lift took up. */
  readonly up: number;
  /** Back tasks called for. */
  readonly called: number;
}

export type Rule = "R1" | "R2" | "R3" | "R4" | "R5" | "R6" | "R7";

/** A step as the search sees it; `bit` is of the connection or of the task. */
export interface Move {
  readonly step: Step;
  readonly bit: number;
  readonly work: Way | Task;
  /** Bit of its position, 0 where it has none. */
  readonly place: number;
}

const EPSILON = 1e-9;
const MOST = 30;

export class Plain {
  readonly moves: readonly Move[];
  readonly start: State;
  readonly problem: Problem;
  private readonly part: ReadonlyMap<string, number>;
  private readonly connection: ReadonlyMap<string, number>;
  private readonly task: ReadonlyMap<string, number>;
  private readonly joins: readonly number[];
  private readonly fixed: number;
  private readonly exempt: number;

  /** @throws RangeError when there are more than 30 parts, connections or tasks, or a toggle that hangs. */
  constructor(problem: Problem) {
    const { parts, connections, tasks } = problem;
    if (Math.max(parts.length, connections.length, tasks.length) > MOST) throw new RangeError(`more than ${MOST} bits`);
    if (tasks.some((task) => task.toggle && task.hang)) throw new RangeError("a hang stays, a toggle does not");
    this.problem = problem;
    this.part = bits(parts);
    this.connection = bits(connections);
    this.task = bits(tasks);
    this.joins = connections.map((each) => this.partsOf(each.joins));
    this.fixed = this.partsOf(parts.filter((each) => each.fixed).map((each) => each.id));
    const works = [...connections.flatMap((each) => each.ways), ...tasks];
    const places = [...new Set(works.flatMap((work) => work.position ?? []))];
    const place = (work: Way | Task) => (work.position === undefined ? 0 : 1 << places.indexOf(work.position));
    this.moves = [
      ...connections.flatMap((each, i) =>
        each.ways.map((way) => ({
          step: { release: each.id, way: way.id },
          bit: 1 << i,
          work: way,
          place: place(way),
        })),
      ),
      ...tasks.flatMap((task, i) => {
        const shared = { bit: 1 << i, work: task, place: place(task) };
        return [{ step: { do: task.id }, ...shared }, ...(task.toggle ? [{ step: { undo: task.id }, ...shared }] : [])];
      }),
    ];
    this.start = { released: maskOf(this.connection, problem.released), on: 0, up: 0, called: 0 };
    const held = this.held(this.start);
    this.exempt = this.every(parts) & ~(held.firm | held.resting);
  }

  /** The rules R1 to R4 that the move breaks in this state. */
  broken(state: State, move: Move): Set<Rule> {
    const broken = new Set<Rule>();
    const isOn = (state.on & move.bit) !== 0;
    if ("release" in move.step) {
      if (state.released & move.bit) broken.add("R1");
    } else {
      const task = move.work as Task;
      if ("undo" in move.step ? !isOn : isOn || task.back) broken.add("R1");
    }
    if (broken.size > 0 || "undo" in move.step) return broken;
    if (!move.work.needs.every((need) => this.holds(state, need))) broken.add("R2");
    if (state.on & maskOf(this.task, move.work.without)) broken.add("R3");
    const lift = "do" in move.step ? (move.work as Task).lift : undefined;
    if (lift) {
      const group = this.grow(this.partsOf(lift.parts), this.tying(state));
      const mass = this.listed(group).reduce((sum, each) => sum + each.mass, 0);
      if (group & (this.fixed | this.partsOf(this.problem.keep)) || mass > lift.limit + EPSILON) broken.add("R4");
    }
    return broken;
  }

  /** The state after a move that does not break R1. */
  after(state: State, move: Move): State {
    if ("undo" in move.step) return { ...state, on: state.on & ~move.bit };
    const called = this.calledBy(move.work.entails, state.called);
    if ("release" in move.step) return { ...state, released: state.released | move.bit, called };
    const { lift } = move.work as Task;
    const up = lift ? this.rising(state, this.partsOf(lift.parts)) : 0;
    return { ...state, on: state.on | move.bit, up: state.up | up, called };
  }

  /** Of a lifted group, the parts that hang by connections that carry, and those outside R5. */
  private rising(state: State, hook: number): number {
    const carried = this.grow(hook, this.carrying(state));
    return carried | (this.grow(hook, this.tying(state)) & this.exempt);
  }

  /** Minutes that the move adds. */
  labour(before: State, move: Move, after: State): number {
    const called = after.called & ~before.called;
    const back = this.problem.tasks.reduce((sum, task, i) => sum + (called & (1 << i) ? task.labour : 0), 0);
    return move.work.labour + back;
  }

  /** R5: the parts that nothing holds. */
  dropped(state: State): number {
    const { firm, resting, strapped } = this.held(state);
    return this.every(this.problem.parts) & ~(firm | resting | strapped | this.aside(state) | this.exempt);
  }

  /** The rules that only the whole order can break, and does when it ends in this state. */
  brokenAtEnd(state: State): Set<Rule> {
    const broken = new Set<Rule>();
    if (this.partsOf(this.problem.take) & ~state.up) broken.add("R4");
    for (const { hang } of this.tasksOn(state))
      if (maskOf(this.connection, hang?.taut ?? []) & ~state.released) broken.add("R6");
    const must = this.problem.tasks.filter((task) => task.must).map((task) => task.id);
    if (maskOf(this.task, must) & ~(state.on | state.called)) broken.add("R7");
    return broken;
  }

  private holds(state: State, need: Need): boolean {
    if ("released" in need) return (state.released & maskOf(this.connection, [need.released])) !== 0;
    if ("done" in need) return (state.on & maskOf(this.task, [need.done])) !== 0;
    if ("all" in need) return need.all.every((each) => this.holds(state, each));
    if ("any" in need) return need.any.some((each) => this.holds(state, each));
    const [some, others] = need.apart.map((ids) => this.partsOf(ids)) as [number, number];
    return (this.grow(some, this.tying(state)) & others) === 0;
  }

  private held(state: State): { readonly firm: number; readonly resting: number; readonly strapped: number } {
    const { parts, connections, handLimit } = this.problem;
    const carrying = this.carrying(state);
    const straps = this.hangsOn(state);
    const supported = this.tasksOn(state).reduce((mask, task) => mask | this.partsOf(task.supports), 0);
    const firm = this.grow(this.fixed | supported | state.up, carrying);
    let [resting, strapped] = [0, 0];
    parts.forEach((_, i) => {
      const body = this.grow(1 << i, carrying);
      if (body & firm) return;
      const seats = connections.flatMap((each, c) => {
        const joins = this.joins[c] ?? 0;
        const bears = each.rests && state.released & (1 << c) && joins & body && joins & ~body & firm;
        return bears && each.at ? [each.at] : [];
      });
      if (this.standsOn(body, seats)) resting |= body;
      const mass = this.listed(body).reduce((sum, each) => sum + each.mass, 0);
      const isHung = straps.some(({ part, to }) => this.partsOf([part]) & body && this.partsOf([to]) & ~body & firm);
      if (isHung && mass <= handLimit + EPSILON) strapped |= body;
    });
    return { firm, resting, strapped };
  }

  private standsOn(body: number, seats: readonly (readonly [number, number, number])[]): boolean {
    const heavy = this.listed(body).filter((each) => each.mass > 0);
    const mass = heavy.reduce((sum, each) => sum + each.mass, 0);
    if (mass === 0 || heavy.some((each) => !each.centre)) return false;
    const [x, y] = [0, 1].map(
      (axis) => heavy.reduce((sum, each) => sum + each.mass * (each.centre?.[axis] ?? 0), 0) / mass,
    );
    const left = (p: readonly number[], q: readonly number[], r: readonly number[]) =>
      (q[0]! - p[0]!) * (r[1]! - p[1]!) - (q[1]! - p[1]!) * (r[0]! - p[0]!);
    if (!seats.some((p) => seats.some((q) => seats.some((r) => left(p, q, r) > EPSILON)))) return false;
    // A pair of points is an edge of the hull when no point lies to the right of the line through it.
    return seats.every((p) =>
      seats.every((q) => {
        const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
        if (length === 0 || seats.some((r) => left(p, q, r) < -EPSILON)) return true;
        return left(p, q, [x!, y!]) / length >= this.problem.margin - EPSILON;
      }),
    );
  }

  private aside(state: State): number {
    const tied = this.tying(state).reduce((mask, tie) => mask | tie, 0);
    const light = this.problem.parts.filter((each) => each.mass <= this.problem.handLimit).map((each) => each.id);
    return this.partsOf(light) & ~tied;
  }

  /** Parts joined by each unreleased connection and by each hang in force, and the fixed parts. */
  private tying(state: State): number[] {
    const made = this.joins.filter((_, i) => !(state.released & (1 << i)));
    return [...made, ...this.hangsOn(state).map(({ part, to }) => this.partsOf([part, to])), this.fixed];
  }

  /** Parts joined by each unreleased connection that carries. */
  private carrying(state: State): number[] {
    return this.joins.filter((_, i) => !(state.released & (1 << i)) && this.problem.connections[i]?.carrying);
  }

  private hangsOn(state: State): NonNullable<Task["hang"]>[] {
    return this.tasksOn(state).flatMap(({ hang }) => hang ?? []);
  }

  private grow(parts: number, tying: readonly number[]): number {
    const grown = tying.reduce((mask, tie) => (mask & tie ? mask | tie : mask), parts);
    return grown === parts ? parts : this.grow(grown, tying);
  }

  private calledBy(entails: readonly string[], called: number): number {
    return entails.reduce((mask, id) => {
      const i = this.task.get(id);
      const task = i === undefined ? undefined : this.problem.tasks[i];
      if (i === undefined || !task?.back || mask & (1 << i)) return mask;
      return this.calledBy(task.entails, mask | (1 << i));
    }, called);
  }

  private tasksOn(state: State): Task[] {
    return this.problem.tasks.filter((_, i) => state.on & (1 << i));
  }

  private listed(parts: number) {
    return this.problem.parts.filter((_, i) => parts & (1 << i));
  }

  private partsOf(ids: readonly string[]): number {
    return maskOf(this.part, ids);
  }

  private every(items: readonly unknown[]): number {
    return (1 << items.length) - 1;
  }
}

/** What the plain reading says of an order: the rules broken at each step, and its labour. */
export function replay(
  problem: Problem,
  order: readonly Step[],
): { readonly faults: string[]; readonly labour: number } {
  const plain = new Plain(problem);
  const faults: string[] = [];
  let [state, labour, dropped] = [plain.start, 0, 0];
  order.forEach((step, index) => {
    const move = plain.moves.find((each) => JSON.stringify(each.step) === JSON.stringify(step));
    const broken = move ? plain.broken(state, move) : new Set<Rule>(["R1"]);
    if (move && !broken.has("R1")) {
      const next = plain.after(state, move);
      labour += plain.labour(state, move, next);
      state = next;
      const drops = plain.dropped(state);
      if (drops & ~dropped) broken.add("R5");
      dropped = drops;
    }
    faults.push(...[...broken].map((rule) => `${index} ${rule}`));
  });
  faults.push(...[...plain.brokenAtEnd(state)].map((rule) => `end ${rule}`));
  return { faults, labour };
}

function bits(items: readonly { readonly id: string }[]): ReadonlyMap<string, number> {
  return new Map(items.map((item, i) => [item.id, i]));
}

function maskOf(numbers: ReadonlyMap<string, number>, ids: readonly string[]): number {
  return ids.reduce((mask, id) => mask | (numbers.has(id) ? 1 << (numbers.get(id) ?? 0) : 0), 0);
}
