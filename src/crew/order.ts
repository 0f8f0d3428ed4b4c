// Owns what is put down before what while a schedule is built: what the problem says, and what it implies of states that may not change before or after a task.

import type { Shop } from "./shop.ts";

export interface Order {
  /** By task: the tasks put down only after it. */
  readonly followers: readonly (readonly number[])[];
  /** By task: what comes after it, but for a circle of waits that take no time may be put down before. */
  readonly loose: readonly (readonly { readonly task: number; readonly least: number }[])[];
  /** By task: states that never change again once it begins. */
  readonly seals: readonly (readonly number[])[];
}

const reaches = (followers: readonly (readonly number[])[], from: number, to: number): boolean => {
  const seen = new Set([from]);
  const stack = [from];
  for (let task = stack.pop(); task !== undefined; task = stack.pop()) {
    if (task === to) return true;
    for (const next of followers[task] ?? []) {
      if (seen.has(next)) continue;
      seen.add(next);
      stack.push(next);
    }
  }
  return false;
};

/** Whether waits close a circle. */
const isCircular = (followers: readonly (readonly number[])[]): boolean => {
  const leaders = new Int32Array(followers.length);
  for (const list of followers) for (const task of list) leaders[task] = (leaders[task] ?? 0) + 1;
  const free = [...leaders.keys()].filter((task) => leaders[task] === 0);
  let placed = 0;
  for (let task = free.pop(); task !== undefined; task = free.pop()) {
    placed += 1;
    for (const next of followers[task] ?? []) {
      leaders[next] = (leaders[next] ?? 0) - 1;
      if (leaders[next] === 0) free.push(next);
    }
  }
  return placed < followers.length;
};

/**
 * The order of placing. What is only implied is left out where it would close a circle: it makes a good schedule likelier to be found, the rules
 * themselves are looked at when a task is placed.
 */
export const orderOf = (shop: Shop): Order => {
  const followers: number[][] = Array.from({ length: shop.tasks }, () => []);
  const seals: number[][] = Array.from({ length: shop.tasks }, () => []);
  const tasks = shop.works.slice(0, shop.tasks);
  const loose: { task: number; least: number }[][] = Array.from({ length: shop.tasks }, () => []);
  for (const [task, { after }] of tasks.entries()) for (const { work } of after) followers[work]?.push(task);
  if (isCircular(followers)) {
    for (const list of followers) list.length = 0;
    for (const [task, { after }] of tasks.entries())
      for (const { work, least } of after)
        if (reaches(followers, task, work)) loose[work]?.push({ task, least });
        else followers[work]?.push(task);
  }
  const imply = (first: number, second: number): void => {
    if (first === second || reaches(followers, second, first)) return;
    followers[first]?.push(second);
  };
  for (const { from, until } of shop.holds) imply(from, until);
  for (const [state, { on, end, after, before }] of shop.states.entries()) {
    const wanting = (value: boolean): readonly number[] =>
      tasks.flatMap(({ wants }, task) =>
        wants.some((want) => want.state === state && want.value === value) ? [task] : [],
      );
    for (const value of [false, true]) {
      const side = value ? 1 : 0;
      if (on !== value) for (const first of after[side]) for (const second of wanting(value)) imply(first, second);
      for (const sealing of before[side]) {
        // No change to `value` once it begins: what wants it so comes before; when it ends up so, all of it does.
        for (const first of wanting(value)) imply(first, sealing);
        if (end === value) for (const first of wanting(!value)) imply(first, sealing);
        seals[sealing]?.push(state);
      }
    }
  }
  return { followers, loose, seals };
};
