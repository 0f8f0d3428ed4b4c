// Owns small random release problems, odd on purpose: the questions on which checker, solver and brute force must agree.
//
// Not believable machines (those are the bench's other family) but as many rules as will go into a few parts: mounts that a body may
// or may not rest on, supports, hangs with ties too short, toggles in each other's way, loops of needs, questions without an answer.

import type { Connection, Need, Part, Problem, Task, Way } from "../../src/release/problem.ts";
import { type Chance, makeChance } from "./chance.ts";

/** Metres: the grid on which centres and mounts lie. */
const GRID = 0.25;
const MASSES = [0, 3, 8, 15, 30, 60, 120];
const POSITIONS = ["left", "right", "under", "top"];

/** What is named before it is drawn, so that anything may need anything. */
interface Names {
  readonly parts: readonly string[];
  readonly fixed: readonly string[];
  readonly loose: readonly string[];
  readonly connections: readonly string[];
  readonly toggles: readonly string[];
  readonly tasks: readonly string[];
  readonly backs: readonly string[];
}

/**
 * The problem of a seed: 3 to 6 parts, 5 to 9 connections, up to 5 tasks of the way out and 2 of the way back. Labours are multiples of
 * 0.5 min. Some two in five have an answer.
 */
export function randomProblem(seed: number): Problem {
  const chance = makeChance(seed);
  const names = drawNames(chance);
  const mounted = chance.hit(0.6) ? chance.pick(names.loose) : undefined;
  const parts = names.parts.map((id) => (id === mounted ? drawUnit(chance, id) : drawPart(chance, names, id)));
  const connections = drawConnections(
    chance,
    names,
    parts.find((part) => part.id === mounted),
  );
  const tasks = [
    ...names.tasks.map((id) => drawTask(chance, names, connections, mounted, id)),
    ...names.backs.map((id) => drawBack(chance, names, id)),
  ];
  const lifts = tasks.some((task) => task.lift);
  return {
    parts,
    connections,
    tasks,
    handLimit: chance.pick([5, 10, 20]),
    margin: chance.pick([0, 0.05, 0.2]),
    keep: lifts && chance.hit(0.2) ? [chance.pick(names.loose)] : [],
    take: lifts && chance.hit(0.5) ? chance.some(names.loose, 1) : [],
    released: chance.hit(0.15) ? [chance.pick(names.connections)] : [],
  };
}

function drawNames(chance: Chance): Names {
  const list = (prefix: string, count: number) => Array.from({ length: count }, (_, i) => `${prefix}${i + 1}`);
  const fixed = chance.hit(0.15) ? ["frame", "cab"] : ["frame"];
  const loose = list("part-", chance.whole(2, 6 - fixed.length));
  const toggles = list("state-", chance.pick([0, 1, 1, 2]));
  const tasks = [
    ...toggles,
    ...(chance.hit(0.5) ? ["sling"] : []),
    ...(chance.hit(0.5) ? ["lift"] : []),
    ...(chance.hit(0.35) ? ["hang"] : []),
  ];
  return {
    parts: [...fixed, ...loose],
    fixed,
    loose,
    connections: list("tie-", chance.whole(Math.min(9, loose.length + 3), 9)),
    toggles,
    tasks: [...tasks, "work"],
    backs: list("back-", chance.pick([0, 0, 1, 2])),
  };
}

function drawPart(chance: Chance, names: Names, id: string): Part {
  const fixed = names.fixed.includes(id);
  const mass = chance.pick(MASSES);
  return chance.hit(0.08) ? { id, fixed, mass } : { id, fixed, mass, centre: drawPoint(chance) };
}

/** What sits on mounts: heavy, its centre known. */
function drawUnit(chance: Chance, id: string): Part {
  return { id, fixed: false, mass: chance.pick([15, 30, 60, 120]), centre: drawPoint(chance) };
}

function drawPoint(chance: Chance): [number, number, number] {
  return [chance.whole(-3, 3) * GRID, chance.whole(-2, 2) * GRID, chance.whole(0, 2) * GRID];
}

/** A tree of ties first, so that everything hangs together; then mounts under the unit, or ties at will. */
function drawConnections(chance: Chance, names: Names, unit: Part | undefined): Connection[] {
  const under = chance.pick(names.parts.filter((id) => id !== unit?.id));
  const rests = chance.hit(0.75);
  return names.connections.map((id, i) => {
    const ways = drawWays(chance, names, id);
    const part = names.loose[i];
    if (part !== undefined) {
      const before = names.parts[chance.whole(0, names.fixed.length + i - 1)] ?? "frame";
      return { ...drawTie(chance, id, [before, part]), ways };
    }
    if (unit?.centre === undefined)
      return { ...drawTie(chance, id, chance.some(names.parts, chance.hit(0.15) ? 3 : 2)), ways };
    // Round the centre, corner by corner, some of them under it.
    const [x, y] = unit.centre;
    const [dx, dy] = [i & 1 ? 1 : -1, i & 2 ? 1 : -1];
    const at = [x + dx * chance.whole(1, 3) * GRID, y + dy * chance.whole(0, 3) * GRID, 0] as const;
    return { id, joins: [unit.id, chance.hit(0.8) ? "frame" : under], carrying: true, rests, at, ways };
  });
}

function drawTie(chance: Chance, id: string, joins: readonly string[]): Omit<Connection, "ways"> {
  const carrying = chance.hit(0.6);
  const rests = carrying && chance.hit(0.5);
  return rests && chance.hit(0.9)
    ? { id, joins, carrying, rests, at: drawPoint(chance) }
    : { id, joins, carrying, rests };
}

function drawWays(chance: Chance, names: Names, id: string): Way[] {
  const count = chance.pick([1, 1, 1, 2, 2, 3]);
  return Array.from({ length: chance.hit(0.03) ? 0 : count }, (_, i) => ({
    id: `${id}/${i + 1}`,
    ...drawWork(chance, names, id, 0.6),
  }));
}

type Work = Omit<Way, "id">;

function drawWork(chance: Chance, names: Names, own: string, needy: number): Work {
  const work = {
    labour: chance.whole(0, 20) / 2,
    needs: chance.hit(needy)
      ? Array.from({ length: chance.pick([1, 1, 2]) }, () => drawNeed(chance, names, own, 2))
      : [],
    without: chance.hit(0.25)
      ? chance.some(
          names.toggles.filter((id) => id !== own),
          1,
        )
      : [],
    entails: chance.hit(0.15) ? chance.some(names.backs, 1) : [],
  };
  return chance.hit(0.8) ? { ...work, position: chance.pick(POSITIONS) } : work;
}

function drawNeed(chance: Chance, names: Names, own: string, depth: number): Need {
  const deeper = () => Array.from({ length: chance.whole(2, 3) }, () => drawNeed(chance, names, own, depth - 1));
  const drawn = chance.next();
  if (depth > 0 && drawn < 0.18) return { any: deeper() };
  if (depth > 0 && drawn < 0.25) return { all: deeper() };
  if (drawn < 0.35) {
    const sides = chance.some(names.parts, 2);
    return { apart: [sides.slice(0, 1), chance.hit(0.3) ? names.fixed : sides.slice(1)] };
  }
  const tasks = names.tasks.filter((id) => id !== own && id !== "work");
  if (drawn < 0.6 && tasks.length > 0)
    return { done: chance.pick([...tasks, ...names.toggles.filter((id) => id !== own)]) };
  return { released: chance.pick(names.connections.filter((id) => id !== own)) };
}

const PLAIN = { toggle: false, back: false, must: false, supports: [] };

function drawTask(
  chance: Chance,
  names: Names,
  connections: readonly Connection[],
  unit: string | undefined,
  id: string,
): Task {
  const toggle = names.toggles.includes(id);
  const task = { ...PLAIN, id, ...drawWork(chance, names, id, 0.4), toggle };
  const supports = chance.some(names.loose, chance.whole(1, 2));
  switch (id) {
    case "work":
      // What the job is for; of no labour itself.
      return {
        ...task,
        labour: 0,
        must: true,
        needs: [drawNeed(chance, names, id, 2), ...drawGoal(chance, names, connections, unit)],
      };
    case "sling":
      return { ...task, toggle: chance.hit(0.5), supports };
    case "lift":
      return { ...task, lift: { parts: chance.some(names.loose, 1), limit: chance.pick([20, 70, 150, 400]) } };
    case "hang": {
      const part = chance.pick(names.loose);
      const own = connections.filter((each) => each.joins.includes(part)).map((each) => each.id);
      return { ...task, hang: { part, to: chance.pick(names.fixed), taut: own.filter(() => chance.hit(0.4)) } };
    }
    default:
      return chance.hit(0.3) ? { ...task, supports } : task;
  }
}

/** Beside one need at will, often something that takes real work: a part off, out, or up, the unit unbolted. */
function drawGoal(chance: Chance, names: Names, connections: readonly Connection[], unit: string | undefined): Need[] {
  const part = unit !== undefined && chance.hit(0.6) ? unit : chance.pick(names.loose);
  const off = connections.filter((each) => each.joins.includes(part));
  const goals: Need[] = [
    { all: off.map((each) => ({ released: each.id })) },
    { all: off.filter((each) => each.carrying).map((each) => ({ released: each.id })) },
    { apart: [[part], names.fixed] },
  ];
  if (names.tasks.includes("lift")) goals.push({ done: "lift" });
  if (names.tasks.includes("hang")) goals.push({ done: "hang" });
  return chance.hit(0.75) ? [chance.pick(goals)] : [];
}

function drawBack(chance: Chance, names: Names, id: string): Task {
  const entails = chance.hit(0.3) ? names.backs.filter((other) => other !== id) : [];
  return { ...PLAIN, id, labour: chance.whole(1, 8) / 2, needs: [], without: [], entails, back: true };
}
