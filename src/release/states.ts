// Owns the search through every state that steps lead to, the cheapest first: exact whatever stands in the way, for questions of so few steps that their states can
// be counted.

import { Load } from "./carrying.ts";
import { type Compiled, sideAtom } from "./compile.ts";
import type { Encoding } from "./encode.ts";
import type { Event } from "./sequencer.ts";
import { holds } from "./wiring.ts";

/** Where an order has got to: bits of connections, tasks and parts. */
interface State {
  readonly released: number;
  /** Tasks done, toggles that are on. */
  readonly on: number;
  /** Tasks of the way back that are called for. */
  readonly called: number;
  readonly up: number;
}

/** A state as it was first reached at this cost. */
interface Reached extends State {
  readonly cost: number;
  readonly from: Reached | undefined;
  readonly event: Event;
}

export type Found =
  /** The cheapest order, unless there is one that was known before. */
  | { readonly kind: "order"; readonly events: readonly Event[]; readonly cost: number }
  /** There is none below the cost that was named. */
  | { readonly kind: "none" }
  /** Not looked through yet: none costs less than this. */
  | { readonly kind: "open"; readonly cost: number };

/** Bits that a whole number has room for. */
const MOST_BITS = 30;
const MOST_KEY = 2 ** 53;
/** States between two ticks. */
const TICK = 64;

export class States {
  private readonly c: Compiled;
  private readonly e: Encoding;
  private readonly load: Load;
  /** Steps of the way out that can be made, and toggles that it may help to undo. */
  private readonly moves: readonly Event[] = [];
  private readonly joins: readonly number[];
  private readonly fixed: number;
  private readonly keep: number;
  private readonly uncarried: number;
  private readonly without: readonly number[];
  private readonly supports: readonly number[];
  private readonly must: number;
  private readonly take: number;
  private readonly strides: readonly [number, number, number];
  private readonly least = new Map<number, number>();
  private readonly queue = new Queue();

  /** The search of a question, or undefined where its states are too many to be numbered. */
  static of(c: Compiled, e: Encoding): States | undefined {
    if (Math.max(c.partCount, c.connectionCount, c.taskCount) > MOST_BITS) return undefined;
    if (2 ** (2 * c.taskCount + c.connectionCount + c.partCount) > MOST_KEY) return undefined;
    // A strap stays when its toggle is undone, which the bits do not tell.
    return c.problem.tasks.some((t) => t.toggle && t.hang !== undefined) ? undefined : new States(c, e);
  }

  private constructor(c: Compiled, e: Encoding) {
    this.c = c;
    this.e = e;
    this.load = new Load(c);
    this.joins = c.joins.map(maskOf);
    this.fixed = maskWhere(c.fixed);
    this.keep = maskOf(c.keep);
    this.take = maskOf(c.take);
    this.uncarried = maskWhere(c.uncarried);
    this.without = c.steps.map((s) => maskOf(s.without));
    this.supports = c.supports.map(maskOf);
    this.must = maskWhere(c.problem.tasks.map((t) => (t.must ? 1 : 0)));
    this.strides = [2 ** c.connectionCount, 2 ** c.taskCount, 2 ** c.taskCount];
    const steps = [...c.steps.keys()].filter(
      (s) => (e.stepVariable[s] as number) >= 0 && c.problem.tasks[s - c.wayCount]?.back !== true,
    );
    const contested = steps.reduce((mask, s) => mask | (this.without[s] as number), 0);
    const toggles = c.problem.tasks.flatMap((t, i) => (t.toggle && contested & (1 << i) ? [-1 - i] : []));
    this.moves = [...steps, ...toggles];
    const called = c.problem.tasks.reduce((mask, t, i) => (t.must && t.back ? this.call([i], mask) : mask), 0);
    const start = { released: maskWhere(c.released), on: 0, called, up: 0 };
    this.reach({ ...start, cost: this.costOfCalled(called), from: undefined, event: 0 }, Number.POSITIVE_INFINITY);
  }

  /**
   * Looks at so many more states.
   *
   * @param below what an order must cost less than
   * @param tick is called again and again, and may throw to end it
   */
  search(states: number, below: number, tick?: () => void): Found {
    for (let looked = 0; looked < states; looked++) {
      if (looked % TICK === 0) tick?.();
      const at = this.queue.take();
      if (at === undefined || at.cost >= below) return { kind: "none" };
      if (at.cost > (this.least.get(this.keyOf(at)) ?? 0) || this.drops(at)) continue;
      if (this.endsRight(at)) return { kind: "order", events: eventsOf(at), cost: at.cost };
      for (const event of this.moves) this.follow(at, event, below);
    }
    return { kind: "open", cost: this.queue.leastCost() };
  }

  /** How many states are kept. */
  get size(): number {
    return this.least.size;
  }

  private keyOf({ released, on, called, up }: State): number {
    const [ofReleased, ofOn, ofCalled] = this.strides;
    return ((up * ofCalled + called) * ofOn + on) * ofReleased + released;
  }

  private reach(state: Reached, below: number): void {
    const key = this.keyOf(state);
    if (state.cost >= below || state.cost >= (this.least.get(key) ?? Number.POSITIVE_INFINITY)) return;
    this.least.set(key, state.cost);
    this.queue.add(state);
  }

  /** The state after one more step or change, where needs, states and lifts allow it. */
  private follow(at: Reached, event: Event, below: number): void {
    const { c, e } = this;
    const s = event < 0 ? c.wayCount - 1 - event : event;
    const task = s - c.wayCount;
    const step = c.steps[s] as Compiled["steps"][number];
    const bit = task < 0 ? 1 << (c.connectionOf[s] as number) : 1 << task;
    if (event < 0) {
      if ((at.on & bit) !== 0)
        this.reach({ ...at, on: at.on & ~bit, cost: at.cost + e.price(step.labour), from: at, event }, below);
      return;
    }
    if (((task < 0 ? at.released : at.on) & bit) !== 0 || (at.on & (this.without[s] as number)) !== 0) return;
    if (!holds(step.needs, (a) => this.isTrue(at, a))) return;
    const called = this.call(step.entails, at.called);
    const cost = at.cost + e.price(step.labour) + this.costOfCalled(called & ~at.called);
    if (task < 0) {
      this.reach({ ...at, released: at.released | bit, called, cost: cost + 1, from: at, event }, below);
      return;
    }
    const up = this.rising(at, task);
    if (up === undefined) return;
    this.reach({ ...at, on: at.on | bit, up: at.up | up, called, cost, from: at, event }, below);
  }

  private isTrue(at: State, atom: number): boolean {
    const { c } = this;
    if (atom < c.connectionCount) return (at.released & (1 << atom)) !== 0;
    const task = atom - c.connectionCount;
    if (task < c.taskCount) return (at.on & (1 << task)) !== 0;
    const separation = c.separations[task - c.taskCount];
    if (separation === undefined) return (at.up & (1 << ((atom - sideAtom(c, 0, 0)) % c.partCount))) !== 0;
    return (this.grow(maskOf(separation.from), this.tying(at)) & maskOf(separation.to)) === 0;
  }

  /** The parts that go up with a task that is a lift; undefined: this lift may not be made. */
  private rising(at: State, task: number): number | undefined {
    const lift = this.c.lifts.get(task);
    if (lift === undefined) return 0;
    const hook = maskOf(lift.parts);
    const group = this.grow(hook, this.tying(at));
    if ((group & (this.fixed | this.keep)) !== 0 || this.massOf(group) > lift.limit * (1 + 1e-9)) return undefined;
    return this.grow(hook, this.carrying(at)) | (group & this.uncarried);
  }

  private call(tasks: readonly number[], called: number): number {
    return tasks.reduce((mask, t) => {
      if (this.c.problem.tasks[t]?.back !== true || (mask & (1 << t)) !== 0) return mask;
      return this.call((this.c.steps[this.c.wayCount + t] as { entails: readonly number[] }).entails, mask | (1 << t));
    }, called);
  }

  private costOfCalled(called: number): number {
    return this.c.problem.tasks.reduce((sum, t, i) => (called & (1 << i) ? sum + this.e.price(t.labour) : sum), 0);
  }

  private endsRight(at: State): boolean {
    if ((this.must & ~(at.on | at.called)) !== 0 || (this.take & ~at.up) !== 0) return false;
    return [...this.c.hangs].every(([t, { taut }]) => !(at.on & (1 << t)) || (maskOf(taut) & ~at.released) === 0);
  }

  /** Whether the rule of carrying finds a part without a hold. */
  private drops(at: State): boolean {
    const { c } = this;
    const carrying = this.carrying(at);
    const supported = this.supports.reduce((mask, parts, t) => (at.on & (1 << t) ? mask | parts : mask), 0);
    const firm = this.grow(this.fixed | supported | at.up, carrying);
    for (let p = 0; p < c.partCount; p++) {
      const own = 1 << p;
      if (((firm | this.uncarried) & own) !== 0 || this.isAside(at, p)) continue;
      const body = this.grow(own, carrying);
      if (!this.hangs(at, body, firm) && !this.rests(at, body, firm)) return true;
    }
    return false;
  }

  private isAside(at: State, p: number): boolean {
    const { c } = this;
    if ((c.problem.parts[p]?.mass ?? 0) > c.problem.handLimit) return false;
    if ((c.strapsAt[p] as readonly number[]).some((t) => at.on & (1 << t))) return false;
    return (c.tiesOf[p] as readonly number[]).every((t) => at.released & (1 << t));
  }

  private hangs(at: State, body: number, firm: number): boolean {
    if (this.massOf(body) > this.c.problem.handLimit) return false;
    for (const [t, { part, to }] of this.c.hangs)
      if (at.on & (1 << t) && body & (1 << part) && firm & ~body & (1 << to)) return true;
    return false;
  }

  private rests(at: State, body: number, firm: number): boolean {
    const points = this.c.problem.connections.flatMap(({ rests, at: place }, t) => {
      const joins = this.joins[t] as number;
      const bears = rests && at.released & (1 << t) && joins & body && joins & ~body & firm;
      return bears && place !== undefined ? [[place[0], place[1]] as const] : [];
    });
    return points.length > 2 && this.load.couldRest(partsOf(body), points);
  }

  private massOf(parts: number): number {
    return partsOf(parts).reduce((sum, p) => sum + (this.c.problem.parts[p]?.mass ?? 0), 0);
  }

  /** What joins parts in a state: ties that are made, straps in force, and the vehicle itself. */
  private tying(at: State): readonly number[] {
    const tying = this.joins.filter((_, t) => !(at.released & (1 << t)));
    for (const [t, { part, to }] of this.c.hangs) if (at.on & (1 << t)) tying.push((1 << part) | (1 << to));
    return [...tying, this.fixed];
  }

  private carrying(at: State): readonly number[] {
    return this.joins.filter((_, t) => !(at.released & (1 << t)) && this.c.carries[t] === 1);
  }

  private grow(parts: number, tying: readonly number[]): number {
    for (let before = 0; before !== parts; ) {
      before = parts;
      for (const tie of tying) if (parts & tie) parts |= tie;
    }
    return parts;
  }
}

const maskOf = (numbers: readonly number[]): number => numbers.reduce((mask, n) => mask | (1 << n), 0);
const maskWhere = (marks: ArrayLike<number>): number =>
  Array.from(marks).reduce((mask, mark, n) => (mark === 1 ? mask | (1 << n) : mask), 0);

function partsOf(mask: number): number[] {
  const parts: number[] = [];
  for (let p = 0; mask >> p !== 0; p++) if (mask & (1 << p)) parts.push(p);
  return parts;
}

function eventsOf(end: Reached): Event[] {
  const events: Event[] = [];
  for (let at = end; at.from !== undefined; at = at.from) events.push(at.event);
  return events.reverse();
}

/** States by cost, the least first: a binary heap. */
class Queue {
  private readonly heap: Reached[] = [];

  leastCost(): number {
    return this.heap[0]?.cost ?? Number.POSITIVE_INFINITY;
  }

  add(state: Reached): void {
    const { heap } = this;
    let at = heap.push(state) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      const other = heap[above] as Reached;
      if (other.cost <= state.cost) break;
      heap[at] = other;
      at = above;
    }
    heap[at] = state;
  }

  take(): Reached | undefined {
    const { heap } = this;
    const first = heap[0];
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      const [left, right] = [heap[below], heap[below + 1]];
      if (left === undefined) break;
      if (right !== undefined && right.cost < left.cost) below++;
      const least = heap[below] as Reached;
      if (least.cost >= last.cost) break;
      heap[at] = least;
      at = below;
    }
    heap[at] = last;
    return first;
  }
}
