// Owns the order out and of the work for one pair of hands: as few changes of position as can be found, at the labour of the answer.

import { check, type Need, type Plan, type Problem, type Step, type Verdict } from "../release/index.ts";
import { arrange, fewestFor, idOf, turningLabour, visitsOf } from "./arrange.ts";
import { doableWithout } from "./fewest.ts";
import { releasedLate } from "./late.ts";
import type { Question } from "./question.ts";
import { Walk } from "./walk.ts";

export interface Sequence {
  readonly order: readonly Step[];
  /** Runs of steps at one position. */
  readonly visits: number;
  /** No order of these steps, every release that touches a lifted group on its side of the lift, has fewer. A search of its own, so only for who asks. */
  readonly fewest: () => number;
  /** The independent replay of this very order. */
  readonly verdict: Verdict;
  /** Connections released at the vehicle although a lift has taken them away: nothing of these steps was found that does without. */
  readonly late: readonly string[];
}

/** The problem with more needs for some steps, by id of the task or the connection. */
export const withNeeds = (problem: Problem, added: ReadonlyMap<string, readonly Need[]>): Problem => {
  const more = <T extends { readonly needs: readonly Need[] }>(work: T, id: string): T => {
    const needs = added.get(id);
    return needs === undefined ? work : { ...work, needs: [...work.needs, ...needs] };
  };
  return {
    ...problem,
    connections: problem.connections.map((one) =>
      added.has(one.id) ? { ...one, ways: one.ways.map((way) => more(way, one.id)) } : one,
    ),
    tasks: problem.tasks.map((task) => more(task, task.id)),
  };
};

/** The connections of an order that touch a group of parts. */
const touching = (problem: Problem, order: readonly Step[], parts: readonly string[]): readonly string[] => {
  const group = new Set(parts);
  const released = new Set(order.flatMap((step) => ("release" in step ? [step.release] : [])));
  return problem.connections
    .filter((one) => released.has(one.id) && one.joins.some((part) => group.has(part)))
    .map((one) => one.id);
};

/**
 * What keeps each release on its side of a lift. A connection that touches the lifted group is where the vehicle is only until the group goes up, so
 * whatever can be released without the lift is released before it; the file says so of what waits for the lift, not of what does not.
 */
const beforeLifts = (problem: Problem, plan: Plan): ReadonlyMap<string, readonly Need[]> => {
  const walk = new Walk(problem, plan.order);
  return new Map(
    plan.lifts.map(({ task, parts }) => {
      const early = doableWithout(problem, walk.moves, walk.toggles, task);
      return [
        task,
        touching(problem, plan.order, parts)
          .filter((id) => early.has(id))
          .map((released) => ({ released })),
      ];
    }),
  );
};

/** What keeps every release that touches a lifted group on the side of the lift that this order has it on. */
export const sidesOfLifts = (
  problem: Problem,
  order: readonly Step[],
  lifts: Plan["lifts"],
): ReadonlyMap<string, readonly Need[]> => {
  const place = new Map(order.map((step, index) => [idOf(step), index]));
  const needs = new Map<string, Need[]>();
  const add = (id: string, need: Need) => needs.set(id, [...(needs.get(id) ?? []), need]);
  for (const { task, parts } of lifts) {
    for (const id of touching(problem, order, parts)) {
      if ((place.get(id) ?? 0) < (place.get(task) ?? 0)) add(task, { released: id });
      else add(id, { done: task });
    }
  }
  return needs;
};

/**
 * The answer's steps in an order for one pair of hands: nobody moves more often than in the answer's own order, save to release at the vehicle what
 * that order leaves for the stand, the jobs' work comes after everything else where that costs no more moves, and the release room's checker has passed it.
 * The own order stands where nothing better is found.
 */
export const sequence = (question: Question, plan: Plan): Sequence => {
  const { problem, sources } = question;
  const work = new Set([...sources].flatMap(([id, source]) => ("job" in source ? [id] : [])));
  const ownVisits = visitsOf(problem, plan.order);
  const ownLate = releasedLate(question, plan.order, plan.lifts);
  const found = (order: readonly Step[], verdict: Verdict, fewest: () => number): Sequence => ({
    order,
    visits: visitsOf(problem, order),
    fewest,
    verdict,
    late: releasedLate(question, order, verdict.lifts),
  });
  const early = withNeeds(problem, beforeLifts(problem, plan));
  const sides = withNeeds(problem, sidesOfLifts(problem, plan.order, plan.lifts));
  // Each release brought forward may take a visit there and one back.
  const visits = ownVisits + 2 * ownLate.length;
  const tries = [
    { problem: early, last: work, visits },
    { problem: early, last: new Set<string>(), visits },
    { problem: sides, last: work, visits: ownVisits },
    { problem: sides, last: new Set<string>(), visits: ownVisits },
  ];
  const asked = tries.map((one) => ({
    ...one,
    steps: plan.order,
    bothWays: false,
    labour: turningLabour(problem, plan.order),
  }));
  for (const ask of asked) {
    const order = arrange(ask);
    const verdict = order === undefined ? undefined : check(problem, order);
    if (order === undefined || verdict?.legal !== true || verdict.labour > plan.labour + 1e-6) continue;
    return found(order, verdict, () => fewestFor(ask));
  }
  // The own order keeps to its own sides of its lifts, and its work stands where it stands.
  const fewest = () => Math.min(ownVisits, ...asked.slice(-1).map(fewestFor));
  return found(plan.order, check(problem, plan.order), fewest);
};
