// Owns a schedule in ticks while it is sought: what is placed where with whom, and what it comes to.

import type { Shop } from "./shop.ts";

/** A work placed: ticks, and its people by index. */
export interface Spot {
  readonly work: number;
  readonly start: number;
  readonly free: number;
  readonly end: number;
  readonly people: readonly number[];
}

export interface Built {
  /** By task. */
  readonly tasks: readonly Spot[];
  /** In the order in which they were put in; of one state in the order of time. */
  readonly changes: readonly Spot[];
  /** The last end, ticks. */
  readonly finish: number;
  readonly labour: number;
  readonly moves: number;
  /** Tasks that others do than were told. */
  readonly retold: number;
  /** Sum of the ends: of two schedules as long the one with more slack. */
  readonly sum: number;
}

/** What has no length goes before what begins at the same tick. */
export const inOrder = (a: Spot, b: Spot): number => a.start - b.start || a.free - b.free;

/** Spots with what they come to. */
export const tally = (shop: Shop, tasks: readonly Spot[], changes: readonly Spot[]): Built => {
  const { works } = shop;
  const stands = shop.people.map(({ at }) => at);
  let [moves, labour, retold, sum, finish] = [0, 0, 0, 0, shop.now];
  const all = [...tasks, ...changes];
  for (const { work, people, end } of all) {
    const { ticks = 0, told } = works[work] ?? {};
    labour += ticks * people.length;
    sum += end;
    finish = Math.max(finish, end);
    if (
      told !== undefined &&
      !(told.people.length === people.length && told.people.every((one) => people.includes(one)))
    )
      retold += 1;
  }
  for (const { work, people } of all.sort(inOrder)) {
    const position = works[work]?.position ?? -1;
    if (position < 0) continue;
    for (const person of people) {
      if ((stands[person] ?? -1) >= 0 && stands[person] !== position) moves += 1;
      stands[person] = position;
    }
  }
  return { tasks, changes, finish, labour, moves, retold, sum };
};
