// Owns random crew problems: tiny ones, odd on purpose, on which brute force, search and checker must agree; and middling ones that a shop could have.

import type { After, Change, Hold, Person, Problem, Seat, Spell, State, Task, Work } from "../../src/crew/problem.ts";
import { type Chance, makeChance } from "../release/chance.ts";

/** What is named before it is drawn. */
interface Names {
  readonly skills: readonly string[];
  readonly people: readonly string[];
  readonly stocks: readonly string[];
  readonly positions: readonly string[];
  readonly states: readonly string[];
}

const list = (prefix: string, count: number): readonly string[] =>
  Array.from({ length: count }, (_, place) => `${prefix}${place + 1}`);

/**
 * The tiny problem of a seed: 3 to 5 tasks of at most 4 minutes, 1 to 3 people, 0 to 2 states, stocks and positions; all rules somewhere, each of them sometimes
 * nowhere. All figures are whole. Some one in four has no answer.
 */
export function tinyProblem(seed: number): Problem {
  const chance = makeChance(seed);
  const names: Names = {
    skills: ["a", "b"],
    people: list("p", chance.pick([1, 1, 2, 2, 2, 3])),
    stocks: list("s", chance.whole(0, 2)),
    positions: list("x", chance.pick([0, 1, 2, 2])),
    states: list("z", chance.pick([0, 0, 1, 1, 2])),
  };
  const now = chance.hit(0.3) ? chance.whole(1, 3) : 0;
  const people = names.people.map((id) => drawPerson(chance, names, id, now));
  const tasks = drawTasks(chance, names, now);
  const ids = tasks.map(({ id }) => id);
  const pair = (): readonly [string, string] => {
    const [a = 0, b = 0] = chance.some([...ids.keys()], 2).sort((one, two) => one - two);
    return [ids[a] ?? "", ids[b] ?? ""];
  };
  const held = names.stocks.length > 0 && chance.hit(0.4);
  const [from, until] = pair();
  const holds: readonly Hold[] = held
    ? [{ stock: chance.pick(names.stocks), count: 1, from, until: chance.hit(0.9) ? until : from }]
    : [];
  return {
    people,
    stocks: names.stocks.map((id) => ({ id, count: chance.pick([1, 2, 2]) })),
    positions: names.positions.map((id) => ({ id, room: chance.pick([1, 2, 2]) })),
    states: names.states.map((id, place) => drawState(chance, names, ids, id, place)),
    tasks: tasks.map((task) =>
      // A part that is held until it is set down is set down after it was taken.
      held && task.id === until ? { ...task, after: [...task.after, { task: from }] } : task,
    ),
    holds,
    apart: chance.hit(0.35) ? [pair()] : [],
    ...(names.positions.length > 1 && chance.hit(0.6) ? { moves: drawMoves(chance, names.positions.length) } : {}),
    ...(now > 0 ? { now } : {}),
  };
}

function drawPerson(chance: Chance, names: Names, id: string, now: number): Person {
  return {
    id,
    skills: names.skills.filter(() => chance.hit(0.75)),
    ...(chance.hit(0.4) ? { shifts: drawShifts(chance, now) } : {}),
    ...(names.positions.length > 0 && chance.hit(0.4) ? { at: chance.pick(names.positions) } : {}),
  };
}

/** One or two breaks, seldom an end. */
function drawShifts(chance: Chance, now: number): readonly Spell[] {
  const spells: Spell[] = [];
  let from = chance.hit(0.6) ? 0 : now + chance.whole(0, 2);
  for (let breaks = chance.whole(1, 2); breaks > 0; breaks -= 1) {
    const until = Math.max(from, now) + chance.whole(1, 5);
    spells.push({ from, until });
    from = until + chance.whole(1, 3);
  }
  spells.push({ from, until: chance.hit(0.25) ? from + chance.whole(3, 8) : Number.POSITIVE_INFINITY });
  return spells;
}

/** The direct way is never longer than one round. */
function drawMoves(chance: Chance, size: number): readonly (readonly number[])[] {
  const moves = Array.from({ length: size }, (_, from) =>
    Array.from({ length: size }, (_, to) => (from === to ? 0 : chance.whole(0, 2))),
  );
  for (let over = 0; over < size; over += 1)
    for (const row of moves)
      for (const to of row.keys()) row[to] = Math.min(row[to] ?? 0, (row[over] ?? 0) + (moves[over]?.[to] ?? 0));
  return moves;
}

function drawCrew(chance: Chance, names: Names, most: number): readonly Seat[] {
  const heads = Math.min(most, names.people.length, chance.pick([0, 1, 1, 1, 1, 2]));
  const skill = (): Pick<Seat, "skill"> => (chance.hit(0.25) ? { skill: chance.pick(names.skills) } : {});
  if (heads === 2 && chance.hit(0.5)) return [{ count: 1, ...skill() }, { count: 1 }];
  return heads === 0 ? [] : [{ count: heads, ...skill() }];
}

function drawWork(chance: Chance, names: Names, minutes: number): Work {
  // What has no length meets nothing, and is given nothing that could be too little for it.
  const crew = drawCrew(chance, names, minutes > 0 ? 2 : 1);
  const position = names.positions.length > 0 && chance.hit(0.5) ? chance.pick(names.positions) : undefined;
  const others = names.positions.filter((one) => one !== position);
  const on = names.states.filter(() => chance.hit(0.3));
  return {
    minutes,
    crew,
    uses:
      names.stocks.length > 0 && chance.hit(0.4)
        ? [{ stock: chance.pick(names.stocks), count: minutes > 0 && chance.hit(0.08) ? 2 : 1 }]
        : [],
    ...(position === undefined ? {} : { position }),
    on,
    off: names.states.filter((state) => !on.includes(state) && chance.hit(0.25)),
    empties: others.length > 0 && chance.hit(0.15) ? [chance.pick(others)] : [],
    pauses: chance.hit(0.4),
  };
}

function drawTasks(chance: Chance, names: Names, now: number): readonly Task[] {
  const count = chance.pick([3, 3, 4, 4, 5]);
  const ids = list("t", count);
  const under = chance.hit(0.25) ? chance.whole(1, 2) : 0;
  const tasks: Task[] = [];
  for (const [place, id] of ids.entries()) {
    const work = drawWork(chance, names, chance.pick([0, 1, 1, 2, 2, 3, 4]));
    const earlier = ids.slice(0, place);
    const begun = place < under;
    tasks.push({
      id,
      ...work,
      ...(chance.hit(0.2) ? { alone: chance.whole(1, 3) } : {}),
      after: begun ? [] : earlier.filter(() => chance.hit(0.3)).map((task) => drawAfter(chance, task)),
      notBy: earlier.length > 0 && names.people.length > 1 && chance.hit(0.25) ? [chance.pick(earlier)] : [],
      ...(begun ? { begun: drawBegun(chance, names, work, now) } : {}),
    });
  }
  return tasks;
}

function drawBegun(chance: Chance, names: Names, { crew }: Work, now: number): NonNullable<Task["begun"]> {
  const heads = crew.reduce((sum, { count }) => sum + count, 0);
  return { start: now - chance.whole(1, 3), people: chance.some(names.people, heads) };
}

function drawAfter(chance: Chance, task: string): After {
  const least = chance.pick([0, 0, 0, 1, 2, -1, -2]);
  return {
    task,
    ...(least === 0 ? {} : { least }),
    ...(chance.hit(0.25) ? { most: Math.max(0, least) + chance.whole(0, 2) } : {}),
  };
}

function drawState(chance: Chance, names: Names, tasks: readonly string[], id: string, place: number): State {
  const on = chance.hit(0.25);
  const end = chance.pick([undefined, on, on, !on]);
  // A change may want the states before this one, so that none waits for itself.
  const change = (): Change => ({
    ...drawWork(chance, { ...names, states: names.states.slice(0, place) }, chance.whole(1, 2)),
    after: chance.hit(0.12) ? [chance.pick(tasks)] : [],
    before: chance.hit(0.12) ? [chance.pick(tasks)] : [],
  });
  return { id, on, ...(end === undefined ? {} : { end }), set: change(), clear: change() };
}

/** Metres from one another, along a vehicle of some eight metres: where work is done. Invented. */
const SHOP: readonly { readonly id: string; readonly room: number; readonly x: number; readonly y: number }[] = [
  { id: "under", room: 2, x: 3, y: 0 },
  { id: "left", room: 2, x: 3, y: 2 },
  { id: "right", room: 1, x: 3, y: -2 },
  { id: "cab", room: 1, x: 6, y: 0 },
  { id: "bench", room: 3, x: -3, y: 4 },
];

/** Minutes to get under or up, on top of 40 m to the minute among benches and tools (an assumption, not a measurement). */
const CLIMB = 1;
const PACE = 40;

/**
 * A middling problem of a seed: 20 to 60 tasks out, at the bench and back, as a shop has them; 2 to 4 people with lunch and night, a jack and a hoist, a vehicle that goes up and
 * down and a unit that hangs. Whole minutes; every one has an answer. All figures are invented.
 */
export function shopProblem(seed: number): Problem {
  const chance = makeChance(seed);
  const out = chance.whole(7, 22);
  const inside = chance.whole(4, 12);
  const removal = list("off", out).map((id, place) => drawPiece(chance, id, place, out));
  const bench = list("work", inside).map(
    (id, place): Task => ({
      ...piece(chance, id, "bench"),
      after: [{ task: place === 0 ? "set-down" : `work${chance.whole(1, place)}` }],
    }),
  );
  const refit = removal.map(
    (task, place): Task => ({
      ...task,
      id: `on${place + 1}`,
      minutes: task.minutes + chance.whole(0, 4),
      after: [
        { task: "hang-up" },
        ...removal.flatMap(({ after }, later) =>
          after.some((one) => one.task === task.id) ? [{ task: `on${later + 1}` }] : [],
        ),
      ],
      notBy: [],
    }),
  );
  const lift: Work = {
    ...plain(chance.whole(8, 15)),
    crew: [{ count: 2 }],
    uses: [{ stock: "hoist", count: 1 }],
    on: ["slung"],
    empties: ["under"],
  };
  const tasks: Task[] = [
    ...removal,
    { id: "lift-out", ...lift, after: removal.map(({ id }) => ({ task: id })), notBy: [] },
    { id: "set-down", ...lift, position: "bench", after: [{ task: "lift-out", most: 10 }], notBy: [] },
    ...bench,
    { id: "hang-up", ...lift, position: "bench", after: bench.map(({ id }) => ({ task: id })), notBy: [] },
    ...refit,
    ...refit
      .filter(({ crew }) => crew.length === 1 && chance.hit(0.15))
      .map(
        ({ id, position }): Task => ({
          ...plain(chance.whole(2, 5)),
          id: `verify-${id}`,
          crew: [{ count: 1, skill: "verify" }],
          ...(position === undefined ? {} : { position }),
          after: [{ task: id }],
          notBy: [id],
        }),
      ),
  ];
  return {
    people: list("p", chance.whole(2, 4)).map((id, place) => ({
      id,
      skills: ["verify", ...(place < 2 || chance.hit(0.5) ? ["fitter"] : []), ...(place === 0 ? ["wiring"] : [])],
      ...(chance.hit(0.8) ? { shifts: days(chance.pick([240, 255]), 30) } : {}),
      at: "bench",
    })),
    stocks: [
      { id: "jack", count: 1 },
      { id: "hoist", count: 1 },
      { id: "torque-wrench", count: 1 },
    ],
    positions: SHOP.map(({ id, room }) => ({ id, room })),
    states: [
      turning("raised", chance.whole(5, 9), { ...plain(0), crew: [{ count: 1 }], empties: ["under"] }),
      turning("slung", chance.whole(6, 12), {
        ...plain(0),
        crew: [{ count: 2 }],
        uses: [{ stock: "hoist", count: 1 }],
      }),
    ],
    tasks,
    holds: removal.length > 8 ? [{ stock: "jack", count: 1, from: "off3", until: "lift-out" }] : [],
    apart: chance.hit(0.6) ? [["off1", "off2"]] : [],
    moves: SHOP.map((from) =>
      SHOP.map((to) => (from === to ? 0 : CLIMB + Math.ceil(Math.hypot(from.x - to.x, from.y - to.y) / PACE))),
    ),
  };
}

const plain = (minutes: number): Work => ({
  minutes,
  crew: [],
  uses: [],
  on: [],
  off: [],
  empties: [],
  pauses: false,
});

/** Ten days of eight and a half hours with a break. */
const days = (lunch: number, pause: number): readonly Spell[] =>
  Array.from({ length: 10 }, (_, day) => [
    { from: day * 1440, until: day * 1440 + lunch },
    { from: day * 1440 + lunch + pause, until: day * 1440 + 510 },
  ]).flat();

const turning = (id: string, minutes: number, work: Work): State => {
  const change: Change = { ...work, minutes, after: [], before: [] };
  return { id, on: false, end: false, set: change, clear: change };
};

const piece = (chance: Chance, id: string, position: string): Task => ({
  ...plain(chance.whole(2, 40)),
  id,
  crew:
    (SHOP.find((one) => one.id === position)?.room ?? 0) > 1 && chance.hit(0.15)
      ? [{ count: 1, skill: "fitter" }, { count: 1 }]
      : [{ count: 1, skill: chance.hit(0.1) ? "wiring" : "fitter" }],
  position,
  pauses: chance.hit(0.8),
  after: [],
  notBy: [],
});

/** One thing that comes off: some under the raised vehicle, some only when the unit hangs. */
function drawPiece(chance: Chance, id: string, place: number, count: number): Task {
  const position = chance.pick(["under", "under", "left", "right", "cab"]);
  const drains = place === 0;
  return {
    ...piece(chance, id, position),
    ...(drains ? { alone: chance.whole(10, 25) } : {}),
    uses: chance.hit(0.15) ? [{ stock: "torque-wrench", count: 1 }] : [],
    on: [...(position === "under" ? ["raised"] : []), ...(place > count * 0.8 ? ["slung"] : [])],
    off: position === "cab" ? ["raised"] : [],
    after: list("off", place)
      .filter(() => chance.hit(Math.min(0.4, 2 / (place + 1))))
      .map((task) => ({ task })),
  };
}

/** A tiny problem with a task that takes everybody at one position, and most others after or before it: somebody has ways to go for certain. */
export function gatheringProblem(seed: number): Problem {
  const chance = makeChance(seed);
  const drawn = tinyProblem(seed);
  const people = list("p", chance.pick([2, 2, 3])).map((id, place): Person => {
    const { skills, at } = drawn.people[place] ?? drawn.people[0] ?? { skills: [] };
    return { id, skills, ...(at === undefined ? {} : { at: "x1" }) };
  });
  const positions = list("x", 3);
  const [first, ...others] = drawn.tasks.map((task): Task => {
    const { begun: _, position: __, ...rest } = task;
    return {
      ...rest,
      minutes: Math.max(1, task.minutes),
      ...(chance.hit(0.9) ? { position: chance.pick(positions) } : {}),
      empties: [],
      notBy: [],
      crew: chance.hit(0.8) ? [{ count: chance.pick([1, 1, 2]) }] : task.crew,
    };
  });
  if (first === undefined) return drawn;
  const later = others.filter(() => chance.hit(0.6));
  const meeting: Task = {
    ...first,
    position: "x1",
    crew: [{ count: people.length }],
    after: others.filter((task) => !later.includes(task) && chance.hit(0.7)).map(({ id }) => ({ task: id })),
  };
  const before = others.filter((task) => !later.includes(task)).map((task) => ({ ...task, after: [] }));
  const after = later.map((task) => ({ ...task, after: chance.hit(0.9) ? [{ task: meeting.id }] : task.after }));
  const states = drawn.states.map((state): State => {
    const turn = (change: Change): Change => ({ ...change, minutes: Math.max(1, change.minutes), empties: [] });
    return { ...state, set: turn(state.set), clear: turn(state.clear) };
  });
  return {
    ...drawn,
    people,
    positions: positions.map((id) => ({ id, room: 3 })),
    states,
    tasks: [...before, meeting, ...after],
    moves: drawMoves(chance, positions.length),
  };
}
