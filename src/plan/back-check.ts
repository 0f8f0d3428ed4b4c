// Owns the verdict on a way back: a replay, forwards in time, that shares no code with what made it but the meaning of a refit (refit.ts). What must be carried is put to the release
// room's checker with the steps in reverse, for a part that is held after a refit was held before the release.

import { check, type Need, type Problem, type Step } from "../release/index.ts";
import type { Task } from "../vehicle/index.ts";
import type { BackStep } from "./back-step.ts";
import type { Question } from "./question.ts";
import { refitOf } from "./refit.ts";

/** What is wrong with a way back. `step` counts its steps from 0; absent for what only the whole can lack. */
export type BackFault =
  /** B1: released and never made again, or set and never undone, or called for and never done. */
  | { readonly rule: "B1"; readonly what: "left open"; readonly id: string }
  /** B1: made again twice, or without having been released. */
  | { readonly rule: "B1"; readonly what: "not open"; readonly id: string; readonly step: number }
  /** B2: what gave access to it is closed again. */
  | { readonly rule: "B2"; readonly what: "no access"; readonly id: string; readonly need: Need; readonly step: number }
  /** B2: a state of the vehicle is on that it must be without. */
  | {
      readonly rule: "B2";
      readonly what: "in the way";
      readonly id: string;
      readonly task: string;
      readonly step: number;
    }
  /** B3: from here on nothing holds these parts. */
  | { readonly rule: "B3"; readonly what: "drops"; readonly parts: readonly string[]; readonly step: number }
  /** B3: this lift takes up what it must not: something fixed, too much, a part to be kept. */
  | { readonly rule: "B3"; readonly what: "lift"; readonly id: string; readonly step: number }
  /** B4: comes back after what should have been last. */
  | {
      readonly rule: "B4";
      readonly what: "after the last";
      readonly id: string;
      readonly last: string;
      readonly step: number;
    }
  /** B5: comes back before what it must follow. */
  | {
      readonly rule: "B5";
      readonly what: "too early";
      readonly id: string;
      readonly follows: string;
      readonly step: number;
    }
  /** B6: what was put in for the job stays in. */
  | { readonly rule: "B6"; readonly what: "left in"; readonly item: string; readonly count: number };

/** The id of what a step of the way back is about. */
const subject = (step: BackStep): string => {
  if ("refit" in step) return step.refit;
  if ("return" in step) return step.return;
  if ("perform" in step) return step.perform;
  return "do" in step ? step.do : step.undo;
};

class Replay {
  private readonly question: Question;
  private readonly out: readonly Step[];
  private readonly back: readonly BackStep[];
  private readonly tasks: ReadonlyMap<string, Task>;
  private readonly open = new Map<string, string>();
  private readonly done = new Set<string>();
  private readonly on = new Set<string>();
  /** What was released or done on the way out, in its order. */
  private readonly outAt = new Map<string, number>();
  private readonly faults: BackFault[] = [];

  constructor(question: Question, out: readonly Step[], back: readonly BackStep[]) {
    this.question = question;
    this.out = out;
    this.back = back;
    this.tasks = new Map(question.vehicle.tasks.map((task) => [task.id, task]));
    for (const [index, step] of out.entries()) {
      if ("release" in step) this.open.set(step.release, step.way);
      else if ("undo" in step) this.on.delete(step.undo);
      else if (this.isToggle(step.do)) this.on.add(step.do);
      else this.done.add(step.do);
      if ("release" in step) this.outAt.set(step.release, index);
      else if ("do" in step && !this.outAt.has(step.do)) this.outAt.set(step.do, index);
    }
  }

  run(): readonly BackFault[] {
    for (const [index, step] of this.back.entries()) this.take(step, index);
    for (const id of this.open.keys()) this.faults.push({ rule: "B1", what: "left open", id });
    for (const id of this.on) this.faults.push({ rule: "B1", what: "left open", id });
    for (const id of this.done) if (this.mustReturn(id)) this.faults.push({ rule: "B1", what: "left open", id });
    this.lastAndAfter();
    this.temporaries();
    this.carrying();
    return this.faults;
  }

  private isToggle(id: string): boolean {
    return this.tasks.get(id)?.undo !== undefined;
  }

  /** A drained circuit must be filled, a sling come off, a lift go back in, a hung part go home. */
  private mustReturn(id: string): boolean {
    if (this.question.sources.get(id)?.kind === "hang") return true;
    const task = this.tasks.get(id);
    return task !== undefined && (task.back !== undefined || task.lifts.length > 0 || task.supports.length > 0);
  }

  private take(step: BackStep, index: number): void {
    const id = subject(step);
    if ("refit" in step) {
      if (!this.open.delete(id)) this.faults.push({ rule: "B1", what: "not open", id, step: index });
      this.accessTo(step.way, id, index);
      return;
    }
    if ("return" in step) {
      if (!this.done.delete(id)) this.faults.push({ rule: "B1", what: "not open", id, step: index });
      const task = this.tasks.get(id);
      const elsewhere = task?.back?.at !== undefined && task.back.at !== task.at;
      this.stands(id, index, elsewhere ? task?.back?.at : undefined);
    } else if ("do" in step) {
      if (this.on.has(id)) this.faults.push({ rule: "B1", what: "not open", id, step: index });
      this.stands(id, index, undefined);
      this.on.add(id);
    } else if ("undo" in step) {
      if (!this.on.delete(id)) this.faults.push({ rule: "B1", what: "not open", id, step: index });
    } else {
      this.stands(id, index, undefined);
    }
  }

  /** B2 for a task: what it needs holds as it did on the way out, or, done elsewhere, what that position asks for. */
  private stands(id: string, index: number, elsewhere: string | undefined): void {
    const needs = this.question.access.get(id) ?? [];
    const place = elsewhere === undefined ? undefined : this.question.places.get(elsewhere);
    this.needs(place === undefined ? needs : [...needs.map(withoutTasks), ...place.needs], id, index);
    const off = place?.without ?? this.question.problem.tasks.find((task) => task.id === id)?.without ?? [];
    for (const task of off)
      if (this.on.has(task)) this.faults.push({ rule: "B2", what: "in the way", id, task, step: index });
  }

  /** B2 for a refit: with the connection made, what its release needed is still off, and the vehicle stands as it did. */
  private accessTo(way: string, id: string, index: number): void {
    const source = this.question.sources.get(way);
    if (source?.kind !== "way") return;
    const refit = refitOf(source.connection, source.way);
    const place = refit.at === undefined ? undefined : this.question.places.get(refit.at);
    const needs = this.question.access.get(way) ?? [];
    this.needs(refit.elsewhere ? needs.map(withoutTasks) : needs, id, index);
    if (refit.elsewhere) this.needs(place?.needs ?? [], id, index);
    const off = refit.elsewhere ? [] : source.way.without;
    for (const task of [...off, ...(place?.without ?? [])])
      if (this.on.has(task)) this.faults.push({ rule: "B2", what: "in the way", id, task, step: index });
  }

  private needs(needs: readonly Need[], id: string, step: number): void {
    for (const need of needs)
      if (!this.holds(need)) this.faults.push({ rule: "B2", what: "no access", id, need, step });
  }

  private holds(need: Need): boolean {
    if ("released" in need)
      return this.open.has(need.released) || this.question.problem.released.includes(need.released);
    if ("all" in need) return need.all.every((one) => this.holds(one));
    if ("any" in need) return need.any.some((one) => this.holds(one));
    if ("apart" in need) return this.apart(need.apart[0], need.apart[1]);
    if (this.isToggle(need.done)) return this.on.has(need.done);
    if (this.done.has(need.done)) return true;
    // Work that leaves nothing to undo was done for good.
    return (
      this.outAt.has(need.done) &&
      !this.mustReturn(need.done) &&
      (this.tasks.get(need.done)?.temporary.length ?? 0) === 0
    );
  }

  private apart(some: readonly string[], others: readonly string[]): boolean {
    const { problem, vehicle } = this.question;
    const reached = new Set(some);
    const hung = vehicle.parts.flatMap((part) =>
      part.hang.filter((hang) => this.done.has(hang.id)).map((hang) => [part.id, hang.to]),
    );
    const made = problem.connections
      .filter((one) => !this.open.has(one.id) && !problem.released.includes(one.id))
      .map((one) => one.joins);
    for (let before = -1; before < reached.size; ) {
      before = reached.size;
      for (const joins of [...made, ...hung])
        if (joins.some((part) => reached.has(part))) for (const part of joins) reached.add(part);
    }
    return !others.some((part) => reached.has(part));
  }

  /** B4 and B5. */
  private lastAndAfter(): void {
    const backAt = new Map<string, number>();
    for (const [index, step] of this.back.entries()) if (!("do" in step)) backAt.set(subject(step), index);
    const { first } = this.question.vehicle;
    const closing = new Set(first.filter((id) => backAt.has(id)));
    for (const last of closing) {
      for (const [index, step] of this.back.entries()) {
        const id = subject(step);
        if (index <= (backAt.get(last) ?? 0) || closing.has(id) || "do" in step || "undo" in step) continue;
        const earlier = (one: string) =>
          (this.outAt.get(one) ?? Number.POSITIVE_INFINITY) < (this.outAt.get(last) ?? 0);
        const mayFollow = "perform" in step ? this.follows(id, (one) => one === last || earlier(one)) : earlier(id);
        if (!mayFollow) this.faults.push({ rule: "B4", what: "after the last", id, last, step: index });
      }
    }
    const inOrder = first.filter((id) => backAt.has(id));
    for (const [index, id] of inOrder.entries()) {
      const next = inOrder[index + 1];
      if (next !== undefined && (backAt.get(id) ?? 0) < (backAt.get(next) ?? 0))
        this.faults.push({ rule: "B4", what: "after the last", id: next, last: id, step: backAt.get(next) ?? 0 });
    }
    for (const [id, index] of backAt) {
      for (const follows of this.mustFollow(id)) {
        const at = backAt.get(follows);
        if (at !== undefined && at > index)
          this.faults.push({ rule: "B5", what: "too early", id, follows, step: index });
      }
      for (const toggle of this.afterOf(id))
        if (this.isToggle(toggle) && this.isOnAt(toggle, index))
          this.faults.push({ rule: "B5", what: "too early", id, follows: toggle, step: index });
    }
  }

  /** Whether a task of the way back is said to come after one of these: by itself, by what it needs, by what calls for it. */
  private follows(id: string, late: (one: string) => boolean, met: ReadonlySet<string> = new Set()): boolean {
    if (met.has(id)) return false;
    return this.mustFollow(id).some(
      (one) => late(one) || (this.tasks.get(one)?.phase === "back" && this.follows(one, late, new Set([...met, id]))),
    );
  }

  private isOnAt(toggle: string, step: number): boolean {
    let on = false;
    for (const one of this.out) if (subjectOut(one) === toggle) on = "do" in one;
    for (const one of this.back.slice(0, step)) if (subject(one) === toggle) on = "do" in one;
    return on;
  }

  private afterOf(id: string): readonly string[] {
    const connection = this.question.vehicle.connections.find((one) => one.id === id);
    const released = this.out.find((step) => "release" in step && step.release === id);
    const source =
      released !== undefined && "release" in released ? this.question.sources.get(released.way) : undefined;
    if (connection !== undefined && source?.kind === "way") return refitOf(connection, source.way).after;
    const task = this.tasks.get(id);
    return task === undefined ? [] : [...task.after, ...(task.back?.after ?? [])];
  }

  private mustFollow(id: string): readonly string[] {
    const { connections, tasks } = this.question.vehicle;
    const named = this.afterOf(id).flatMap((one) => [
      one,
      ...connections.filter((other) => other.joins.includes(one)).map((other) => other.id),
    ]);
    const task = this.tasks.get(id);
    const filled = connections.filter(
      (one) =>
        one.holds !== undefined &&
        task?.drains.includes(one.holds.fluid) === true &&
        (this.outAt.get(one.id) ?? -1) > (this.outAt.get(id) ?? 0),
    );
    const callers =
      task?.phase !== "back"
        ? []
        : this.out.flatMap((step) => {
            const source = "release" in step ? this.question.sources.get(step.way) : undefined;
            return source?.kind === "way" && refitOf(source.connection, source.way).calls.includes(id)
              ? [source.connection.id]
              : [];
          });
    const sooner =
      task?.phase !== "back"
        ? []
        : tasks.filter((one) => one.phase === "back" && task.needs.some((need) => "id" in need && need.id === one.id));
    return [...named, ...filled.map((one) => one.id), ...callers, ...sooner.map((one) => one.id)].filter(
      (one) => one !== id,
    );
  }

  /** B6: what each step put in, less what its return took out. */
  private temporaries(): void {
    const inside = new Map<string, number>();
    const count = (id: string, sign: number) => {
      const connection = this.question.vehicle.connections.find((one) => one.id === id);
      const source = this.question.sources.get(id);
      const hang = source?.kind === "hang" ? source.hang.temporary : [];
      for (const { item, count: number } of [
        ...(connection?.plug ?? []),
        ...(connection?.temporary ?? []),
        ...(this.tasks.get(id)?.temporary ?? []),
        ...hang,
      ])
        inside.set(item, (inside.get(item) ?? 0) + sign * number);
    };
    for (const step of this.out) count(subjectOut(step), "undo" in step ? -1 : 1);
    for (const step of this.back) count(subject(step), "do" in step ? 1 : "perform" in step ? 0 : -1);
    for (const [item, left] of inside)
      if (left > 0) this.faults.push({ rule: "B6", what: "left in", item, count: left });
  }

  /** B3: the same steps in reverse, with nothing asked of them but that everything stays held and every lift is allowed. */
  private carrying(): void {
    const { problem } = this.question;
    const bare: Problem = {
      ...problem,
      connections: problem.connections.map((one) => ({
        ...one,
        ways: one.ways.map((way) => ({ id: way.id, labour: 0, needs: [], without: [], entails: [] })),
      })),
      tasks: problem.tasks.map((task) => ({
        ...task,
        ...(task.back ? { supports: [] } : {}),
        needs: [],
        without: [],
        entails: [],
        must: false,
        back: false,
        labour: 0,
      })),
      take: [],
    };
    const reversed = this.back.toReversed().map((step): Step => {
      if ("refit" in step) return { release: step.refit, way: step.way };
      if ("do" in step) return { undo: step.do };
      return { do: subject(step) };
    });
    // A state before the k-th step of the reverse is the one after the step of the way back that it mirrors.
    const at = (index: number | "end") => (index === "end" ? 0 : this.back.length - 1 - index);
    for (const { step, what } of check(bare, reversed).faults) {
      if (what.kind === "drops") this.faults.push({ rule: "B3", what: "drops", parts: what.parts, step: at(step) });
      else if (what.kind === "tied" || what.kind === "mass" || what.kind === "keep")
        this.faults.push({ rule: "B3", what: "lift", id: what.lift, step: at(step) });
    }
  }
}

const subjectOut = (step: Step): string => ("release" in step ? step.release : "do" in step ? step.do : step.undo);

/** A need with its tasks left out: they gave access where the release was made, and the refit is made elsewhere. */
const withoutTasks = (need: Need): Need => {
  if ("done" in need) return { all: [] };
  if ("all" in need) return { all: need.all.map(withoutTasks) };
  return "any" in need ? { any: need.any.map(withoutTasks) } : need;
};

/** Everything that is wrong with a way back from an order out; empty when it holds. */
export const checkBack = (question: Question, out: readonly Step[], back: readonly BackStep[]): readonly BackFault[] =>
  new Replay(question, out, back).run();
