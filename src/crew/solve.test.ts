// The search, its bound and its proof: against trying everything on tiny questions, and by laws that hold whatever the question is.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/crew/brute.ts";
import { shopProblem, tinyProblem } from "../../bench/crew/random.ts";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { check } from "./check.ts";
import { lacksOf } from "./lacks.ts";
import type { Change, Problem, Work } from "./problem.ts";
import type { Result } from "./result.ts";
import { solve } from "./solve.ts";

const seeds = (from: number, count: number): readonly number[] => Array.from({ length: count }, (_, at) => from + at);

/** Few enough that thousands take seconds. */
const LITTLE = { schedules: 120, conflicts: 200 };
const STATES = 250;

/** What is true of every answer, whatever the least time is. */
const sound = (problem: Problem, result: Result, why: string): void => {
  const { status, schedule, figures, bound, lacks } = result;
  expect(schedule === undefined, why).toBe(status === "infeasible" || status === "unknown");
  expect(lacks.length > 0, why).toBe(status === "infeasible");
  expect(bound === Number.POSITIVE_INFINITY, why).toBe(status === "infeasible");
  if (schedule === undefined || figures === undefined) return;
  const verdict = check(problem, schedule);
  expect(verdict.faults, why).toEqual([]);
  // Of works without length at one minute the checker takes the order with the fewest moves.
  expect(figures.moves, why).toBeGreaterThanOrEqual(verdict.figures.moves);
  expect({ ...verdict.figures, moves: figures.moves }, why).toEqual(figures);
  expect(bound, why).toBeLessThanOrEqual(figures.elapsed);
  expect(status === "optimal", why).toBe(bound === figures.elapsed);
};

describe("against trying everything", () => {
  const tally = { tried: 0, none: 0, refuted: 0, some: 0, least: 0, proved: 0 };
  const against = (seed: number): void => {
    const problem = tinyProblem(seed);
    // What lacks something is answered before any search, and held to trying everything with the lacks.
    if (lacksOf(problem).length > 0) return;
    const { elapsed } = brute(problem, STATES);
    if (Number.isNaN(elapsed)) return;
    const why = `seed ${seed}`;
    const result = solve(problem, LITTLE);
    sound(problem, result, why);
    // So: infeasible only where there is none, no schedule below the least, and what is called optimal is the least.
    expect(result.bound, why).toBeLessThanOrEqual(elapsed);
    if (result.figures !== undefined) expect(result.figures.elapsed, why).toBeGreaterThanOrEqual(elapsed);
    tally.tried += 1;
    if (elapsed === Number.POSITIVE_INFINITY) {
      tally.none += 1;
      if (result.status === "infeasible") tally.refuted += 1;
    } else {
      tally.some += 1;
      if (result.figures?.elapsed === elapsed) tally.least += 1;
      if (result.status === "optimal") tally.proved += 1;
    }
  };

  // Seeds that once showed a fault: a bound above the least, a change counted twice, a state left wrong at the end, work begun in the past, a search without end.
  const ONCE = [33, 63, 81, 96, 139, 227, 269, 297, 333, 347, 450, 561, 665, 1771, 5064, 5229, 11814, 11884, 11903];
  test.each(ONCE)("seed %i", (seed) => {
    const problem = tinyProblem(seed);
    const { elapsed } = brute(problem);
    const result = solve(problem, { schedules: 300, conflicts: 500 });
    sound(problem, result, `seed ${seed}`);
    expect(result.bound).toBeLessThanOrEqual(elapsed);
    if (result.figures !== undefined) expect(result.figures.elapsed).toBeGreaterThanOrEqual(elapsed);
  });

  test.each(seeds(0, 5))("600 tiny questions, part %i", (part) => {
    for (const seed of seeds(10_000 + part * 120, 120)) against(seed);
  });

  test("it is not only sound: some that have no schedule are refuted by search, most that have one get the least", () => {
    expect(tally.tried).toBeGreaterThan(200);
    expect(tally.none).toBeGreaterThan(3);
    expect(tally.refuted).toBeGreaterThan(0.3 * tally.none);
    expect(tally.least).toBeGreaterThan(0.85 * tally.some);
    expect(tally.proved).toBeGreaterThan(0.6 * tally.some);
  });
});

test("where the proof has nothing left to try and nothing shorter is found any more it ends, however much time it has", () => {
  const problem = tinyProblem(10_028);
  const result = solve(problem, { seconds: 1, clock: () => 0 });
  sound(problem, result, "ended by itself");
  expect(result.status).toBe("feasible");
  expect(result.figures?.elapsed).toBe(brute(problem).elapsed);
});

/** Neither answer may contradict the other when the first question's schedules are all schedules of the second, `factor` times as long. */
const noLonger = (first: Result, second: Result, why: string, factor = 1): void => {
  if (first.figures !== undefined) expect(second.bound, why).toBeLessThanOrEqual(first.figures.elapsed * factor + 1e-9);
};

/** The question with each figure of time put through `change`, and each length through `scale`. */
const retimed = (problem: Problem, at: (minute: number) => number, scale: (minutes: number) => number): Problem => {
  const work = <W extends Work>(one: W): W => ({ ...one, minutes: scale(one.minutes) });
  return {
    ...problem,
    now: at(problem.now ?? 0),
    people: problem.people.map(({ shifts, ...person }) => ({
      ...person,
      ...(shifts === undefined
        ? {}
        : { shifts: shifts.map(({ from, until }) => ({ from: at(from), until: at(until) })) }),
    })),
    states: problem.states.map((state) => ({
      ...state,
      set: work<Change>(state.set),
      clear: work<Change>(state.clear),
    })),
    tasks: problem.tasks.map((task) => ({
      ...work(task),
      ...(task.alone === undefined ? {} : { alone: scale(task.alone) }),
      after: task.after.map(({ task: first, least, most }) => ({
        task: first,
        ...(least === undefined ? {} : { least: scale(least) }),
        ...(most === undefined ? {} : { most: scale(most) }),
      })),
      ...(task.begun === undefined ? {} : { begun: { ...task.begun, start: at(task.begun.start) } }),
    })),
    ...(problem.moves === undefined ? {} : { moves: problem.moves.map((row) => row.map(scale)) }),
  };
};

const shuffled = <T>(chance: Chance, list: readonly T[]): readonly T[] => chance.some(list, list.length);

/** The same question: everything renamed, and listed in another order. */
const renamed = (chance: Chance, problem: Problem): Problem => {
  const name = (id: string): string => `${id}'`;
  const names = (ids: readonly string[]): readonly string[] => shuffled(chance, ids).map(name);
  const work = <W extends Work>(one: W): W => ({
    ...one,
    crew: shuffled(chance, one.crew),
    uses: shuffled(chance, one.uses).map(({ stock, count }) => ({ stock: name(stock), count })),
    ...(one.position === undefined ? {} : { position: name(one.position) }),
    on: names(one.on),
    off: names(one.off),
    empties: names(one.empties),
  });
  const change = (one: Change): Change => ({ ...work(one), after: names(one.after), before: names(one.before) });
  const order = shuffled(chance, [...problem.positions.keys()]);
  return {
    ...problem,
    people: shuffled(chance, problem.people).map(({ at, ...person }) => ({
      ...person,
      id: name(person.id),
      ...(at === undefined ? {} : { at: name(at) }),
    })),
    stocks: shuffled(chance, problem.stocks).map((stock) => ({ ...stock, id: name(stock.id) })),
    positions: order.flatMap((place) => problem.positions[place] ?? []).map(({ id, room }) => ({ id: name(id), room })),
    ...(problem.moves === undefined
      ? {}
      : { moves: order.map((from) => order.map((to) => problem.moves?.[from]?.[to] ?? 0)) }),
    states: shuffled(chance, problem.states).map((state) => ({
      ...state,
      id: name(state.id),
      set: change(state.set),
      clear: change(state.clear),
    })),
    tasks: shuffled(chance, problem.tasks).map((task) => ({
      ...work(task),
      id: name(task.id),
      after: task.after.map((one) => ({ ...one, task: name(one.task) })),
      notBy: names(task.notBy),
      ...(task.begun === undefined ? {} : { begun: { ...task.begun, people: names(task.begun.people) } }),
    })),
    holds: problem.holds.map((hold) => ({
      ...hold,
      stock: name(hold.stock),
      from: name(hold.from),
      until: name(hold.until),
    })),
    apart: problem.apart.map(([a, b]) => [name(b), name(a)]),
  };
};

/** A project of tasks and stocks alone, with a made-up share of the stocks for each. */
const plainProblem = (chance: Chance, count: number): Problem => ({
  people: [],
  stocks: ["s1", "s2"].map((id) => ({ id, count: chance.whole(3, 5) })),
  positions: [],
  states: [],
  tasks: Array.from({ length: count }, (_, place) => ({
    id: `t${place}`,
    minutes: chance.whole(1, 9),
    crew: [],
    uses: ["s1", "s2"].map((stock) => ({ stock, count: chance.whole(0, 3) })),
    on: [],
    off: [],
    empties: [],
    pauses: false,
    after: Array.from({ length: place }, (_, first) => ({ task: `t${first}` })).filter(() =>
      chance.hit(2 / (place + 1)),
    ),
    notBy: [],
  })),
  holds: [],
  apart: [],
});

const reversed = (problem: Problem): Problem => ({
  ...problem,
  tasks: problem.tasks.map((task) => ({
    ...task,
    after: problem.tasks
      .filter(({ after }) => after.some((one) => one.task === task.id))
      .map(({ id }) => ({ task: id })),
  })),
});

describe("whatever the question is", () => {
  const SOME = seeds(20_000, 60);
  const answers = SOME.map((seed) => ({ seed, problem: tinyProblem(seed), result: solve(tinyProblem(seed), LITTLE) }));

  test("the same seed and the same counts give the same answer", () => {
    for (const { seed, problem, result } of answers) expect(solve(problem, LITTLE), `seed ${seed}`).toEqual(result);
  });

  test("one more person never lengthens it", () => {
    for (const { seed, problem, result } of answers)
      for (const { shifts: _, at: __, ...person } of problem.people.slice(0, 1)) {
        const people = [...problem.people, { ...person, id: "one more" }];
        noLonger(result, solve({ ...problem, people }, LITTLE), `seed ${seed}`);
      }
  });

  test("one more of each stock, and room for one more, never lengthens it", () => {
    for (const { seed, problem, result } of answers) {
      const stocks = problem.stocks.map((stock) => ({ ...stock, count: stock.count + 1 }));
      const positions = problem.positions.map((position) => ({ ...position, room: position.room + 1 }));
      noLonger(result, solve({ ...problem, stocks, positions }, LITTLE), `seed ${seed}`);
    }
  });

  test("fewer rules never lengthen it", () => {
    for (const { seed, problem, result } of answers) {
      const fewer = { ...problem, apart: [], holds: [], tasks: problem.tasks.map((task) => ({ ...task, notBy: [] })) };
      noLonger(result, solve(fewer, LITTLE), `seed ${seed}`);
    }
  });

  test("time three times as long makes it three times as long, and so does a third", () => {
    for (const { seed, problem, result } of answers)
      for (const factor of [3, 1 / 3]) {
        const scale = (minutes: number): number => minutes * factor;
        const other = solve(retimed(problem, scale, scale), LITTLE);
        expect(other.status, `seed ${seed}`).toBe(result.status);
        noLonger(result, other, `seed ${seed}`, factor);
        noLonger(other, result, `seed ${seed}`, 1 / factor);
      }
  });

  test("another beginning of the clock changes nothing", () => {
    for (const { seed, problem, result } of answers) {
      const other = solve(
        retimed(
          problem,
          (minute) => minute + 100,
          (minutes) => minutes,
        ),
        LITTLE,
      );
      noLonger(result, other, `seed ${seed}`);
      noLonger(other, result, `seed ${seed}`);
    }
  });

  test("other names in another order change nothing that is proved", () => {
    for (const { seed, problem, result } of answers) {
      const other = renamed(makeChance(seed), problem);
      const again = solve(other, LITTLE);
      sound(other, again, `seed ${seed}`);
      noLonger(result, again, `seed ${seed}`);
      noLonger(again, result, `seed ${seed}`);
    }
  });

  test("a plain project takes as long backwards", () => {
    let proved = 0;
    for (const seed of seeds(0, 40)) {
      const problem = plainProblem(makeChance(seed), 12);
      const [there, back] = [solve(problem, LITTLE), solve(reversed(problem), LITTLE)];
      sound(problem, there, `seed ${seed}`);
      noLonger(there, back, `seed ${seed}`);
      noLonger(back, there, `seed ${seed}`);
      if (there.status !== "optimal" || back.status !== "optimal") continue;
      proved += 1;
      expect(back.figures?.elapsed).toBe(there.figures?.elapsed);
    }
    expect(proved).toBeGreaterThan(30);
  });
});

describe("questions that a shop could have", () => {
  test("each has a legal schedule at once, with a bound", () => {
    for (const seed of seeds(0, 12)) {
      const problem = shopProblem(seed);
      const result = solve(problem, { schedules: 60, conflicts: 50 });
      expect(result.schedule, `seed ${seed}`).toBeDefined();
      sound(problem, result, `seed ${seed}`);
      expect(result.bound, `seed ${seed}`).toBeGreaterThan(0);
    }
  });
});
