// Owns the ordering of chosen steps: a legal order of them if one is found, the cheapest one where toggles must be set more than once.

import type { Problem } from "../../src/release/problem.ts";
import type { Step } from "../../src/release/result.ts";
import { Moment } from "./moment.ts";

/** A step with the time that a model gave it. */
export interface Timed {
  readonly step: Step;
  readonly time: number;
}

export type Arranged = { readonly order: readonly Step[] } | { readonly drops: readonly (readonly string[])[] };

/** Toggles and lifts change what else may be done: they stay in their place, everything between two of them may change places. */
const isBound = (problem: Problem, step: Step): boolean => {
  if ("release" in step) return false;
  if ("undo" in step) return true;
  const task = problem.tasks.find((each) => each.id === step.do);
  return task?.toggle === true || task?.lift !== undefined;
};

/**
 * Orders steps by the times they were given, except that between two toggles or lifts each is made as soon as it can be: what holds
 * before what is held, the rest as it comes. Stops at the first place where nothing can be made, with the bodies that would drop there.
 */
export function arrangeByTime(problem: Problem, steps: readonly Timed[]): Arranged {
  const moment = new Moment(problem);
  const order: Step[] = [];
  const drops: (readonly string[])[] = [];
  const carrying = new Set(problem.connections.filter((c) => c.carrying).map((c) => c.id));
  const weight = (step: Step): number => ("release" in step ? (carrying.has(step.release) ? 2 : 1) : 0);
  const attempt = (step: Step): boolean => {
    const hindrance = moment.hindrance(step);
    if (hindrance && "drops" in hindrance) drops.push(...hindrance.drops);
    if (hindrance) return false;
    moment.make(step);
    order.push(step);
    drops.length = 0;
    return true;
  };
  let waiting: Step[] = [];
  const settle = (): void => {
    waiting.sort((one, other) => weight(one) - weight(other));
    for (let before = -1; before !== waiting.length; ) {
      before = waiting.length;
      waiting = waiting.filter((step) => !attempt(step));
    }
  };
  for (const { step } of [...steps].sort((one, other) => one.time - other.time)) {
    if (!isBound(problem, step)) {
      waiting.push(step);
      continue;
    }
    settle();
    if (waiting.length > 0 || !attempt(step)) return { drops };
  }
  settle();
  return waiting.length === 0 && moment.ended ? { order } : { drops };
}

/** What a full search for the cheapest order of exactly these steps came to; labour of toggles only. "given up": too many moments. */
export type Search = { readonly order: readonly Step[]; readonly toggles: number } | "none" | "given up";

/**
 * The order of exactly these releases and tasks, with any toggles in between, that sets and undoes toggles at least labour: Dijkstra's search
 * over moments.
 *
 * @param most moments to look at before giving up
 */
export function arrangeAtLeast(problem: Problem, steps: readonly Step[], most: number): Search {
  const toggles = problem.tasks.filter((task) => task.toggle && !task.back);
  interface Node {
    readonly moment: Moment;
    readonly left: readonly Step[];
    readonly cost: number;
    readonly order: readonly Step[];
  }
  // Few different costs, many moments: a list for each cost.
  const lists = new Map<number, Node[]>();
  const put = (node: Node): void => {
    const list = lists.get(node.cost);
    if (list) list.push(node);
    else lists.set(node.cost, [node]);
  };
  const settled = new Set<string>();
  put({ moment: new Moment(problem), left: steps, cost: 0, order: [] });
  while (lists.size > 0) {
    const cost = Math.min(...lists.keys());
    const node = lists.get(cost)?.pop();
    if (!node) {
      lists.delete(cost);
      continue;
    }
    const { key } = node.moment;
    if (settled.has(key)) continue;
    settled.add(key);
    if (settled.size > most) return "given up";
    if (node.left.length === 0 && node.moment.ended) return { order: node.order, toggles: cost };
    const extend = (step: Step, left: readonly Step[], labour: number): void => {
      if (node.moment.hindrance(step)) return;
      const moment = new Moment(problem, node.moment);
      moment.make(step);
      put({ moment, left, cost: cost + labour, order: [...node.order, step] });
    };
    for (const task of toggles)
      extend(node.moment.on.has(task.id) ? { undo: task.id } : { do: task.id }, node.left, task.labour);
    for (const step of node.left)
      extend(
        step,
        node.left.filter((each) => each !== step),
        0,
      );
  }
  return "none";
}
