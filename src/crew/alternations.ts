// Owns how often a state must change at the least: before each task, after it, and in all, by what comes after what and wants it so or so.

import type { Shop } from "./shop.ts";

export interface Alternations {
  /** Changes in every schedule. */
  readonly fewest: number;
  /** By task: changes that have been made when it begins, and that are still to come when it ends. */
  readonly before: Int32Array;
  readonly after: Int32Array;
}

/** Fewest changes on the far side of each task by the value that the state has at the task: 2 × task + value. */
const sided = (
  shop: Shop,
  state: number,
  edges: readonly (readonly number[])[],
  atEdge: boolean | undefined,
): Int32Array => {
  const fewest = new Int32Array(shop.tasks * 2);
  const settled = new Uint8Array(shop.tasks);
  const settle = (task: number): void => {
    const own: [number, number] = [0, 0];
    if (atEdge !== undefined) own[atEdge ? 0 : 1] = 1;
    for (const other of edges[task] ?? []) {
      const [off, on] = [fewest[other * 2] ?? 0, fewest[other * 2 + 1] ?? 0];
      own[0] = Math.max(own[0], Math.min(off, on + 1));
      own[1] = Math.max(own[1], Math.min(on, off + 1));
    }
    const want = shop.works[task]?.wants.find((one) => one.state === state);
    if (want !== undefined) own[want.value ? 0 : 1] = Math.max(own[want.value ? 0 : 1], own[want.value ? 1 : 0] + 1);
    fewest[task * 2] = own[0];
    fewest[task * 2 + 1] = own[1];
    settled[task] = 1;
  };
  // Depth first by hand: chains can be long. A circle, which `after` may close with negative lags, is cut where it is met.
  const open = new Uint8Array(shop.tasks);
  for (let root = 0; root < shop.tasks; root += 1) {
    const stack = [root];
    while (stack.length > 0) {
      const task = stack[stack.length - 1] ?? 0;
      open[task] = 1;
      const next = (edges[task] ?? []).find((other) => open[other] === 0);
      if (next !== undefined) stack.push(next);
      else {
        stack.pop();
        if (settled[task] === 0) settle(task);
      }
    }
  }
  return fewest;
};

/** The alternations of one state, by index. */
export const alternationsOf = (shop: Shop, state: number): Alternations => {
  const { on, end } = shop.states[state] ?? { on: false, end: undefined };
  const sooner: number[][] = Array.from({ length: shop.tasks }, () => []);
  const later: number[][] = Array.from({ length: shop.tasks }, () => []);
  for (let task = 0; task < shop.tasks; task += 1) {
    if (shop.works[task]?.begun !== undefined) continue;
    for (const { work, least } of shop.works[task]?.after ?? []) {
      // With a negative lag the two may overlap, and the state be the same for both.
      if (least < 0) continue;
      sooner[task]?.push(work);
      later[work]?.push(task);
    }
  }
  const before = sided(shop, state, sooner, on);
  const after = sided(shop, state, later, end);
  let fewest = end !== undefined && end !== on ? 1 : 0;
  for (let task = 0; task < shop.tasks; task += 1) {
    const least = (value: 0 | 1): number => (before[task * 2 + value] ?? 0) + (after[task * 2 + value] ?? 0);
    fewest = Math.max(fewest, Math.min(least(0), least(1)));
  }
  const either = (sides: Int32Array): Int32Array =>
    Int32Array.from({ length: shop.tasks }, (_, task) => Math.min(sides[task * 2] ?? 0, sides[task * 2 + 1] ?? 0));
  return { fewest, before: either(before), after: either(after) };
};
