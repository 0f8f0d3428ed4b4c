// Owns the steps that every plan of a question makes, as far as they are seen without a search: from what must be done down through what that needs.

import type { Need, Problem } from "../release/index.ts";

/** Ids of ways and tasks. What is joined straight to both sides of what must come apart is among them; where there is a choice, nothing is. */
export function mustOf({ connections, tasks, released }: Problem): ReadonlySet<string> {
  const byId = new Map(connections.map((one) => [one.id, one]));
  const taskById = new Map(tasks.map((one) => [one.id, one]));
  const loose = new Set(released);
  const steps = new Set<string>();
  const make = (step: {
    readonly id: string;
    readonly needs: readonly Need[];
    readonly entails: readonly string[];
  }) => {
    if (steps.has(step.id)) return;
    steps.add(step.id);
    step.needs.forEach(hold);
    for (const id of step.entails) done(id);
  };
  const done = (id: string) => {
    const task = taskById.get(id);
    if (task !== undefined) make(task);
  };
  const release = (id: string) => {
    const [way, other] = loose.has(id) ? [] : (byId.get(id)?.ways ?? []);
    if (way !== undefined && other === undefined) make(way);
  };
  const hold = (need: Need): void => {
    if ("all" in need) need.all.forEach(hold);
    else if ("released" in need) release(need.released);
    else if ("done" in need) done(need.done);
    else if ("any" in need) {
      const [only, other] = need.any;
      if (only !== undefined && other === undefined) hold(only);
    } else {
      const [one, another] = need.apart.map((ids) => new Set(ids));
      for (const { id, joins } of connections)
        if (joins.some((part) => one?.has(part)) && joins.some((part) => another?.has(part))) release(id);
    }
  };
  for (const task of tasks) if (task.must) make(task);
  return steps;
}
