// Owns the question of the way back: a problem whose orders out, read backwards, are the orders back.
//
// Refitting is releasing seen in a mirror: what had to be off before a release is still off when it is refitted, what carried before it carries after it. So
// a way back is found and checked as a way out. What the way back asks beyond the mirror (refit this after that, fill when all hoses are on, bleed after the
// pump) becomes a need of the later step of the mirror: "b comes back after a" is "a's release waits for b's", read backwards.

import type { Task as AskedTask, Way as AskedWay, Need, Problem, Step, Verdict } from "../release/index.ts";
import type { Task } from "../vehicle/index.ts";
import { idOf } from "./arrange.ts";
import { ALWAYS, NEVER } from "./needs.ts";
import type { Question } from "./question.ts";
import { refitOf } from "./refit.ts";
import { sidesOfLifts, withNeeds } from "./sequence.ts";

export interface Mirror {
  readonly problem: Problem;
  /** Every step of the mirror, toggles at least once; the order out as it was, where that can be kept. */
  readonly steps: readonly Step[];
  /** Toggles that are on when the way back begins. */
  readonly ends: ReadonlySet<string>;
}

/** Whether a task is undone on the way back: by its `back`, as the mirror of a lift or a support, or because something put in for it must come out. */
const returns = (task: Task): boolean =>
  task.undo === undefined &&
  task.phase === "out" &&
  (task.back !== undefined || task.lifts.length > 0 || task.supports.length > 0 || task.temporary.length > 0);

/** Where the return of a task is done. */
const returnPosition = (task: Task): string | undefined => task.back?.at ?? task.at;

/**
 * The ids of `first` that may not be back yet when a task of the way back is done: all, unless it is said to come after one, or after what itself comes
 * back later still, through whatever calls for it or it needs.
 *
 * @param callers the connections whose refit calls for a task.
 * @param place where each step stands in the order out.
 */
const openFirst = (
  question: Question,
  task: Task,
  tasks: ReadonlyMap<string, Task>,
  callers: (task: string) => readonly string[],
  place: ReadonlyMap<string, number>,
): readonly string[] => {
  const { first } = question.vehicle;
  const before = new Set<string>();
  const open = [task];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    const needed = one.needs.flatMap((need) => ("id" in need && tasks.get(need.id)?.phase === "back" ? [need.id] : []));
    for (const id of [...one.after, ...needed, ...callers(one.id)]) {
      if (before.has(id)) continue;
      before.add(id);
      const called = tasks.get(id);
      if (called?.phase === "back") open.push(called);
    }
  }
  const at = (id: string) => place.get(id) ?? Number.POSITIVE_INFINITY;
  const back = first.findIndex((id) => [...before].some((one) => one === id || at(one) < at(id)));
  return back < 0 ? first : first.slice(0, back);
};

/** The mirror of an order that was carried out, with what the way back asks beyond it. */
class Maker {
  private readonly question: Question;
  private readonly order: readonly Step[];
  private readonly verdict: Verdict;
  private readonly tasks: ReadonlyMap<string, Task>;
  private readonly wayOf: ReadonlyMap<string, string>;
  private readonly called: readonly Task[];
  /** Ids of the mirror's steps that are made once: connections, tasks with a return, hangs, tasks of the way back. */
  private readonly once: ReadonlySet<string>;
  private readonly toggles = new Set<string>();
  private readonly needs = new Map<string, Need[]>();
  private readonly offFor = new Map<string, string[]>();

  private readonly withAfter: boolean;

  constructor(question: Question, order: readonly Step[], verdict: Verdict, withAfter: boolean) {
    this.withAfter = withAfter;
    this.question = question;
    this.order = order;
    this.verdict = verdict;
    this.tasks = new Map(question.vehicle.tasks.map((task) => [task.id, task]));
    this.wayOf = new Map(verdict.released.map(({ id, way }) => [id, way]));
    this.called = verdict.tasks.flatMap((id) => {
      const task = this.tasks.get(id);
      return task?.phase === "back" ? [task] : [];
    });
    for (const step of order) if (this.tasks.get(idOf(step))?.undo !== undefined) this.toggles.add(idOf(step));
    const kept = order.filter((step) => "release" in step || this.comesBack(idOf(step))).map(idOf);
    this.once = new Set([...kept, ...this.called.map((task) => task.id)]);
  }

  make(): Mirror {
    this.askBeyond();
    const { problem, sources } = this.question;
    const connections = problem.connections.map((one) => {
      const chosen = one.ways.find((way) => way.id === this.wayOf.get(one.id));
      return { ...one, ways: chosen === undefined ? [] : [this.way(one.id, chosen)] };
    });
    const tasks: AskedTask[] = [];
    for (const task of problem.tasks) {
      const source = sources.get(task.id);
      if (this.once.has(task.id)) tasks.push(this.task(task, source?.kind === "task" ? source.task : undefined));
    }
    // Tasks of the way back may call for states of the vehicle that the way out never set.
    const byId = new Map(problem.tasks.map((task) => [task.id, task]));
    for (const toggle of this.toggles) {
      const task = byId.get(toggle);
      if (task === undefined) continue;
      // What comes first of all comes back last of all that is refitted; the vehicle may still be raised after it, to bleed or to test.
      const needs = this.question.access.get(toggle) ?? task.needs;
      tasks.push({ ...task, needs: needs.map((need) => this.mirrored(need, false)) });
    }
    const lifts = sidesOfLifts(problem, this.order, this.verdict.lifts);
    for (const [id, needs] of lifts) this.needs.set(id, [...(this.needs.get(id) ?? []), ...needs]);
    const done = this.order.filter((step) => this.once.has(idOf(step)) || this.toggles.has(idOf(step)));
    const met = new Set(done.map(idOf));
    const added = [...this.called.map((task) => task.id), ...this.toggles].filter((id) => !met.has(id));
    const ends = new Set<string>();
    for (const step of this.order) {
      if ("do" in step && this.toggles.has(step.do)) ends.add(step.do);
      if ("undo" in step) ends.delete(step.undo);
    }
    const without = {
      ...problem,
      connections,
      tasks: tasks.map((task) => ({ ...task, without: [...task.without, ...(this.offFor.get(task.id) ?? [])] })),
      take: [],
    };
    return { problem: withNeeds(without, this.needs), steps: [...added.map((id) => ({ do: id })), ...done], ends };
  }

  private comesBack(id: string): boolean {
    const source = this.question.sources.get(id);
    return source?.kind === "hang" || (source?.kind === "task" && returns(source.task));
  }

  /** Everything that comes back after something else, as needs of the mirror. */
  private askBeyond(): void {
    const { vehicle, sources } = this.question;
    const place = new Map(this.order.map((step, index) => [idOf(step), index]));
    const released = vehicle.connections.filter((one) => this.wayOf.has(one.id));
    const calls = new Map<string, readonly string[]>();
    for (const connection of released) {
      const source = sources.get(this.wayOf.get(connection.id) ?? "");
      if (source?.kind !== "way") continue;
      const refit = refitOf(connection, source.way);
      calls.set(connection.id, refit.calls);
      this.after(connection.id, refit.after);
      for (const id of refit.calls) if (this.once.has(id)) this.ask(connection.id, { done: id });
    }
    const callers = (task: string) => [...calls].flatMap(([id, called]) => (called.includes(task) ? [id] : []));
    for (const task of this.called) {
      this.after(task.id, task.after);
      for (const need of task.needs)
        if ("id" in need && this.called.some((one) => one.id === need.id)) this.ask(need.id, { done: task.id });
      for (const id of openFirst(this.question, task, this.tasks, callers, place))
        if (this.once.has(id)) this.ask(task.id, this.made(id));
    }
    for (const task of this.tasks.values()) {
      if (!this.once.has(task.id) || task.phase === "back") continue;
      this.after(task.id, task.back?.after ?? []);
      const drained = released.filter((one) => one.holds !== undefined && task.drains.includes(one.holds.fluid));
      // A drain plug is itself released for the draining; whatever was opened before it was drained is not held to it.
      for (const one of drained)
        if ((place.get(one.id) ?? 0) > (place.get(task.id) ?? 0)) this.ask(one.id, { done: task.id });
      if (task.supports.length > 0) this.holdUntilCarried(task, place);
    }
  }

  /** A support stays until everything that carried what it holds, and was released under it, carries again. */
  private holdUntilCarried(task: Task, place: ReadonlyMap<string, number>): void {
    const held = new Set(task.supports);
    for (const { parts } of this.verdict.lifts)
      if (parts.some((part) => held.has(part))) for (const part of parts) held.add(part);
    for (const one of this.question.vehicle.connections) {
      if (!one.carrying || !one.joins.some((part) => held.has(part))) continue;
      if ((place.get(one.id) ?? -1) > (place.get(task.id) ?? 0)) this.ask(one.id, { done: task.id });
    }
  }

  private ask(id: string, need: Need): void {
    this.needs.set(id, [...(this.needs.get(id) ?? []), need]);
  }

  private made(id: string): Need {
    return this.wayOf.has(id) ? { released: id } : { done: id };
  }

  /** `later` comes back after each of these ids: a connection, every connection of a part, a task. */
  private after(later: string, ids: readonly string[]): void {
    for (const id of this.withAfter ? ids : []) {
      const ofPart = this.question.vehicle.connections.filter((one) => one.joins.includes(id)).map((one) => one.id);
      for (const sooner of [id, ...ofPart])
        if (this.once.has(sooner) && sooner !== later) this.ask(sooner, this.made(later));
      if (this.tasks.get(id)?.undo !== undefined) this.offFor.set(later, [...(this.offFor.get(later) ?? []), id]);
    }
  }

  /** A need as the way back meets it: what has no return has been done for good, and an access from elsewhere asks only what is off. */
  private mirrored(need: Need, elsewhere: boolean): Need {
    if ("all" in need) return { all: need.all.map((one) => this.mirrored(one, elsewhere)) };
    if ("any" in need) return { any: need.any.map((one) => this.mirrored(one, elsewhere)) };
    if (!("done" in need)) return need;
    if (elsewhere) return ALWAYS;
    if (this.tasks.get(need.done)?.undo !== undefined) return this.toggles.has(need.done) ? need : NEVER;
    if (this.once.has(need.done)) return need;
    return this.order.some((step) => "do" in step && step.do === need.done) ? ALWAYS : NEVER;
  }

  /** Needs whose toggles the way back may set even where the way out never did. */
  private free(needs: readonly Need[]): readonly Need[] {
    const open = [...needs];
    for (let need = open.pop(); need !== undefined; need = open.pop()) {
      if ("all" in need) open.push(...need.all);
      else if ("any" in need) open.push(...need.any);
      else if ("done" in need) {
        const id = need.done;
        const toggle = this.question.problem.tasks.find((task) => task.id === id && task.toggle);
        if (toggle === undefined || this.toggles.has(id)) continue;
        this.toggles.add(id);
        open.push(...(this.question.access.get(id) ?? toggle.needs));
      }
    }
    return needs.map((need) => this.mirrored(need, false));
  }

  private at(position: string | undefined): { readonly needs: readonly Need[]; readonly without: readonly string[] } {
    const place = position === undefined ? undefined : this.question.places.get(position);
    return { needs: this.free(place?.needs ?? []), without: place?.without ?? [] };
  }

  private way(id: string, way: AskedWay): AskedWay {
    const source = this.question.sources.get(way.id);
    if (source?.kind !== "way") return way;
    const refit = refitOf(source.connection, source.way);
    const place = this.at(refit.at);
    const { position: _, ...rest } = way;
    const without = [...(refit.elsewhere ? place.without : way.without), ...(this.offFor.get(id) ?? [])];
    return {
      ...rest,
      labour: refit.people * refit.time,
      ...(refit.at === undefined ? {} : { position: refit.at }),
      needs: [
        ...way.needs.map((need) => this.mirrored(need, refit.elsewhere)),
        ...(refit.elsewhere ? place.needs : []),
      ],
      without,
      entails: [],
    };
  }

  private task(asked: AskedTask, task: Task | undefined): AskedTask {
    const { position: _, ...rest } = asked;
    const position = task === undefined ? asked.position : returnPosition(task);
    const elsewhere = position !== asked.position;
    const place = this.at(position);
    return {
      ...rest,
      ...(position === undefined ? {} : { position }),
      needs: [
        ...(asked.back ? this.free(asked.needs) : asked.needs.map((need) => this.mirrored(need, elsewhere))),
        ...(elsewhere ? place.needs : []),
      ],
      without: elsewhere ? place.without : asked.without,
      entails: [],
      back: false,
      must: true,
    };
  }
}

/**
 * The mirror of the way out.
 *
 * @param order the steps out and of the work, legal.
 * @param verdict what the checker says of that order.
 * @param withAfter whether what the file says comes back `after` something else is held to.
 */
export const mirror = (question: Question, order: readonly Step[], verdict: Verdict, withAfter: boolean): Mirror =>
  new Maker(question, order, verdict, withAfter).make();
