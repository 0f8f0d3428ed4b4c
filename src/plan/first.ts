// Owns what comes before anything else: how the file's `first` list becomes needs of every other step.

import type { Need } from "../release/index.ts";

/** A step as far as its order matters: a way of a connection, or a task. */
export interface Ordered {
  readonly id: string;
  /** The connection it releases; absent for a task. */
  readonly of?: string;
  readonly needs: readonly Need[];
}

/** Every connection and task that a need may mention, through whichever alternative. `tied` lists the connections of a part. */
const mentions = (need: Need, tied: (part: string) => readonly string[]): readonly string[] => {
  if ("released" in need) return [need.released];
  if ("done" in need) return [need.done];
  if ("all" in need) return need.all.flatMap((one) => mentions(one, tied));
  if ("any" in need) return need.any.flatMap((one) => mentions(one, tied));
  return need.apart.flatMap((side) => side.flatMap(tied));
};

/** The ways of each connection and each task, by the id of the connection or the task. */
const byOwner = (steps: readonly Ordered[]): ReadonlyMap<string, readonly Ordered[]> => {
  const made = new Map<string, Ordered[]>();
  for (const step of steps) {
    const list = made.get(step.of ?? step.id);
    if (list === undefined) made.set(step.of ?? step.id, [step]);
    else list.push(step);
  }
  return made;
};

/**
 * Makes a function that adds to a set one connection or task and whatever may have to come before it, through any alternative.
 *
 * @param tied the connections of a part.
 */
export const precedence = (steps: readonly Ordered[], tied: (part: string) => readonly string[]) => {
  const made = byOwner(steps);
  return (entry: string, found: Set<string>): ReadonlySet<string> => {
    const open = [entry];
    for (let id = open.pop(); id !== undefined; id = open.pop()) {
      if (found.has(id)) continue;
      found.add(id);
      for (const step of made.get(id) ?? []) open.push(...step.needs.flatMap((need) => mentions(need, tied)));
    }
    return found;
  };
};

/**
 * What each step needs besides its own needs: every entry of `first`, in its order, except for those entries themselves and for what
 * they may need, through any alternative, before they can be made. What an earlier entry may need cannot wait for a later one either.
 *
 * @param needOf the need that an entry of `first` is made.
 * @param comesBefore made by `precedence` from the same steps.
 * @returns the added needs by id of the step; a step that gains none has no entry.
 */
export const firstNeeds = (
  steps: readonly Ordered[],
  first: readonly string[],
  needOf: (entry: string) => Need,
  comesBefore: ReturnType<typeof precedence>,
): ReadonlyMap<string, readonly Need[]> => {
  const added = new Map<string, Need[]>();
  const exempt = new Set<string>();
  for (const entry of first) {
    comesBefore(entry, exempt);
    const need = needOf(entry);
    for (const step of steps) {
      if (exempt.has(step.of ?? step.id)) continue;
      const list = added.get(step.id) ?? [];
      list.push(need);
      added.set(step.id, list);
    }
  }
  return added;
};
