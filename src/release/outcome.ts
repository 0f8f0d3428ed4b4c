// Owns what a plan moves, for the solver's answer: what goes up with each lift, what is set aside, what is hung aside.

import type { Problem } from "./problem.ts";
import type { Plan, Step } from "./result.ts";

/** What this order moves. Each lift costs a search from its parts; the rest is linear. */
export function outcomeOf(problem: Problem, order: readonly Step[]): Pick<Plan, "lifts" | "setAside" | "hung"> {
  const parts = new Map(problem.parts.map((part) => [part.id, part]));
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const tiesOf = new Map<string, { readonly id: string; readonly joins: readonly string[] }[]>();
  const tie = (id: string, joins: readonly string[]): void => {
    for (const part of joins) {
      const ties = tiesOf.get(part);
      if (ties === undefined) tiesOf.set(part, [{ id, joins }]);
      else ties.push({ id, joins });
    }
  };
  for (const { id, joins } of problem.connections) tie(id, joins);
  const released = new Set(problem.released);
  const groupOf = (from: readonly string[]): string[] => {
    const group = new Set(from.filter((id) => parts.has(id)));
    for (const part of group)
      for (const { id, joins } of tiesOf.get(part) ?? [])
        if (!released.has(id)) for (const other of joins) group.add(other);
    return problem.parts.flatMap(({ id }) => (group.has(id) ? [id] : []));
  };

  const lifts: Plan["lifts"][number][] = [];
  const hung = new Set<string>();
  const up = new Set<string>();
  for (const step of order) {
    if ("release" in step) released.add(step.release);
    if (!("do" in step)) continue;
    const task = tasks.get(step.do);
    if (task?.hang !== undefined && !hung.has(task.id)) {
      hung.add(task.id);
      tie(task.id, [task.hang.part, task.hang.to]);
    }
    if (task?.lift === undefined) continue;
    const group = groupOf(task.lift.parts);
    const mass = group.reduce((sum, id) => sum + (parts.get(id)?.mass ?? 0), 0);
    lifts.push({ task: task.id, parts: group, mass });
    for (const id of group) up.add(id);
  }
  const loose = ({ id, fixed }: Problem["parts"][number]): boolean =>
    !fixed && !up.has(id) && tiesOf.has(id) && (tiesOf.get(id) ?? []).every((one) => released.has(one.id));
  return { lifts, setAside: problem.parts.filter(loose).map(({ id }) => id), hung: [...hung] };
}
