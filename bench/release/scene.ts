// Owns the words in which the tests put a small question by hand.

import type { Connection, Need, Part, Problem, Task, Way } from "../../src/release/problem.ts";

export const frame: Part = { id: "frame", fixed: true, mass: 0 };

export const part = (id: string, mass: number, centre?: Part["centre"]): Part => ({
  ...{ id, fixed: false, mass },
  ...(centre ? { centre } : {}),
});

export const way = (id: string, labour = 1, needs: readonly Need[] = [], rest: Partial<Way> = {}): Way => ({
  ...{ id, labour, needs, without: [], entails: [] },
  ...rest,
});

export const tie = (id: string, joins: readonly string[], rest: Partial<Connection> = {}): Connection => ({
  ...{ id, joins, carrying: false, rests: false, ways: [way(`${id}/1`)] },
  ...rest,
});

export const task = (id: string, rest: Partial<Task> = {}): Task => ({
  ...{ id, labour: 1, needs: [], without: [], entails: [], toggle: false, back: false, must: false, supports: [] },
  ...rest,
});

export const ask = (rest: Partial<Problem>): Problem => ({
  ...{ parts: [frame], connections: [], tasks: [], handLimit: 10, margin: 0.05, keep: [], take: [], released: [] },
  ...rest,
});
