// Owns the search for an order that changes position as few times as it can, among the legal ones that cost no more than asked.
//
// Layer by layer, one visit to a position each: whatever can be done there is done, toggles are tried where they stand, and the moments furthest on are
// kept. So it may miss an order; who asks has one to fall back on.

import type { Problem, Step } from "../release/index.ts";
import { type Ask, fewestVisits } from "./fewest.ts";
import { type Moment, Walk } from "./walk.ts";

/** What is to be put in order. */
export interface Arrangement extends Ask {
  readonly problem: Problem;
  /** Every step at least once, toggles too; where the rules leave it open, steps at one position keep this order. */
  readonly steps: readonly Step[];
  /** Tasks that come after all other steps, toggles aside. */
  readonly last: ReadonlySet<string>;
  /** The order is to be read backwards as well: undoing a toggle asks for what setting it asks for. */
  readonly bothWays: boolean;
  /** Toggles that are on at the end and no others; absent: as it falls. */
  readonly ends?: ReadonlySet<string>;
  /** Minutes that turning toggles may cost in all. */
  readonly labour: number;
  /** Runs of steps at one position, at most. */
  readonly visits: number;
}

/** Moments kept a visit for each state of the vehicle and what turning has cost, for plans of some hundred steps; fewer for longer ones. */
const WIDTH = 16;
const STEPS_AT_WIDTH = 100;

interface Node {
  readonly moment: Moment;
  /** The moves made, as bits; and those of them that release what carries. */
  readonly made: bigint;
  readonly bared: bigint;
  readonly count: number;
  readonly where: string | undefined;
  readonly labour: number;
  readonly switches: number;
  readonly before: Node | undefined;
  readonly steps: readonly Step[];
}

export const idOf = (step: Step): string => ("release" in step ? step.release : "do" in step ? step.do : step.undo);

/** The position of every step of an order, by its index; undefined where it does not matter. */
export const positionsOf = (problem: Problem, order: readonly Step[]): readonly (string | undefined)[] => {
  const tasks = new Map(problem.tasks.map((task) => [task.id, task.position]));
  const ways = new Map(problem.connections.flatMap((one) => one.ways.map((way) => [way.id, way.position] as const)));
  return order.map((step) => ("release" in step ? ways.get(step.way) : tasks.get(idOf(step))));
};

/** Minutes that turning toggles costs in an order. */
export const turningLabour = (problem: Problem, order: readonly Step[]): number => {
  const labour = new Map(problem.tasks.flatMap((task) => (task.toggle ? [[task.id, task.labour] as const] : [])));
  return order.reduce((sum, step) => sum + (labour.get(idOf(step)) ?? 0), 0);
};

/** How many runs of steps at one position an order has; steps without a position go with any. */
export const visitsOf = (problem: Problem, order: readonly Step[]): number => {
  const positions = positionsOf(problem, order).filter((position) => position !== undefined);
  return positions.filter((position, index) => position !== positions[index - 1]).length;
};

const better = (a: Node, b: Node): number => a.labour - b.labour || a.switches - b.switches;

const stateOf = ({ moment }: Node): string => moment.on.join("");

const traced = (end: Node): readonly Step[] => {
  const runs: (readonly Step[])[] = [];
  for (let node: Node | undefined = end; node !== undefined; node = node.before) runs.push(node.steps);
  return runs.reverse().flat();
};

/**
 * Everything that can be done at a position is done there, and of two moments in the same state of the vehicle the one with more made is the better.
 * That is right of all rules but the carrying: a mount released early may leave too little for later. So there is a careful search as well, which may leave
 * what carries for a later visit, and weighs moments against each other only where the same carries.
 */
class Search {
  private readonly walk: Walk;
  private readonly ask: Arrangement;
  private readonly careful: boolean;
  private readonly positions: readonly string[];
  private readonly before: readonly number[];
  private readonly width: number;

  constructor(ask: Arrangement, walk: Walk, careful: boolean) {
    this.ask = ask;
    this.walk = walk;
    this.careful = careful;
    this.positions = [...new Set([...walk.moves, ...walk.toggles].flatMap((one) => one.position ?? []))];
    this.before = walk.moves.filter((move) => !ask.last.has(move.id)).map((move) => move.index);
    this.width = Math.max(1, Math.round((WIDTH * STEPS_AT_WIDTH) / Math.max(STEPS_AT_WIDTH, walk.moves.length)));
  }

  run(): readonly Step[] | undefined {
    const start: Node = {
      moment: this.walk.start(),
      made: 0n,
      bared: 0n,
      count: 0,
      where: undefined,
      labour: 0,
      switches: 0,
      before: undefined,
      steps: [],
    };
    let layer = this.settle([this.close(start, undefined, true)]);
    for (let visit = 0; visit <= this.ask.visits && layer.length > 0; visit++) {
      const end = layer.filter((node) => this.isEnd(node)).sort(better)[0];
      if (end !== undefined) return traced(end);
      layer = this.settle(this.foremost(layer).flatMap((node) => this.visits(node)));
    }
    return undefined;
  }

  /** The moments to go on from: of each state of the vehicle the furthest on, without those that another is as good as. */
  private foremost(layer: readonly Node[]): readonly Node[] {
    const asGood = (a: Node, b: Node) => (a.made & b.made) === b.made && (!this.careful || a.bared === b.bared);
    const kept = new Map<string, Node[]>();
    for (const node of layer.toSorted((a, b) => better(a, b) || b.count - a.count)) {
      const state = stateOf(node);
      const rivals = [...kept].flatMap(([key, nodes]) => (key.startsWith(`${state} `) ? nodes : []));
      const key = `${state} ${node.labour}`;
      const same = kept.get(key) ?? [];
      if (same.length >= this.width || rivals.some((other) => asGood(other, node))) continue;
      kept.set(key, [...same, node]);
    }
    return [...kept.values()].flat();
  }

  /** Adds what turning toggles where they stand leads to. */
  private settle(found: readonly Node[]): readonly Node[] {
    const met = new Map<string, Node>();
    const open = [...found];
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      const key = `${stateOf(node)} ${node.made} ${node.where ?? ""}`;
      const known = met.get(key);
      if (known !== undefined && better(known, node) <= 0) continue;
      met.set(key, node);
      for (const toggle of this.walk.toggles) {
        if (toggle.position !== undefined && toggle.position !== node.where) continue;
        const labour = node.labour + toggle.labour;
        const may = labour <= this.ask.labour + 1e-9;
        const moment = may ? this.walk.turn(node.moment, toggle.index, this.ask.bothWays) : undefined;
        if (moment === undefined) continue;
        const step = moment.on[toggle.index] === 1 ? { do: toggle.id } : { undo: toggle.id };
        const turned = { ...node, moment, labour, switches: node.switches + 1, before: node, steps: [step] };
        open.push(...this.closings(turned, node.where));
      }
    }
    // A visit at which nothing is done is none, unless a toggle is turned there.
    return [...met.values()].filter((node) => node.steps.length > 0 || node.before === undefined);
  }

  private visits(node: Node): readonly Node[] {
    return this.positions.flatMap((position) =>
      position === node.where ? [] : this.closings({ ...node, where: position, before: node, steps: [] }, position),
    );
  }

  /** Everything done that can be done here; in the careful search also the same without what carries. */
  private closings(node: Node, position: string | undefined): readonly Node[] {
    const all = this.close(node, position, true);
    if (!this.careful) return [all];
    const light = this.close(node, position, false);
    return all.made === light.made ? [all] : [all, light];
  }

  private close(node: Node, position: string | undefined, carrying: boolean): Node {
    let { moment, made, bared, count } = node;
    const steps: Step[] = [];
    for (let more = true; more; ) {
      more = false;
      for (const move of this.walk.moves) {
        if (moment.made[move.index] === 1 || (move.position !== undefined && move.position !== position)) continue;
        if (move.carrying && !carrying) continue;
        if (this.ask.last.has(move.id) && this.before.some((index) => moment.made[index] === 0)) continue;
        const after = this.walk.make(moment, move.index);
        if (after === undefined) continue;
        const bit = 1n << BigInt(move.index);
        moment = after;
        made |= bit;
        if (move.carrying) bared |= bit;
        count++;
        steps.push(move.step);
        more = true;
      }
    }
    return { ...node, moment, made, bared, count, steps: [...node.steps, ...steps] };
  }

  private isEnd({ moment }: Node): boolean {
    const { ends } = this.ask;
    const as = (id: string, index: number) => ends === undefined || (moment.on[index] === 1) === ends.has(id);
    return !moment.made.includes(0) && this.walk.toggles.every(({ id, index }) => as(id, index));
  }
}

/** Where an order stands: its moment, and whether a step that comes after all others is made. */
interface Standing {
  readonly moment: Moment;
  readonly late: boolean;
}

/** Longer orders are left as they were found. */
const LONG = 400;

/** Longer ones than this are not searched at all: nobody walks through them by hand. */
const LONGEST = 3000;

/**
 * The same order with weight taken, straps put on, what carries heavy parts released and states set as late as its visits allow, and states undone as early; on
 * the way back the sling is then off, and the mounts are on, as early. A power unit may sit on unbolted mounts, or hang in its sling, while the vehicle is
 * raised, and the vehicle may stay raised for the test run; nobody would choose it.
 */
class Delay {
  private readonly walk: Walk;
  private readonly ask: Arrangement;
  private readonly moveOf: ReadonlyMap<string, number>;
  private readonly toggleOf: ReadonlyMap<string, number>;
  private readonly positionOf: ReadonlyMap<string, string | undefined>;

  constructor(ask: Arrangement, walk: Walk) {
    this.ask = ask;
    this.walk = walk;
    this.moveOf = new Map(walk.moves.map((move) => [move.id, move.index]));
    this.toggleOf = new Map(walk.toggles.map((toggle) => [toggle.id, toggle.index]));
    this.positionOf = new Map([...walk.moves, ...walk.toggles].map(({ id, position }) => [id, position]));
  }

  wait(found: readonly Step[]): readonly Step[] {
    if (found.length > LONG) return found;
    let order = found;
    for (const step of found) if ("undo" in step) order = this.shift(order, step, "early");
    for (const step of found.toReversed()) {
      const late = "do" in step && this.toggleOf.has(step.do);
      if (late || this.walk.moves[this.moveOf.get(idOf(step)) ?? -1]?.late === true)
        order = this.shift(order, step, "late");
    }
    return order;
  }

  /** The step as late, or as early, as it can be: beside another at its own position, or anywhere when it has none. */
  private shift(order: readonly Step[], step: Step, toward: "late" | "early"): readonly Step[] {
    const from = order.indexOf(step);
    const rest = order.toSpliced(from, 1);
    // Before each step of the rest, as far as it can be made without the shifted one: beyond that no slot is legal.
    const before: Standing[] = [{ moment: this.walk.start(), late: false }];
    for (const one of rest) {
      const after = this.next(before[before.length - 1], one);
      if (after === undefined) break;
      before.push(after);
    }
    const slots = toward === "late" ? [...before.keys()].slice(from + 1).reverse() : [...before.keys()].slice(0, from);
    const visits = this.visitsOf(order);
    const own = this.positionOf.get(idOf(step));
    for (const to of slots) {
      const beside = rest[toward === "late" ? to - 1 : to];
      if (own !== undefined && (beside === undefined || this.positionOf.get(idOf(beside)) !== own)) continue;
      const moved = rest.toSpliced(to, 0, step);
      if (this.visitsOf(moved) <= visits && this.isLegal(before[to], moved.slice(to))) return moved;
    }
    return order;
  }

  private visitsOf(order: readonly Step[]): number {
    let [visits, where]: [number, string | undefined] = [0, undefined];
    for (const step of order) {
      const position = this.positionOf.get(idOf(step));
      if (position === undefined || position === where) continue;
      visits++;
      where = position;
    }
    return visits;
  }

  private isLegal(from: Standing | undefined, steps: readonly Step[]): boolean {
    let now = from;
    for (const step of steps) {
      now = this.next(now, step);
      if (now === undefined) return false;
    }
    return true;
  }

  /** After a step; undefined where it may not be made. */
  private next(now: Standing | undefined, step: Step): Standing | undefined {
    if (now === undefined) return undefined;
    const id = idOf(step);
    const toggle = this.toggleOf.get(id);
    const move = this.moveOf.get(id);
    const last = this.ask.last.has(id);
    if (move !== undefined && now.late && !last) return undefined;
    const { moment } = now;
    const after =
      toggle !== undefined
        ? this.walk.turn(moment, toggle, this.ask.bothWays)
        : move === undefined
          ? undefined
          : this.walk.make(moment, move);
    return after === undefined ? undefined : { moment: after, late: now.late || last };
  }
}

/** The steps in an order with as few visits as the search finds; undefined when it finds none within the labour and the visits. */
export const arrange = (ask: Arrangement): readonly Step[] | undefined => {
  if (ask.steps.length > LONGEST) return undefined;
  const walk = new Walk(ask.problem, ask.steps);
  const found = new Search(ask, walk, false).run() ?? new Search(ask, walk, true).run();
  return found === undefined ? undefined : new Delay(ask, walk).wait(found);
};

/** No order of these steps has fewer visits than this. */
export const fewestFor = (ask: Arrangement): number => {
  if (ask.steps.length > LONGEST) return new Set(positionsOf(ask.problem, ask.steps)).size - 1;
  const walk = new Walk(ask.problem, ask.steps);
  return fewestVisits(ask, walk.moves, walk.toggles);
};
