// Owns what is wrong with the question as data: ids that nothing has or two things have, figures that are none, ways that are no ways.

import type { Problem, Work } from "./problem.ts";
import type { Lack } from "./result.ts";

/** A work under the id that a lack names: the task, or the state of a change. */
export interface Named {
  readonly at: string;
  readonly work: Work;
}

export const worksOf = ({ tasks, states }: Problem): readonly Named[] => [
  ...tasks.map((task) => ({ at: task.id, work: task })),
  ...states.flatMap(({ id, set, clear }) => [
    { at: id, work: set },
    { at: id, work: clear },
  ]),
];

const repeated = (ids: readonly string[]): readonly string[] => [
  ...new Set(ids.filter((id, place) => ids.indexOf(id) !== place)),
];

/** Two of a kind with one id, or one person twice where people are listed. */
export const twice = (problem: Problem): readonly Lack[] =>
  [
    problem.people.map(({ id }) => id),
    problem.stocks.map(({ id }) => id),
    problem.positions.map(({ id }) => id),
    problem.states.map(({ id }) => id),
    problem.tasks.map(({ id }) => id),
    ...problem.tasks.map(({ begun }) => begun?.people ?? []),
    (problem.told?.tasks ?? []).map(({ task }) => task),
  ].flatMap((ids) => repeated(ids).map((at): Lack => ({ what: "twice", at })));

/** Ids that nothing of the kind has. */
export const unknown = (problem: Problem): readonly Lack[] => {
  const lacks: Lack[] = [];
  const askFrom = (list: readonly { readonly id: string }[]) => {
    const known = new Set(list.map(({ id }) => id));
    return (at: string, ids: readonly string[]): void => {
      for (const id of new Set(ids)) if (!known.has(id)) lacks.push({ what: "unknown id", at, id });
    };
  };
  const people = askFrom(problem.people);
  const stocks = askFrom(problem.stocks);
  const positions = askFrom(problem.positions);
  const states = askFrom(problem.states);
  const tasks = askFrom(problem.tasks);
  for (const { id, at } of problem.people) if (at !== undefined) positions(id, [at]);
  for (const { at, work } of worksOf(problem)) {
    stocks(
      at,
      work.uses.map(({ stock }) => stock),
    );
    positions(at, [...(work.position === undefined ? [] : [work.position]), ...work.empties]);
    states(at, [...work.on, ...work.off]);
  }
  for (const { id, after, notBy, begun } of problem.tasks) {
    tasks(id, [...after.map(({ task }) => task), ...notBy]);
    people(id, begun?.people ?? []);
  }
  for (const { id, set, clear } of problem.states)
    tasks(id, [...set.after, ...set.before, ...clear.after, ...clear.before]);
  for (const { stock, from, until } of problem.holds) {
    stocks(from, [stock]);
    tasks(from, [from, until]);
  }
  for (const [a, b] of problem.apart) tasks(a, [a, b]);
  for (const { task, people: told } of problem.told?.tasks ?? []) {
    tasks(task, [task]);
    people(task, told);
  }
  return lacks;
};

const minutes = (value: number): boolean => Number.isFinite(value) && value >= 0;
const count = (value: number): boolean => Number.isInteger(value) && value >= 0;
const number = (value: number): boolean => !Number.isNaN(value);

/** Figures that are none: negative, broken where only whole ones count, not a number, without end. */
export const figures = (problem: Problem): readonly Lack[] => {
  const lacks: Lack[] = [];
  const ask = (at: string, field: string, value: number, good: (value: number) => boolean): void => {
    if (!good(value)) lacks.push({ what: "not a figure", at, field, value });
  };
  const now = problem.now ?? 0;
  ask("now", "now", now, Number.isFinite);
  for (const { id, shifts } of problem.people)
    for (const { from, until } of shifts ?? []) {
      ask(id, "from", from, number);
      ask(id, "until", until, number);
    }
  for (const { id, count: have } of problem.stocks) ask(id, "count", have, count);
  for (const { id, room } of problem.positions) ask(id, "room", room, count);
  for (const { at, work } of worksOf(problem)) {
    ask(at, "minutes", work.minutes, minutes);
    for (const { count: seats } of work.crew) ask(at, "crew", seats, (value) => count(value) && value > 0);
    for (const { count: taken } of work.uses) ask(at, "uses", taken, count);
  }
  for (const { id, alone, after, begun } of problem.tasks) {
    ask(id, "alone", alone ?? 0, minutes);
    for (const { least, most } of after) {
      ask(id, "least", least ?? 0, Number.isFinite);
      ask(id, "most", most ?? 0, (value) => value > Number.NEGATIVE_INFINITY);
    }
    // Begun before the question, so not after its `now`.
    if (begun !== undefined) ask(id, "begun", begun.start, (value) => Number.isFinite(value) && !(value > now));
  }
  for (const { from, count: held } of problem.holds) ask(from, "holds", held, count);
  if (problem.told !== undefined) ask("told", "worth", problem.told.worth, minutes);
  for (const { task, start } of problem.told?.tasks ?? []) ask(task, "told", start, Number.isFinite);
  return lacks;
};

export const spells = ({ people }: Problem): readonly Lack[] =>
  people
    .filter(({ shifts = [] }) =>
      shifts.some(
        ({ from, until }, place) => from >= until || from <= (shifts[place - 1]?.until ?? Number.NEGATIVE_INFINITY),
      ),
    )
    .map(({ id }) => ({ what: "spells not rising", at: id }));

/** `moves` against what it must be: square, figures, nothing from a position to itself, no way round shorter than the direct one. */
export const ways = ({ positions, moves }: Problem): readonly Lack[] => {
  if (moves === undefined) return [];
  const size = positions.length;
  const wrong: Lack[] = [];
  if (moves.length !== size) wrong.push({ what: "not square", at: "moves", count: size, have: moves.length });
  for (const [from, { id }] of positions.entries()) {
    const row = moves[from] ?? [];
    if (row.length !== size && from < moves.length)
      wrong.push({ what: "not square", at: id, count: size, have: row.length });
    for (const [to, value] of row.entries())
      if (!minutes(value) || (from === to && value !== 0))
        wrong.push({ what: "not a figure", at: id, field: positions[to]?.id ?? "moves", value });
  }
  if (wrong.length > 0) return wrong;
  const way = (from: number, to: number): number => moves[from]?.[to] ?? 0;
  for (const [from, { id: at }] of positions.entries())
    for (const [to, { id }] of positions.entries()) {
      // The shortest over one other; that none is shorter over one is that none is over many.
      let over = -1;
      for (const middle of positions.keys())
        if (over < 0 || way(from, middle) + way(middle, to) < way(from, over) + way(over, to)) over = middle;
      const round = way(from, over) + way(over, to);
      // Sums of fractions round.
      if (round < way(from, to) - 1e-9)
        wrong.push({
          ...{ what: "shorter way round", at, to: id, over: positions[over]?.id ?? "" },
          ...{ minutes: way(from, to), round },
        });
    }
  return wrong;
};
