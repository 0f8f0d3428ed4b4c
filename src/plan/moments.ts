// Owns the moments of one legal order: after how many of its steps each thing is made, up, on, and which parts are then tied or carried together.

import type { Connection, Problem, Step } from "../release/index.ts";
import { idOf } from "./arrange.ts";

/** A toggle from when it is set until before it is undone, in steps made. */
interface Spell {
  readonly from: number;
  /** Infinity: not undone in this order. */
  readonly until: number;
}

/**
 * Looks an order up by moments: moment k is after its first k steps. What is made at a moment stays made to the end of the order, but for toggles.
 */
export class Moments {
  readonly problem: Problem;
  readonly order: readonly Step[];
  readonly connections: ReadonlyMap<string, Connection>;
  readonly toggles: ReadonlySet<string>;
  private readonly madeAt = new Map<string, number>();
  private readonly spells = new Map<string, Spell[]>();

  constructor(problem: Problem, order: readonly Step[]) {
    this.problem = problem;
    this.order = order;
    this.connections = new Map(problem.connections.map((one) => [one.id, one]));
    this.toggles = new Set(problem.tasks.filter((task) => task.toggle).map((task) => task.id));
    for (const id of problem.released) this.madeAt.set(id, 0);
    for (const [index, step] of order.entries()) {
      const id = idOf(step);
      if (!this.toggles.has(id) || "release" in step) this.madeAt.set(id, index + 1);
      else if ("do" in step)
        this.spells.set(id, [...this.spellsOf(id), { from: index + 1, until: Number.POSITIVE_INFINITY }]);
      else {
        const [last, ...earlier] = this.spellsOf(id).toReversed();
        if (last !== undefined) this.spells.set(id, [...earlier.toReversed(), { ...last, until: index + 1 }]);
      }
    }
  }

  /** The moment from which it is made; Infinity: never in this order. Of a connection released before: 0. */
  from(id: string): number {
    return this.madeAt.get(id) ?? Number.POSITIVE_INFINITY;
  }

  /** Made by a step of this order, not before it. */
  isStep(id: string): boolean {
    return Number.isFinite(this.from(id)) && this.from(id) > 0;
  }

  spellsOf(toggle: string): readonly Spell[] {
    return this.spells.get(toggle) ?? [];
  }

  /** The spell of a toggle that is on at a moment. */
  spellAt(toggle: string, moment: number): Spell | undefined {
    return this.spellsOf(toggle).find(({ from, until }) => from <= moment && moment < until);
  }

  /** The hangs of the order that are in force at a moment. */
  hangsAt(moment: number): readonly (readonly [string, string])[] {
    return this.problem.tasks.flatMap(({ id, hang }) =>
      hang !== undefined && this.from(id) <= moment ? [[hang.part, hang.to] as const] : [],
    );
  }

  /** Parts that ties join to a start, over what `holds` says is still made, and over these pairs. */
  reach(
    start: readonly string[],
    holds: (connection: Connection) => boolean,
    pairs: readonly (readonly [string, string])[] = [],
  ): ReadonlySet<string> {
    const reached = new Set(start);
    // The fixed parts are the vehicle itself.
    const fixed = this.problem.parts.filter((part) => part.fixed).map((part) => part.id);
    const made = [...this.problem.connections.filter(holds).map((one) => one.joins), ...pairs, fixed];
    for (let before = -1; before < reached.size; ) {
      before = reached.size;
      for (const joins of made)
        if (joins.some((part) => reached.has(part))) for (const part of joins) reached.add(part);
    }
    return reached;
  }
}
