// Owns what can never come one after the other: circles of tasks and of the changes of state that they want, and what had begun against the rules.

import { workedOff } from "./diary.ts";
import type { Change, Problem, State, Task, Work } from "./problem.ts";
import type { Lack } from "./result.ts";

const wantsTurned = ({ on, off }: Work, state: State): boolean => (state.on ? off : on).includes(state.id);

/** The change away from how a state is at the beginning, and the one back. */
const awayOf = (state: State): Change => (state.on ? state.clear : state.set);
const backOf = (state: State): Change => (state.on ? state.set : state.clear);

/** The works that every schedule has: all tasks, and the changes without which a needed work or the end would lack its state. */
export const neededOf = ({ tasks, states }: Problem): ReadonlySet<Work> => {
  const needed = new Set<Work>(tasks);
  for (let before = -1; before < needed.size; ) {
    before = needed.size;
    for (const state of states) {
      const { on, end } = state;
      if ((end !== undefined && end !== on) || [...needed].some((work) => wantsTurned(work, state)))
        needed.add(awayOf(state));
      if (end === on && needed.has(awayOf(state))) needed.add(backOf(state));
    }
  }
  return needed;
};

/** Works that want a state both ways, and changes that want the very state that they change. */
export const atOdds = ({ tasks, states }: Problem): readonly Lack[] => [
  ...[
    ...tasks.map((task) => ({ at: task.id, work: task })),
    ...states.flatMap(({ id, set, clear }) => [set, clear].map((work) => ({ at: id, work }))),
  ].flatMap(({ at, work }) =>
    work.on.filter((state) => work.off.includes(state)).map((state): Lack => ({ what: "on and off", at, state })),
  ),
  ...states
    .filter(({ id, set, clear }) => [set, clear].some(({ on, off }) => on.includes(id) || off.includes(id)))
    .map(({ id }): Lack => ({ what: "wants what it changes", at: id })),
];

/** When the people of a begun task leave. */
const freeOf = ({ people }: Problem, { minutes, pauses, begun }: Task): number => {
  const start = begun?.start ?? 0;
  const lists = people
    .filter(({ id }) => begun?.people.includes(id))
    .map(
      ({ shifts }) =>
        shifts?.flatMap(({ from, until }) => [from, until]) ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
    );
  return pauses && lists.length > 0 ? workedOff(lists, start, minutes) : start + minutes;
};

/** A moment in every schedule: the beginning of the clock, or a start or end of a task or change. */
interface Moment {
  /** Id of the task or state; absent for the beginning of the clock. */
  readonly of?: string;
  /** No earlier than `lag` after these. */
  readonly after: { readonly moment: Moment; readonly lag: number }[];
}

interface Stretch {
  readonly start: Moment;
  readonly end: Moment;
}

/** The moments and what must lie between them. */
const momentsOf = (problem: Problem): readonly Moment[] => {
  const { tasks, states, now = 0 } = problem;
  const clock: Moment = { after: [] };
  const all: Moment[] = [clock];
  const arc = (from: Moment | undefined, to: Moment | undefined, lag: number): void => {
    if (from !== undefined) to?.after.push({ moment: from, lag });
  };
  const stretch = (of: string, work: Work, alone: number): Stretch => {
    const [start, end]: [Moment, Moment] = [
      { of, after: [] },
      { of, after: [] },
    ];
    all.push(start, end);
    arc(start, end, work.minutes + alone);
    if (!work.pauses || work.crew.length === 0) arc(end, start, -(work.minutes + alone));
    return { start, end };
  };
  const done = new Map(tasks.map((task) => [task.id, stretch(task.id, task, task.alone ?? 0)]));
  for (const task of tasks) {
    const own = done.get(task.id);
    if (task.begun === undefined) arc(clock, own?.start, now);
    else {
      const end = freeOf(problem, task) + (task.alone ?? 0);
      for (const [moment, minute] of [
        [own?.start, task.begun.start],
        [own?.end, end],
      ] as const) {
        if (!Number.isFinite(minute)) continue;
        arc(clock, moment, minute);
        arc(moment, clock, -minute);
      }
    }
    for (const { task: first, least, most } of task.after) {
      const end = done.get(first)?.end;
      arc(end, own?.start, least ?? 0);
      if (most !== undefined && Number.isFinite(most)) arc(own?.start, end, -most);
    }
  }
  const needed = neededOf(problem);
  const change = (state: State, work: Change): Stretch | undefined => {
    if (!needed.has(work)) return undefined;
    const own = stretch(state.id, work, 0);
    arc(clock, own.start, now);
    for (const id of work.after) arc(done.get(id)?.end, own.start, 0);
    for (const id of work.before) arc(own.end, done.get(id)?.start, 0);
    return own;
  };
  // The first change of a state, and the last where it is to end as it began: what wants it otherwise lies between.
  const turned = states.map((state) => ({
    state,
    first: change(state, awayOf(state)),
    last: change(state, backOf(state)),
  }));
  const between = (work: Work & Partial<Pick<Task, "begun">>, own: Stretch | undefined): void => {
    for (const { state, first, last } of turned) {
      if (own === undefined || !wantsTurned(work, state)) continue;
      // What had begun without its state is told as such.
      if (work.begun === undefined) arc(first?.end, own.start, 0);
      arc(own.end, last?.start, 0);
    }
  };
  for (const task of tasks) between(task, done.get(task.id));
  for (const { state, first, last } of turned) {
    arc(first?.end, last?.start, 0);
    between(awayOf(state), first);
    between(backOf(state), last);
  }
  return all;
};

/** Minutes: a way round that gains less is none, since sums of fractions round. */
const SLACK = 1e-7;

/** A circle of moments each of which would have to come later than itself (Bellman and Ford); undefined where there is none. */
const circleIn = (moments: readonly Moment[]): readonly Moment[] | undefined => {
  const at = new Map(moments.map((moment) => [moment, 0]));
  const because = new Map<Moment, Moment>();
  let changed: Moment | undefined;
  for (let round = 0; round <= moments.length; round += 1) {
    changed = undefined;
    for (const moment of moments)
      for (const { moment: before, lag } of moment.after) {
        const from = at.get(before);
        if (from === undefined || from + lag <= (at.get(moment) ?? 0) + SLACK) continue;
        at.set(moment, from + lag);
        because.set(moment, before);
        changed = moment;
      }
    if (changed === undefined) return undefined;
  }
  // So many steps back, the walk is in the circle.
  let inside = changed;
  for (let step = 0; step < moments.length; step += 1) inside = (inside && because.get(inside)) ?? inside;
  const circle: Moment[] = [];
  for (let moment = inside; moment !== undefined && !circle.includes(moment); moment = because.get(moment))
    circle.unshift(moment);
  return circle;
};

/** Circles, one at a time: what lies in one is left out of the next. */
export const circles = (problem: Problem): readonly Lack[] => {
  const lacks: Lack[] = [];
  let moments = momentsOf(problem);
  for (let circle = circleIn(moments); circle !== undefined; circle = circleIn(moments)) {
    const found = new Set(circle);
    const ids = [...new Set(circle.flatMap(({ of }) => of ?? []))];
    lacks.push(
      circle.some(({ of }) => of === undefined)
        ? { what: "contradiction", tasks: ids, rules: ["under way", "after"] }
        : { what: "circle", tasks: ids },
    );
    // The clock stays: others are measured by it too.
    moments = moments.filter((moment) => moment.of === undefined || !found.has(moment));
  }
  return lacks;
};

/** What had begun, each of which is right by itself and which cannot be together. */
export const begunAgainst = (problem: Problem): readonly Lack[] => {
  const { tasks, states, stocks, positions, holds, apart, now = 0 } = problem;
  const lacks: Lack[] = [];
  const say = (rule: string, ids: readonly string[]): void => {
    lacks.push({ what: "contradiction", tasks: ids, rules: ["under way", rule] });
  };
  const begun = tasks.flatMap((task) => {
    if (task.begun === undefined) return [];
    const free = freeOf(problem, task);
    return [{ ...task.begun, task, free, end: free + (task.alone ?? 0) }];
  });
  const meet = (from: number, until: number, other: number, end: number): boolean =>
    from < until && other < end && from < end && other < until;
  for (const [place, one] of begun.entries()) {
    for (const state of states) if (one.start < now && wantsTurned(one.task, state)) say("states", [one.task.id]);
    for (const two of begun.slice(place + 1)) {
      const both = [one.task.id, two.task.id];
      if (one.people.some((id) => two.people.includes(id)) && meet(one.start, one.free, two.start, two.free))
        say("people", both);
      if (apart.some((pair) => both.every((id) => pair.includes(id))) && meet(one.start, one.end, two.start, two.end))
        say("apart", both);
    }
    for (const two of begun)
      if (
        two !== one &&
        two.people.length > 0 &&
        one.task.empties.some((position) => position === two.task.position) &&
        meet(one.start, one.end, two.start, two.free)
      )
        say("empty positions", [one.task.id, two.task.id]);
  }
  interface Taken {
    readonly id: string;
    readonly from: number;
    readonly until: number;
    readonly count: number;
  }
  const overdrawn = (rule: string, count: number, takings: readonly Taken[]): void => {
    const long = takings.filter(({ from, until }) => from < until);
    const peaks = long.map(({ from }) => long.filter((one) => one.from <= from && from < one.until));
    const over = peaks.find((taken) => taken.reduce((sum, one) => sum + one.count, 0) > count);
    // One alone is too much by itself, and named as such.
    if (over !== undefined && over.length > 1) say(rule, [...new Set(over.map(({ id }) => id))]);
  };
  for (const stock of stocks)
    overdrawn("stocks", stock.count, [
      ...begun.flatMap(({ task, start, end }) =>
        task.uses
          .filter((use) => use.stock === stock.id)
          .map(({ count }) => ({ id: task.id, from: start, until: end, count })),
      ),
      ...holds.flatMap((hold) => {
        const first = begun.find(({ task }) => task.id === hold.from);
        const last = tasks.find(({ id }) => id === hold.until);
        if (first === undefined || last === undefined || hold.stock !== stock.id) return [];
        const until = begun.find(({ task }) => task === last)?.end ?? now + last.minutes + (last.alone ?? 0);
        return [{ id: hold.from, from: first.start, until, count: hold.count }];
      }),
    ]);
  for (const { id, room } of positions)
    overdrawn(
      "room",
      room,
      begun
        .filter(({ task }) => task.position === id)
        .map(({ task, start, free, people }) => ({ id: task.id, from: start, until: free, count: people.length })),
    );
  return lacks;
};

/** Tasks that would have to be apart from themselves. */
export const apartFromItself = ({ apart, tasks }: Problem): readonly Lack[] =>
  tasks
    .filter(({ id, minutes, alone }) => minutes + (alone ?? 0) > 0 && apart.some(([a, b]) => a === id && b === id))
    .map(({ id }) => ({ what: "contradiction", tasks: [id], rules: ["apart"] }));
