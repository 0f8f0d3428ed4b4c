// Owns the verdict on a schedule: whether it keeps the rules C1 to C13 of docs/crew.md, and what it costs, counted anew.
// Shares no code with the search, and runs on every answer before anybody sees it.

import { type Breach, before, type Fault, type Laid, meet, type Rule, type Scene } from "./check-fault.ts";
import { checkDays, checkSeats, checkTime } from "./check-people.ts";
import { checkEmpty, checkRoom, checkStocks } from "./check-room.ts";
import { checkChanges, checkStates } from "./check-states.ts";
import type { Problem } from "./problem.ts";
import type { Figures, Schedule } from "./result.ts";

export type { Breach, Fault, Rule } from "./check-fault.ts";

export interface Verdict {
  readonly legal: boolean;
  /** By rule, then by minute. Empty when legal. */
  readonly faults: readonly Fault[];
  /** Of an illegal schedule: of what it places. */
  readonly figures: Figures;
}

/** The works that the schedule places and the problem knows; what it does not know is a fault. */
const layOut = (problem: Problem, schedule: Schedule, fault: Scene["fault"]): readonly Laid[] => {
  const turns = new Map<string, number>();
  const changes = schedule.changes.flatMap((placed): readonly Laid[] => {
    const state = problem.states.find(({ id }) => id === placed.state);
    if (state === undefined) {
      fault("C1", placed.start, { kind: "unknown", id: placed.state });
      return [];
    }
    const turn = turns.get(state.id) ?? 0;
    turns.set(state.id, turn + 1);
    return [{ ...placed, name: { state: state.id, to: placed.to, turn }, work: placed.to ? state.set : state.clear }];
  });
  const tasks = schedule.tasks.flatMap((placed): readonly Laid[] => {
    const task = problem.tasks.find(({ id }) => id === placed.task);
    if (task !== undefined) return [{ ...placed, name: { task: task.id }, work: task, task }];
    fault("C1", placed.start, { kind: "unknown", id: placed.task });
    return [];
  });
  return [...tasks, ...changes];
};

const sameSet = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((one) => b.includes(one));

/** C1. */
const checkAll = ({ problem, works, fault }: Scene): void => {
  const now = problem.now ?? 0;
  for (const { id } of problem.tasks) {
    const times = works.filter(({ task }) => task?.id === id).length;
    if (times === 0) fault("C1", Number.NaN, { kind: "missing", task: id });
    if (times > 1) fault("C1", Number.NaN, { kind: "twice", task: id });
  }
  for (const { name, task, start, free, end, people } of works) {
    if (![start, free, end].every(Number.isFinite)) fault("C1", start, { kind: "no time", of: name });
    for (const person of people)
      if (!problem.people.some(({ id }) => id === person)) fault("C1", start, { kind: "unknown", id: person });
    const begun = task?.begun;
    if (begun === undefined) {
      if (before(start, now)) fault("C1", start, { kind: "early", of: name, now });
    } else if (before(start, begun.start) || before(begun.start, start) || !sameSet(people, begun.people))
      fault("C1", start, { kind: "begun", task: task?.id ?? "", start: begun.start, people: begun.people });
  }
};

/** C9. */
const checkAfter = ({ works, fault }: Scene, laidOf: (task: string) => Laid | undefined): void => {
  for (const { task, start } of works)
    for (const { task: first, least, most } of task?.after ?? []) {
      const end = laidOf(first)?.end;
      if (task === undefined || end === undefined) continue;
      const soonest = end + (least ?? 0);
      if (before(start, soonest)) fault("C9", start, { kind: "soon", task: task.id, after: first, due: soonest });
      const latest = end + (most ?? Number.POSITIVE_INFINITY);
      if (before(latest, start)) fault("C9", start, { kind: "late", task: task.id, after: first, due: latest });
    }
};

/** C12. */
const checkApart = ({ problem, fault }: Scene, laidOf: (task: string) => Laid | undefined): void => {
  for (const [a, b] of problem.apart) {
    const [one, other] = [laidOf(a), laidOf(b)];
    if (one === undefined || other === undefined || !meet(one.start, one.end, other.start, other.end)) continue;
    fault("C12", Math.max(one.start, other.start), { kind: "together", tasks: [a, b] });
  }
};

/** C13. */
const checkVerifiers = ({ works, fault }: Scene, laidOf: (task: string) => Laid | undefined): void => {
  for (const { task, start, people } of works)
    for (const of of task?.notBy ?? [])
      for (const person of laidOf(of)?.people ?? [])
        if (task !== undefined && people.includes(person))
          fault("C13", start, { kind: "own verifier", task: task.id, of, person });
};

const RULES: readonly Rule[] = ["C1", "C2", "C3", "C4", "C5", "C6", "C7", "C8", "C9", "C10", "C11", "C12", "C13"];

/**
 * Whether the schedule answers the problem by every rule, with each fault, and its figures. The problem must be well-posed (`lacksOf` finds nothing). Minutes that
 * differ by less than a millionth are the same.
 */
export const check = (problem: Problem, schedule: Schedule): Verdict => {
  const faults: Fault[] = [];
  const fault = (rule: Rule, minute: number, what: Breach): void => {
    faults.push({ rule, minute, what });
  };
  const works = layOut(problem, schedule, fault);
  const scene: Scene = { problem, works, fault };
  const tasks = new Map<string, Laid>();
  for (const laid of works) if (laid.task !== undefined) tasks.set(laid.task.id, laid);
  const laidOf = (id: string): Laid | undefined => tasks.get(id);

  checkAll(scene);
  checkTime(scene);
  checkSeats(scene);
  const moves = checkDays(scene);
  checkRoom(scene);
  checkEmpty(scene);
  checkStocks(scene);
  checkAfter(scene, laidOf);
  checkStates(scene);
  checkChanges(scene);
  checkApart(scene, laidOf);
  checkVerifiers(scene, laidOf);

  const now = problem.now ?? 0;
  const told = (problem.told?.tasks ?? []).filter(({ task, people }) => {
    const laid = laidOf(task);
    return laid !== undefined && !sameSet(laid.people, people);
  });
  return {
    legal: faults.length === 0,
    faults: faults.sort((a, b) => RULES.indexOf(a.rule) - RULES.indexOf(b.rule) || a.minute - b.minute),
    figures: {
      elapsed: works.reduce((last, { end }) => Math.max(last, end - now), 0),
      labour: works.reduce((sum, { work, people }) => sum + work.minutes * people.length, 0),
      moves,
      retold: told.length,
    },
  };
};
