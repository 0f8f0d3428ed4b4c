// Owns the second look at a project's schedule, by the definition: times, what follows what, and what there is of each stock. It shares nothing with the search or the crew's checker.

import type { Problem, Schedule } from "../../src/crew/index.ts";

/** What is wrong, in words; empty when it is a schedule of the project that ends at `makespan`. */
export function faultsOf(problem: Problem, schedule: Schedule, makespan: number): readonly string[] {
  const faults: string[] = [];
  const placed = new Map(schedule.tasks.map((task) => [task.task, task]));
  if (placed.size !== problem.tasks.length) faults.push(`${placed.size} of ${problem.tasks.length} tasks placed`);
  let last = 0;
  const begins: { readonly at: number; readonly stock: string; readonly count: number }[] = [];
  for (const task of problem.tasks) {
    const one = placed.get(task.id);
    if (one === undefined || !(one.start >= 0) || one.end !== one.start + task.minutes) {
      faults.push(`${task.id} from ${one?.start} to ${one?.end}`);
      continue;
    }
    last = Math.max(last, one.end);
    for (const { task: first, least = 0 } of task.after)
      if (!(one.start >= (placed.get(first)?.end ?? Number.NaN) + least))
        faults.push(`${task.id} before ${first} has ended`);
    if (task.minutes > 0)
      for (const { stock, count } of task.uses)
        begins.push({ at: one.start, stock, count }, { at: one.end, stock, count: -count });
  }
  if (last !== makespan) faults.push(`ends at ${last}, said to end at ${makespan}`);
  // What ends at a minute is given back before what begins there takes it.
  begins.sort((a, b) => a.at - b.at || a.count - b.count);
  const free = new Map(problem.stocks.map(({ id, count }) => [id, count]));
  for (const { at, stock, count } of begins) {
    const left = (free.get(stock) ?? 0) - count;
    free.set(stock, left);
    if (left < 0) faults.push(`${stock} short by ${-left} at ${at}`);
  }
  return faults;
}

/** Minutes of the longest chain of tasks. */
export function criticalPath(problem: Problem): number {
  const ends = new Map<string, number>();
  const after = new Map(problem.tasks.map((task) => [task.id, task]));
  const endOf = (id: string): number => {
    const known = ends.get(id);
    const task = after.get(id);
    if (known !== undefined || task === undefined) return known ?? 0;
    ends.set(id, 0);
    const end = task.minutes + Math.max(0, ...task.after.map(({ task: first, least = 0 }) => endOf(first) + least));
    ends.set(id, end);
    return end;
  };
  return Math.max(0, ...problem.tasks.map(({ id }) => endOf(id)));
}
