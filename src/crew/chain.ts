// Owns what makes a schedule as long as it is: from the last end back to the beginning, each time what had to be over first.

import type { Problem, Work } from "./problem.ts";
import type { Changed, Link, Placed, Schedule } from "./result.ts";

/** Minutes that count as the same. */
const SAME = 1e-6;

interface Stood {
  readonly id: string;
  readonly work: Work;
  readonly placed: Placed | Changed;
}

const isTask = (placed: Placed | Changed): placed is Placed => "task" in placed;

/** Why each work of a legal schedule begins no earlier; `then` is the work that had to be over first. */
interface Traced extends Stood {
  readonly because: Link["because"];
  readonly then?: Stood;
}

/**
 * What holds each work of a legal schedule. Of several things that a work waited for, what the job itself asks for is named before what is scarce: after another task, a state, a position,
 * a stock, a person. What waited for none of them waited for somebody to be there, or for nothing: then it could begin earlier without helping anything.
 */
const trace = (problem: Problem, schedule: Schedule): readonly Traced[] => {
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const states = new Map(problem.states.map((state) => [state.id, state]));
  const places = new Map(problem.positions.map(({ id }, place) => [id, place]));
  const stood: Stood[] = [
    ...schedule.tasks.flatMap((placed) => {
      const work = tasks.get(placed.task);
      return work === undefined ? [] : [{ id: placed.task, work, placed }];
    }),
    ...schedule.changes.flatMap((placed) => {
      const state = states.get(placed.state);
      return state === undefined ? [] : [{ id: placed.state, work: placed.to ? state.set : state.clear, placed }];
    }),
  ];
  const now = problem.now ?? 0;
  const way = (from: string | undefined, to: string | undefined): number =>
    from === undefined || to === undefined ? 0 : (problem.moves?.[places.get(from) ?? -1]?.[places.get(to) ?? -1] ?? 0);
  const meets = (time: number, at: number): boolean => Math.abs(time - at) < SAME;

  /** What was over when this one began, and why it had to be. */
  const before = ({ work, placed }: Stood): { readonly because: Link["because"]; readonly then?: Stood } => {
    const { start } = placed;
    if (start <= now + SAME) return { because: { kind: "beginning" } };
    const others = stood.filter((one) => one.placed !== placed && one.placed.start < start + SAME);
    const after =
      "after" in work && isTask(placed)
        ? (tasks.get(placed.task)?.after ?? []).map(({ task, least }) => ({ task, least: least ?? 0 }))
        : "after" in work
          ? (work as unknown as { readonly after: readonly string[] }).after.map((task) => ({ task, least: 0 }))
          : [];
    for (const { task, least } of after) {
      const then = others.find((one) => isTask(one.placed) && one.id === task && meets(one.placed.end + least, start));
      if (then !== undefined) return { because: { kind: "after", task }, then };
    }
    const wanted = new Set([...work.on, ...work.off]);
    for (const then of others) {
      if (!isTask(then.placed) && wanted.has(then.id) && meets(then.placed.end, start))
        return { because: { kind: "state", id: then.id }, then };
      // A change waits for the last work that wanted the state as it was.
      if (
        !isTask(placed) &&
        meets(then.placed.end, start) &&
        [...then.work.on, ...then.work.off].includes(placed.state)
      )
        return { because: { kind: "state", id: placed.state, task: then.id }, then };
    }
    const ended = others.filter((one) => meets(one.placed.end, start) || meets(one.placed.free, start));
    const apart = new Set(
      problem.apart.flatMap(([a, b]) =>
        isTask(placed) && a === placed.task ? [b] : isTask(placed) && b === placed.task ? [a] : [],
      ),
    );
    for (const then of ended) {
      if (apart.has(then.id)) return { because: { kind: "after", task: then.id }, then };
      const position = work.position;
      const clears = position !== undefined && then.work.empties.includes(position);
      const cleared = then.work.position !== undefined && work.empties.includes(then.work.position);
      if (clears || cleared)
        return {
          because: { kind: "position", id: (clears ? position : then.work.position) ?? "", task: then.id },
          then,
        };
    }
    for (const then of ended) {
      const stock = work.uses.find((use) => then.work.uses.some((other) => other.stock === use.stock));
      if (stock !== undefined && meets(then.placed.end, start))
        return { because: { kind: "stock", id: stock.stock, task: then.id }, then };
    }
    for (const then of ended) {
      const room = problem.positions.find(({ id }) => id === work.position)?.room ?? 0;
      const there = others.filter((one) => one.work.position === work.position && one.placed.free > start - SAME);
      const count = there.reduce((sum, one) => sum + one.placed.people.length, 0) + placed.people.length;
      if (then.work.position !== undefined && then.work.position === work.position && count > room)
        return { because: { kind: "position", id: then.work.position, task: then.id }, then };
    }
    for (const person of placed.people) {
      const mine = others
        .filter((one) => one.placed.people.includes(person))
        .sort((a, b) => a.placed.start - b.placed.start);
      const then = mine.at(-1);
      const stands = mine.findLast((one) => one.work.position !== undefined)?.work.position;
      if (then !== undefined && meets(then.placed.free + way(stands, work.position), start))
        return { because: { kind: "person", id: person, task: then.id }, then };
    }
    for (const person of placed.people) {
      const shifts = problem.people.find(({ id }) => id === person)?.shifts;
      if (shifts?.some(({ from }) => meets(from, start)) === true) {
        const then = others
          .filter((one) => one.placed.people.includes(person))
          .sort((a, b) => a.placed.start - b.placed.start)
          .at(-1);
        return { because: { kind: "shift", id: person }, ...(then === undefined ? {} : { then }) };
      }
    }
    return { because: { kind: "beginning" } };
  };

  return stood.map((one) => ({ ...one, ...before(one) }));
};

const linkOf = ({ id, placed, because }: Traced): Link => ({ task: id, start: placed.start, end: placed.end, because });

/** Of every work of a legal schedule, tasks first: why it begins no earlier. What begins later than it could without helping anything is held by the beginning. */
export const linksOf = (problem: Problem, schedule: Schedule): readonly Link[] => trace(problem, schedule).map(linkOf);

/** The chain of a legal schedule: from the last end back to the beginning. */
export const chainOf = (problem: Problem, schedule: Schedule): readonly Link[] => {
  const all = trace(problem, schedule);
  const traced = new Map(all.map((one) => [one.placed, one]));
  const last = all.reduce<Traced | undefined>(
    (latest, one) => (latest === undefined || one.placed.end > latest.placed.end ? one : latest),
    undefined,
  );
  const links: Link[] = [];
  const seen = new Set<Traced>();
  for (let at = last; at !== undefined && !seen.has(at); ) {
    seen.add(at);
    links.push(linkOf(at));
    at = at.then === undefined ? undefined : traced.get(at.then.placed);
  }
  return links.reverse();
};
