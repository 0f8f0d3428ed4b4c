// Owns the search for an order that changes position as few times as it can, among the legal ones that cost no more than asked.
//
// Layer by layer, one visit to a position each: whatever can be done there is done, toggles are tried where they stand, equal moments are met
// once, and of the rest the furthest on are kept. So it may miss an order; who asks has one to fall back on.

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

export interface Arranged {
  /** Absent when none was found within the labour and the visits. */
  readonly order?: readonly Step[];
  /** No order of these steps has fewer runs of steps at one position. */
  readonly fewest: number;
}

/** Moments kept a visit, for plans of some hundred steps; fewer for longer ones, to keep the whole within about a second. */
const WIDTH = 40;
const STEPS_AT_WIDTH = 100;

interface Node {
  readonly moment: Moment;
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

const keyOf = ({ moment, where }: Node): string =>
  `${String.fromCharCode(...moment.made)}${String.fromCharCode(...moment.on)}${where ?? ""}`;

const madeIn = ({ made }: Moment): number => made.reduce((sum, one) => sum + one, 0);

const traced = (end: Node): readonly Step[] => {
  const runs: (readonly Step[])[] = [];
  for (let node: Node | undefined = end; node !== undefined; node = node.before) runs.push(node.steps);
  return runs.reverse().flat();
};

class Search {
  private readonly walk: Walk;
  private readonly ask: Arrangement;
  private readonly positions: readonly string[];
  private readonly before: readonly number[];

  constructor(ask: Arrangement, walk: Walk) {
    this.ask = ask;
    this.walk = walk;
    this.positions = [...new Set([...walk.moves, ...walk.toggles].flatMap((one) => one.position ?? []))];
    this.before = walk.moves.filter((move) => !ask.last.has(move.id)).map((move) => move.index);
  }

  run(): readonly Step[] | undefined {
    const width = Math.max(1, Math.round((WIDTH * STEPS_AT_WIDTH) / Math.max(STEPS_AT_WIDTH, this.walk.moves.length)));
    const seen = new Map<string, Node>();
    const start = { moment: this.walk.start(), where: undefined, labour: 0, switches: 0, before: undefined, steps: [] };
    let layer = this.settle([this.close(start, undefined, true)], seen);
    for (let visit = 0; visit <= this.ask.visits && layer.length > 0; visit++) {
      const end = layer.filter((node) => this.isEnd(node)).sort(better)[0];
      if (end !== undefined) return traced(end);
      const kept = layer.sort((a, b) => madeIn(b.moment) - madeIn(a.moment) || better(a, b)).slice(0, width);
      layer = this.settle(
        kept.flatMap((node) => this.visits(node)),
        seen,
      );
    }
    return undefined;
  }

  /** Adds what turning toggles where they stand leads to; drops what was met before at no more labour. */
  private settle(found: readonly Node[], seen: Map<string, Node>): Node[] {
    const fresh = new Map<string, Node>();
    const open = [...found];
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      const key = keyOf(node);
      const known = seen.get(key);
      if (known !== undefined && better(known, node) <= 0) continue;
      seen.set(key, node);
      // A visit at which nothing is done is none, unless a toggle is turned there.
      if (node.steps.length > 0 || node.before === undefined) fresh.set(key, node);
      for (const toggle of this.walk.toggles) {
        if (toggle.position !== undefined && toggle.position !== node.where) continue;
        const labour = node.labour + toggle.labour;
        const moment =
          labour > this.ask.labour + 1e-9 ? undefined : this.walk.turn(node.moment, toggle.index, this.ask.bothWays);
        if (moment === undefined) continue;
        const step = moment.on[toggle.index] === 1 ? { do: toggle.id } : { undo: toggle.id };
        const turned = { moment, where: node.where, labour, switches: node.switches + 1, before: node, steps: [step] };
        open.push(...this.closings(turned, node.where));
      }
    }
    return [...fresh.values()];
  }

  private visits(node: Node): readonly Node[] {
    return this.positions.flatMap((position) =>
      position === node.where ? [] : this.closings({ ...node, where: position, before: node, steps: [] }, position),
    );
  }

  /** Everything done that can be done here; and the same without what carries, where that may be wanted for later. */
  private closings(node: Node, position: string | undefined): readonly Node[] {
    const all = this.close(node, position, true);
    const light = this.close(node, position, false);
    return keyOf(all) === keyOf(light) ? [all] : [all, light];
  }

  private close(node: Node, position: string | undefined, carrying: boolean): Node {
    let moment = node.moment;
    const steps: Step[] = [];
    for (let more = true; more; ) {
      more = false;
      for (const move of this.walk.moves) {
        if (moment.made[move.index] === 1 || (move.position !== undefined && move.position !== position)) continue;
        if (move.carrying && !carrying) continue;
        if (this.ask.last.has(move.id) && this.before.some((index) => moment.made[index] === 0)) continue;
        const after = this.walk.make(moment, move.index);
        if (after === undefined) continue;
        moment = after;
        steps.push(move.step);
        more = true;
      }
    }
    return { ...node, moment, steps: [...node.steps, ...steps] };
  }

  private isEnd({ moment }: Node): boolean {
    const { ends } = this.ask;
    return (
      !moment.made.includes(0) &&
      (ends === undefined || this.walk.toggles.every(({ id, index }) => (moment.on[index] === 1) === ends.has(id)))
    );
  }
}

/** The steps in an order with as few visits as the search finds. */
export const arrange = (ask: Arrangement): Arranged => {
  const walk = new Walk(ask.problem, ask.steps);
  const order = new Search(ask, walk).run();
  return { ...(order === undefined ? {} : { order }), fewest: fewestVisits(ask, walk.moves, walk.toggles) };
};
