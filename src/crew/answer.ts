// Owns the way back from ticks to minutes: a schedule in the problem's own ids from what was built, and what it costs.

import { type Built, type Spot, tally } from "./built.ts";
import { workedOff } from "./diary.ts";
import type { Work } from "./problem.ts";
import type { Figures, Placed, Schedule } from "./result.ts";
import type { Shop } from "./shop.ts";

/** When the people of a work leave, minutes. */
const freeOf = (shop: Shop, work: Work, start: number, people: readonly number[]): number =>
  work.pauses && people.length > 0
    ? workedOff(
        people.map(
          (person) =>
            shop.problem.people[person]?.shifts?.flatMap(({ from, until }) => [from, until]) ?? [
              Number.NEGATIVE_INFINITY,
              Number.POSITIVE_INFINITY,
            ],
        ),
        start,
        work.minutes,
      )
    : start + work.minutes;

const placedOf = (
  shop: Shop,
  work: Work & { readonly alone?: number },
  start: number,
  spot: Spot,
): Omit<Placed, "task"> => {
  const free = freeOf(shop, work, start, spot.people);
  return {
    start,
    free,
    end: free + (work.alone ?? 0),
    people: spot.people.map((person) => shop.problem.people[person]?.id ?? ""),
  };
};

/** The schedule in minutes. */
export const scheduleOf = (shop: Shop, built: Built): Schedule => {
  const { problem, unit } = shop;
  return {
    tasks: problem.tasks.flatMap((task, place) => {
      const spot = built.tasks[place];
      if (spot === undefined) return [];
      return [{ task: task.id, ...placedOf(shop, task, task.begun?.start ?? spot.start / unit, spot) }];
    }),
    changes: built.changes.flatMap((spot) => {
      const turns = shop.works[spot.work]?.turns;
      const state = turns === undefined ? undefined : problem.states[turns.state];
      if (turns === undefined || state === undefined) return [];
      const work = turns.value ? state.set : state.clear;
      return [{ state: state.id, to: turns.value, ...placedOf(shop, work, spot.start / unit, spot) }];
    }),
  };
};

/** What the schedule costs, minutes. */
export const figuresOf = (shop: Shop, schedule: Schedule, built: Built): Figures => {
  const now = shop.problem.now ?? 0;
  const ends = [...schedule.tasks, ...schedule.changes].map((placed) => placed.end);
  return {
    elapsed: Math.max(0, ...ends.map((end) => end - now)),
    labour: built.labour / shop.unit,
    moves: built.moves,
    retold: built.retold,
  };
};

/** A schedule as if it had been built; undefined where a time is no whole number of ticks, or a task or person is missing. */
export const takenFrom = (shop: Shop, schedule: Schedule): Built | undefined => {
  const { problem, unit } = shop;
  const persons = new Map(problem.people.map(({ id }, place) => [id, place]));
  const spotOf = (work: number, { start, free, end, people }: Omit<Placed, "task">): Spot => ({
    work,
    start: start * unit,
    free: free * unit,
    end: end * unit,
    people: people.map((id) => persons.get(id) ?? Number.NaN),
  });
  const placed = new Map(schedule.tasks.map((task) => [task.task, task]));
  const tasks = problem.tasks.flatMap(({ id }, place): Spot[] => {
    const one = placed.get(id);
    return one === undefined ? [] : [spotOf(place, one)];
  });
  const states = new Map(problem.states.map(({ id }, place) => [id, place]));
  const changes = schedule.changes.map((change): Spot => {
    const state = shop.states[states.get(change.state) ?? -1];
    return spotOf(state?.turn[change.to ? 1 : 0] ?? Number.NaN, change);
  });
  const whole = [...tasks, ...changes].every(({ work, start, free, end, people }) =>
    [work, start, free, end, ...people].every(Number.isInteger),
  );
  return whole && tasks.length === problem.tasks.length ? tally(shop, tasks, changes) : undefined;
};

/** What was built as if it had been, from starts and nobody's time: of a question without people, states and ways. */
export const builtOf = (shop: Shop, starts: ArrayLike<number>): Built => {
  const tasks = shop.works.slice(0, shop.tasks).map((work, place): Spot => {
    const start = (starts[place] ?? 0) + shop.now;
    return { work: place, start, free: start + work.ticks, end: start + work.ticks + work.alone, people: [] };
  });
  return {
    tasks,
    changes: [],
    finish: tasks.reduce((last, { end }) => Math.max(last, end), shop.now),
    labour: 0,
    moves: 0,
    retold: 0,
    sum: tasks.reduce((sum, { end }) => sum + end, 0),
  };
};
