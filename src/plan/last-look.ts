// Owns the last look: what must be verified before the way back closes over it.
//
// A connection can be seen and reached as long as some way to release it is open: what that way needs off is off, what it needs apart is apart, the lift
// that it needs has not come back in. States of the vehicle do not count, for they can be set again. The way back only ever closes, so each
// connection has one step after which no way to it is left; it must be verified before that step.

import type { Connection, Need, Step, Task } from "../release/index.ts";
import type { BackStep } from "./back-step.ts";
import type { Question } from "./question.ts";

export interface LastLook {
  /** Connections made again, and work of which the file says what to look at; what is hidden first, then in their order. */
  readonly verify: readonly string[];
  /** Index of the step of the way back before which they are verified. */
  readonly before: number;
  /** The connection or the task whose return closes over them. */
  readonly closes: string;
}

const idOf = (step: BackStep): string => {
  if ("refit" in step) return step.refit;
  if ("return" in step) return step.return;
  if ("perform" in step) return step.perform;
  return "do" in step ? step.do : step.undo;
};

/** What can still be reached after each step of the way back. */
class Look {
  private readonly question: Question;
  private readonly connections: ReadonlyMap<string, Connection>;
  /** Tasks that stand between people and a joint when they are back: lifts and hangs. */
  private readonly closing: ReadonlyMap<string, Task>;
  /** By connection, lift and hang: the step that brings it back; none for what is never away. */
  private readonly backAt = new Map<string, number>();

  constructor(question: Question, out: readonly Step[], back: readonly BackStep[]) {
    this.question = question;
    const { problem } = question;
    this.connections = new Map(problem.connections.map((one) => [one.id, one]));
    this.closing = new Map(
      problem.tasks.flatMap((task) => (task.lift !== undefined || task.hang !== undefined ? [[task.id, task]] : [])),
    );
    for (const id of problem.released) this.backAt.set(id, Number.POSITIVE_INFINITY);
    for (const step of out) {
      if ("release" in step) this.backAt.set(step.release, Number.POSITIVE_INFINITY);
      else if ("do" in step && this.closing.has(step.do)) this.backAt.set(step.do, Number.POSITIVE_INFINITY);
    }
    for (const [index, step] of back.entries())
      if ("refit" in step || "return" in step) this.backAt.set(idOf(step), index);
  }

  /**
   * The first step after `from` that closes over a connection or a work; undefined when none does. What is open only ever closes, so halving
   * what is left finds it.
   */
  closesOver(id: string, from: number, steps: number): number | undefined {
    const ways = this.connections.get(id)?.ways.map((way) => way.id) ?? [id];
    const accesses = ways.flatMap((way) => {
      const needs = this.question.access.get(way);
      return needs === undefined ? [] : [needs];
    });
    const reached = (step: number) => accesses.some((needs) => needs.every((need) => this.holds(need, step)));
    if (reached(steps - 1)) return undefined;
    let [open, closed] = [from, steps - 1];
    while (closed - open > 1) {
      const middle = Math.floor((open + closed) / 2);
      if (reached(middle)) open = middle;
      else closed = middle;
    }
    return closed;
  }

  private isAway(id: string, step: number): boolean {
    return (this.backAt.get(id) ?? Number.NEGATIVE_INFINITY) > step;
  }

  private holds(need: Need, step: number): boolean {
    if ("released" in need) return this.isAway(need.released, step);
    if ("done" in need) return !this.closing.has(need.done) || this.isAway(need.done, step);
    if ("all" in need) return need.all.every((one) => this.holds(one, step));
    if ("any" in need) return need.any.some((one) => this.holds(one, step));
    const made = [...this.connections.values()].filter((one) => !this.isAway(one.id, step)).map((one) => one.joins);
    const hung = [...this.closing.values()].flatMap(({ id, hang }) =>
      hang !== undefined && this.isAway(id, step) ? [[hang.part, hang.to]] : [],
    );
    const reached = new Set(need.apart[0]);
    for (let before = -1; before < reached.size; ) {
      before = reached.size;
      for (const joins of [...made, ...hung])
        if (joins.some((part) => reached.has(part))) for (const part of joins) reached.add(part);
    }
    return !need.apart[1].some((part) => reached.has(part));
  }
}

/**
 * What must be verified before which step of the way back. Connections that stay within reach to the end are in none.
 *
 * @param out the steps out and of the work.
 * @param back the steps of the way back.
 */
export const lastLooks = (question: Question, out: readonly Step[], back: readonly BackStep[]): readonly LastLook[] => {
  const look = new Look(question, out, back);
  const work = out.flatMap((step) => {
    const source = "do" in step ? question.sources.get(step.do) : undefined;
    return "do" in step && source?.kind === "work" && source.work.check !== undefined ? [step.do] : [];
  });
  const made = [
    ...work.map((id) => ({ id, at: -1 })),
    ...back.flatMap((step, at) => ("refit" in step ? [{ id: step.refit, at }] : [])),
  ];
  const before = new Map<number, string[]>();
  for (const { id, at } of made) {
    const closes = at === back.length - 1 ? undefined : look.closesOver(id, at, back.length);
    if (closes !== undefined) before.set(closes, [...(before.get(closes) ?? []), id]);
  }
  const hidden = new Set(question.vehicle.connections.filter((one) => one.hidden).map((one) => one.id));
  return [...before]
    .sort(([a], [b]) => a - b)
    .map(([index, ids]) => ({
      verify: ids.toSorted((a, b) => Number(hidden.has(b)) - Number(hidden.has(a))),
      before: index,
      closes: idOf(back[index]!),
    }));
};
