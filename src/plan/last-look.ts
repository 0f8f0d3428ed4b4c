// Owns the last look: what must be verified before the way back closes over it.
//
// A connection can be seen and reached as long as some way to release it is open: what that way needs off is off, what it needs apart is apart, the lift
// that it needs has not come back in. States of the vehicle do not count, for they can be set again. The way back only ever closes, so each
// connection has one step after which no way to it is left; it must be verified before that step.

import type { Need, Step } from "../release/index.ts";
import type { BackStep } from "./back.ts";
import type { Question } from "./question.ts";

export interface LastLook {
  /** Connections made again and work done, what is hidden first, then in their order. */
  readonly verify: readonly string[];
  /** Index of the step of the way back before which they are verified. */
  readonly before: number;
  /** The connection or the task whose return closes over them. */
  readonly closes: string;
}

/** The vehicle on its way back, as far as anything can still be reached. */
interface Opening {
  readonly open: ReadonlySet<string>;
  /** Lifts and hangs that have not come back. */
  readonly away: ReadonlySet<string>;
}

const idOf = (step: BackStep): string => {
  if ("refit" in step) return step.refit;
  if ("return" in step) return step.return;
  if ("perform" in step) return step.perform;
  return "do" in step ? step.do : step.undo;
};

class Look {
  private readonly question: Question;
  /** Tasks that stand between people and a joint when they are back: lifts and hangs. */
  private readonly closing: ReadonlySet<string>;

  constructor(question: Question) {
    this.question = question;
    this.closing = new Set(
      question.problem.tasks
        .filter((task) => task.lift !== undefined || task.hang !== undefined)
        .map((task) => task.id),
    );
  }

  /** What can be reached, by id: the needs of each way to it. */
  accesses(id: string): readonly (readonly Need[])[] {
    const connection = this.question.problem.connections.find((one) => one.id === id);
    const steps = connection === undefined ? [id] : connection.ways.map((way) => way.id);
    return steps.flatMap((step) => {
      const needs = this.question.access.get(step);
      return needs === undefined ? [] : [needs];
    });
  }

  reaches(accesses: readonly (readonly Need[])[], opening: Opening): boolean {
    return accesses.some((needs) => needs.every((need) => this.holds(need, opening)));
  }

  opening(out: readonly Step[], back: readonly BackStep[]): readonly Opening[] {
    const open = new Set(this.question.problem.released);
    const away = new Set<string>();
    for (const step of out) {
      if ("release" in step) open.add(step.release);
      else if ("do" in step && this.closing.has(step.do)) away.add(step.do);
    }
    const after: Opening[] = [];
    for (const step of back) {
      if ("refit" in step) open.delete(step.refit);
      else if ("return" in step) away.delete(step.return);
      after.push({ open: new Set(open), away: new Set(away) });
    }
    return after;
  }

  private holds(need: Need, { open, away }: Opening): boolean {
    if ("released" in need) return open.has(need.released);
    if ("done" in need) return !this.closing.has(need.done) || away.has(need.done);
    if ("all" in need) return need.all.every((one) => this.holds(one, { open, away }));
    if ("any" in need) return need.any.some((one) => this.holds(one, { open, away }));
    const joined = [
      ...this.question.problem.connections.filter((one) => !open.has(one.id)).map((one) => one.joins),
      ...this.question.problem.tasks.flatMap((task) =>
        task.hang !== undefined && away.has(task.id) ? [[task.hang.part, task.hang.to]] : [],
      ),
    ];
    const reached = new Set(need.apart[0]);
    for (let before = -1; before < reached.size; ) {
      before = reached.size;
      for (const joins of joined)
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
  const look = new Look(question);
  const after = look.opening(out, back);
  const work = out.flatMap((step) => ("do" in step && question.sources.get(step.do)?.kind === "work" ? [step.do] : []));
  const made = [
    ...work.map((id) => ({ id, at: -1 })),
    ...back.flatMap((step, at) => ("refit" in step ? [{ id: step.refit, at }] : [])),
  ];
  const before = new Map<number, string[]>();
  for (const { id, at } of made) {
    const accesses = look.accesses(id);
    const closes = after.findIndex((opening, index) => index > at && !look.reaches(accesses, opening));
    if (closes >= 0) before.set(closes, [...(before.get(closes) ?? []), id]);
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
