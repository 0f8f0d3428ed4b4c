// Owns the question in indices and whole ticks, as placing and relaxing read it: works (tasks, then a set and a clear for each state), people, places.

import type { Problem, Work } from "./problem.ts";

/** A work that wants a state to be so throughout. */
export interface Want {
  readonly state: number;
  readonly value: boolean;
}

/** A seat of a work: how many of the people marked 1 in `can`. */
export interface Bench {
  readonly count: number;
  readonly can: Uint8Array;
}

/** What comes before a work: it starts at least `least`, at most `most` (Infinity: any time) ticks after the end of `work`. */
export interface Before {
  readonly work: number;
  readonly least: number;
  readonly most: number;
}

export interface ShopWork {
  readonly id: string;
  /** Ticks of the people's time. */
  readonly ticks: number;
  /** Ticks that it runs on by itself. */
  readonly alone: number;
  readonly benches: readonly Bench[];
  /** People in all. */
  readonly people: number;
  /** By index who can fill any of its seats. */
  readonly able: readonly number[];
  readonly uses: readonly { readonly stock: number; readonly count: number }[];
  /** -1: wherever its people stand. */
  readonly position: number;
  readonly wants: readonly Want[];
  readonly empties: readonly number[];
  readonly pauses: boolean;
  readonly after: readonly Before[];
  readonly apart: readonly number[];
  /** Who was told to do it, and when to begin. */
  readonly told?: { readonly start: number; readonly people: readonly number[] };
  /** Works that share nobody with this one, in either direction of the rule. */
  readonly strangers: readonly number[];
  readonly begun?: { readonly start: number; readonly people: readonly number[] };
  /** Of a change: the state it changes and what it makes of it. */
  readonly turns?: Want;
}

export interface ShopState {
  readonly on: boolean;
  readonly end: boolean | undefined;
  /** Works of the changes to off and to on: `turn[value ? 1 : 0]`. */
  readonly turn: readonly [number, number];
  /** By value: tasks that end before such a change begins, and tasks that begin only after it ends. */
  readonly after: readonly [readonly number[], readonly number[]];
  readonly before: readonly [readonly number[], readonly number[]];
}

export interface ShopPerson {
  readonly skills: number;
  /** Spells of presence: from, until, from, until …; ticks, rising. */
  readonly spells: readonly number[];
  readonly at: number;
}

/** Whether a person is never away. */
export const isAlways = ({ spells }: ShopPerson): boolean =>
  spells.length === 2 && spells[0] === Number.NEGATIVE_INFINITY && spells[1] === Number.POSITIVE_INFINITY;

export interface Shop {
  readonly problem: Problem;
  /** Ticks in a minute. */
  readonly unit: number;
  /** Ticks that rounding may have added to the whole in all: 0 where every figure is a whole number of ticks. */
  readonly rounded: number;
  readonly now: number;
  /** Ticks that one task left with whom it was told to is worth. */
  readonly worth: number;
  /** The tasks are works 0 to tasks - 1, in the order of the problem. */
  readonly tasks: number;
  readonly works: readonly ShopWork[];
  readonly states: readonly ShopState[];
  readonly people: readonly ShopPerson[];
  readonly stocks: readonly number[];
  readonly rooms: readonly number[];
  readonly holds: readonly {
    readonly stock: number;
    readonly count: number;
    readonly from: number;
    readonly until: number;
  }[];
  /** Ticks from position to position; empty where moving takes no time. */
  readonly moves: readonly (readonly number[])[];
}

/** Finer than this nothing is told apart: a thousandth of a minute. */
const FINEST = 1000;
const SCALES = [1, 2, 3, 4, 5, 6, 8, 10, 12, 20, 30, 60, 100, 120, 200, 300, 500, 600, FINEST];

const figuresOf = (problem: Problem): readonly number[] => [
  problem.now ?? 0,
  ...problem.people.flatMap((person) => (person.shifts ?? []).flatMap(({ from, until }) => [from, until])),
  ...(problem.moves ?? []).flat(),
  ...problem.states.flatMap(({ set, clear }) => [set.minutes, clear.minutes]),
  ...problem.tasks.flatMap((task) => [
    task.minutes,
    task.alone ?? 0,
    task.begun?.start ?? 0,
    ...task.after.flatMap(({ least, most }) => [least ?? 0, most ?? 0]),
  ]),
];

const whole = (value: number): boolean => Math.abs(value - Math.round(value)) < 1e-7;

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** Ticks in a minute: the fewest that make every figure whole; thousandths where none do. */
const unitFor = (figures: readonly number[]): number => {
  const finite = figures.filter(Number.isFinite);
  const scale = SCALES.find((one) => finite.every((figure) => whole(figure * one)));
  if (scale === undefined) return FINEST;
  const common = finite.reduce((most, figure) => divisor(most, Math.abs(Math.round(figure * scale))), 0);
  return common === 0 ? scale : scale / common;
};

/** The problem in indices. It must be well-posed (`lacksOf` finds nothing). */
export const openShop = (problem: Problem): Shop => {
  const figures = figuresOf(problem);
  const unit = unitFor(figures);
  // Up, so that what is placed in ticks is legal in minutes; least lags below zero and most lags go the other way for the same reason.
  const up = (minutes: number): number => Math.ceil(minutes * unit - 1e-6);
  const down = (minutes: number): number => Math.floor(minutes * unit + 1e-6);
  const fine = figures.filter((figure) => Number.isFinite(figure) && !whole(figure * unit)).length;

  const index = (list: readonly { readonly id: string }[]) => new Map(list.map((one, place) => [one.id, place]));
  const stocks = index(problem.stocks);
  const positions = index(problem.positions);
  const states = index(problem.states);
  const tasks = index(problem.tasks);
  const persons = index(problem.people);
  const at = (map: ReadonlyMap<string, number>, id: string): number => map.get(id) ?? -1;

  const canOf = (skill: string | undefined): Uint8Array =>
    Uint8Array.from(problem.people, (person) => (skill === undefined || person.skills.includes(skill) ? 1 : 0));
  const everybody = problem.people.map((_, person) => person);
  const common = (work: Work) => ({
    ticks: up(work.minutes),
    benches: work.crew.map(({ count, skill }) => ({ count, can: canOf(skill) })),
    able: everybody.filter((person) => work.crew.some(({ skill }) => canOf(skill)[person] === 1)),
    people: work.crew.reduce((sum, { count }) => sum + count, 0),
    uses: work.uses.map(({ stock, count }) => ({ stock: at(stocks, stock), count })),
    position: work.position === undefined ? -1 : at(positions, work.position),
    wants: [
      ...work.on.map((state) => ({ state: at(states, state), value: true })),
      ...work.off.map((state) => ({ state: at(states, state), value: false })),
    ],
    empties: work.empties.map((position) => at(positions, position)),
    pauses: work.pauses && work.crew.length > 0,
  });

  const apart: number[][] = problem.tasks.map(() => []);
  for (const [a, b] of problem.apart) {
    apart[at(tasks, a)]?.push(at(tasks, b));
    apart[at(tasks, b)]?.push(at(tasks, a));
  }
  const strangers: number[][] = problem.tasks.map(() => []);
  for (const [place, task] of problem.tasks.entries()) {
    for (const other of task.notBy) {
      strangers[place]?.push(at(tasks, other));
      strangers[at(tasks, other)]?.push(place);
    }
  }
  const told = new Map((problem.told?.tasks ?? []).map((one) => [one.task, one]));
  const toldOf = (id: string): Pick<ShopWork, "told"> => {
    const one = told.get(id);
    if (one === undefined) return {};
    return { told: { start: one.start * unit, people: one.people.map((person) => at(persons, person)) } };
  };
  const works: ShopWork[] = problem.tasks.map((task, place) => ({
    ...common(task),
    id: task.id,
    alone: up(task.alone ?? 0),
    after: task.after.map(({ task: before, least, most }) => ({
      work: at(tasks, before),
      least: up(least ?? 0),
      most: most === undefined ? Number.POSITIVE_INFINITY : down(most),
    })),
    apart: apart[place] ?? [],
    strangers: strangers[place] ?? [],
    ...toldOf(task.id),
    ...(task.begun === undefined
      ? {}
      : { begun: { start: down(task.begun.start), people: task.begun.people.map((id) => at(persons, id)) } }),
  }));
  const shopStates = problem.states.map((state, place): ShopState => {
    const turn = [works.length, works.length + 1] as const;
    for (const [value, change] of [
      [false, state.clear],
      [true, state.set],
    ] as const) {
      works.push({
        ...common(change),
        id: state.id,
        alone: 0,
        after: [],
        apart: [],
        strangers: [],
        turns: { state: place, value },
      });
    }
    const listed = (ids: readonly string[]) => ids.map((id) => at(tasks, id));
    return {
      on: state.on,
      end: state.end,
      turn,
      after: [listed(state.clear.after), listed(state.set.after)],
      before: [listed(state.clear.before), listed(state.set.before)],
    };
  });

  return {
    problem,
    unit,
    rounded: fine,
    now: down(problem.now ?? 0),
    worth: (problem.told?.worth ?? 0) * unit,
    tasks: problem.tasks.length,
    works,
    states: shopStates,
    people: problem.people.map(({ skills, shifts, at: place }) => ({
      skills: skills.length,
      spells:
        shifts === undefined
          ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
          : shifts.flatMap(({ from, until }) => [up(from), down(until)]),
      at: place === undefined ? -1 : at(positions, place),
    })),
    stocks: problem.stocks.map(({ count }) => count),
    rooms: problem.positions.map(({ room }) => room),
    holds: problem.holds.map(({ stock, count, from, until }) => ({
      stock: at(stocks, stock),
      count,
      from: at(tasks, from),
      until: at(tasks, until),
    })),
    moves: (problem.moves ?? []).map((row) => row.map(up)),
  };
};
