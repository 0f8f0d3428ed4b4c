// Owns the second look at a bound: the search raises it from the arcs and needs alone, and each clause that it learns on the way is checked by other means.

import type { Problem } from "../../src/crew/index.ts";
import type { Model } from "../../src/crew/model.ts";
import { layoutOf } from "../../src/crew/proof/lanes.ts";
import { makeProver } from "../../src/crew/proof/prove.ts";
import { putQuestion } from "../../src/crew/proof/question.ts";
import { type Project, Replay } from "./replay.ts";

export interface Reproof {
  /** The bound that the search came to, minutes; and how many clauses it learnt for it. */
  readonly bound: number;
  readonly clauses: number;
  /** The first clause that does not follow; undefined when all do. */
  readonly wrong: number | undefined;
  /** Whether the clauses, checked one after the other, give the bound. */
  readonly follows: boolean;
}

/** Of a project without people, states and lags: what follows which, and what each takes. */
const projectOf = ({ tasks, stocks }: Problem): Omit<Project, "orders"> => {
  const place = new Map(tasks.map(({ id }, index) => [id, index]));
  return {
    ticks: tasks.map(({ minutes }) => minutes),
    needs: tasks.map(({ uses }) => stocks.map(({ id }) => uses.find(({ stock }) => stock === id)?.count ?? 0)),
    capacity: stocks.map(({ count }) => count),
    arcs: tasks.flatMap(({ after }, index) => after.map(({ task }) => [place.get(task) ?? -1, index] as const)),
  };
};

const FAR = 2 ** 20;
/** Conflicts of one try. */
const PIECE = 500;

const modelOf = ({ ticks, needs, capacity, arcs }: Omit<Project, "orders">): Model => {
  const size = ticks.length;
  const none = { from: new Int32Array(0), to: new Int32Array(0), lag: new Int32Array(0) };
  return {
    size,
    ticks: Int32Array.from(ticks),
    counted: new Uint8Array(size).fill(1),
    earliest: new Int32Array(size),
    latest: new Int32Array(size).fill(FAR),
    arcs: {
      from: Int32Array.from(arcs, ([one]) => one),
      to: Int32Array.from(arcs, ([, other]) => other),
      lag: Int32Array.from(arcs, ([one]) => ticks[one] ?? 0),
    },
    either: none,
    or: none,
    lanes: capacity.length,
    capacity: Int32Array.from(capacity),
    uses: {
      first: Int32Array.from(ticks.keys()),
      last: Int32Array.from(ticks.keys()),
      head: new Int32Array(size),
      tail: Int32Array.from(ticks),
      need: Int32Array.from(needs.flat()),
    },
    bar: new Int32Array(size + 1),
    barFrom: new Int32Array(0),
    barUntil: new Int32Array(0),
  };
};

/** Raises the bound of a project to `wanted`, within so many conflicts and below the makespan of a schedule that there is, and checks it. */
export function reprove(problem: Problem, below: number, wanted: number, conflicts: number): Reproof {
  const project = projectOf(problem);
  const model = modelOf(project);
  const { from, to } = putQuestion(model, layoutOf(model), below).orders;
  const learnt: Int32Array[] = [];
  const prover = makeProver(model, { heard: (clause, size) => learnt.push(clause.slice(0, size * 2)) });
  prover.below(below);
  // In pieces: each sets out anew from what was learnt, where one long try may stay where it is.
  for (let spent = 0; spent < conflicts && prover.bound < wanted; spent += PIECE) {
    if (prover.raise({ conflicts: PIECE, stop: () => prover.bound >= wanted }) === "closed") break;
  }
  const orders = from.map((one, order) => [one, to[order] ?? -1] as const);
  const replay = new Replay({ ...project, orders }, below - 1);
  const wrong = learnt.findIndex((clause) => !replay.learn(clause));
  const { bound } = prover;
  return { bound, clauses: learnt.length, wrong: wrong < 0 ? undefined : wrong, follows: replay.bounds(bound) };
}
