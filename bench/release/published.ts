// Owns published small instances, put as release questions: each with its source and the least labour that the source's answer comes to.

import type { Connection, Need, Part, Problem, Task, Way } from "../../src/release/problem.ts";

export interface Published {
  readonly name: string;
  /** Where the instance and its value are from, and what of it was recalled, recomputed or changed. */
  readonly source: string;
  readonly problem: Problem;
  /** Minutes, one for each unit of the source. */
  readonly least: number;
}

const NOTHING = { tasks: [], handLimit: 1000, margin: 0, keep: [], take: [], released: [] };

const loose = (id: string, mass = 0): Part => ({ id, fixed: false, mass });
const fixed = (id: string): Part => ({ id, fixed: true, mass: 0 });
const way = (id: string, labour: number, needs: readonly Need[] = []): Way => ({
  id,
  labour,
  needs,
  without: [],
  entails: [],
});
const task = (id: string, labour: number, needs: readonly Need[], rest: Partial<Task> = {}): Task => ({
  ...{ id, labour, needs, without: [], entails: [], toggle: false, back: false, must: false, supports: [] },
  ...rest,
});

/** A tie that carries nothing: only what it costs and needs is of interest here. */
const tie = (id: string, joins: readonly string[], ways: readonly Way[]): Connection => ({
  ...{ id, joins, ways, carrying: false, rests: false },
});

type Arc = readonly [from: string, to: string, capacity: number];

const nodesOf = (arcs: readonly Arc[]): string[] => [
  ...new Set([...arcs.map((arc) => arc[0]), ...arcs.map((arc) => arc[1])]),
];

const CORMEN: readonly Arc[] = [
  ["s", "1", 16],
  ["s", "2", 13],
  ["2", "1", 4],
  ["1", "3", 12],
  ["3", "2", 9],
  ["2", "4", 14],
  ["4", "3", 7],
  ["3", "t", 20],
  ["4", "t", 4],
];

/**
 * A minimum cut from s to t in a directed network. Ties have no direction, so each arc is a connection between two fixed parts and each
 * node but t a task "is on the side of s": it may be done once, for each arc that leaves it, the other end is on that side
 * or the arc is cut. Where the arcs inside the side of s make no ring, the order asks nothing more, and the least labour is the least cut.
 */
function directedCut(arcs: readonly Arc[]): Problem {
  const name = ([from, to]: Arc) => `${from}→${to}`;
  const nodes = nodesOf(arcs).filter((node) => node !== "t");
  const leave = (arc: Arc): Need =>
    arc[1] === "t" ? { released: name(arc) } : { any: [{ done: arc[1] }, { released: name(arc) }] };
  return {
    ...NOTHING,
    parts: [fixed("frame"), fixed("cab")],
    connections: arcs.map((arc) => tie(name(arc), ["frame", "cab"], [way(`${name(arc)}/1`, arc[2])])),
    tasks: nodes.map((node) =>
      task(node, 0, arcs.filter(([from]) => from === node).map(leave), { must: node === "s" }),
    ),
  };
}

/** A minimum cut between two nodes of an undirected network: the ties between two parts that must come apart. */
export function undirectedCut(edges: readonly Arc[], one: string, other: string): Problem {
  const nodes = nodesOf(edges);
  return {
    ...NOTHING,
    parts: nodes.map((node) => loose(node)),
    connections: edges.map(([a, b, weight]) => tie(`${a}–${b}`, [a, b], [way(`${a}–${b}/1`, weight)])),
    tasks: [task("parted", 0, [{ apart: [[one], [other]] }], { must: true })],
  };
}

export const STOER_WAGNER: readonly Arc[] = [
  ["1", "2", 2],
  ["1", "5", 3],
  ["2", "3", 3],
  ["2", "5", 2],
  ["2", "6", 2],
  ["3", "4", 4],
  ["3", "7", 2],
  ["4", "7", 2],
  ["4", "8", 2],
  ["5", "6", 3],
  ["6", "7", 1],
  ["7", "8", 3],
];

/**
 * A maximal closure: what has a gain can be had (for nothing, once what it calls for is done) or forgone (its gain is the labour). The least
 * labour is all gains less the best closure, which is also the minimum cut of Picard's network.
 */
function closure(
  gains: Record<string, number>,
  costs: Record<string, number>,
  calls: Record<string, readonly string[]>,
): Problem {
  const needs = (id: string) => (calls[id] ?? []).map((other) => ({ done: other }));
  return {
    ...NOTHING,
    parts: [fixed("frame"), fixed("cab")],
    connections: Object.entries(gains).map(([id, gain]) =>
      tie(id, ["frame", "cab"], [way(`${id}/had`, 0, needs(id)), way(`${id}/forgone`, gain)]),
    ),
    tasks: [
      ...Object.entries(costs).map(([id, cost]) => task(id, cost, needs(id))),
      task(
        "settled",
        0,
        Object.keys(gains).map((id) => ({ released: id })),
        { must: true },
      ),
    ],
  };
}

/** A lift of at most so much: every item that must stay behind is released, at the price of its worth. */
function knapsack(items: readonly (readonly [weight: number, worth: number])[], limit: number): Problem {
  return {
    ...NOTHING,
    parts: [fixed("frame"), loose("unit"), ...items.map(([weight], i) => loose(`item-${i + 1}`, weight))],
    connections: items.map(([, worth], i) =>
      tie(`tie-${i + 1}`, ["unit", `item-${i + 1}`], [way(`tie-${i + 1}/1`, worth)]),
    ),
    tasks: [task("lift", 0, [], { must: true, lift: { parts: ["unit"], limit } })],
  };
}

/** A ballpoint pen: five connections in a row, all to be undone, with two rules of precedence. */
export const PEN: Problem = {
  ...NOTHING,
  parts: ["cap", "head", "tube", "ink", "body", "button"].map((id) => (id === "body" ? fixed(id) : loose(id))),
  connections: [
    tie("1", ["cap", "head"], [way("1/1", 1)]),
    tie("2", ["head", "tube"], [way("2/1", 1)]),
    tie("3", ["tube", "ink"], [way("3/1", 1)]),
    tie("4", ["ink", "body"], [way("4/1", 1, [{ released: "3" }])]),
    tie("5", ["body", "button"], [way("5/1", 1, [{ released: "1" }])]),
  ],
  tasks: [
    task(
      "apart",
      0,
      ["1", "2", "3", "4", "5"].map((id) => ({ released: id })),
      { must: true },
    ),
  ],
};

const PICARD = {
  gains: { a: 12, b: 9, c: 4 },
  costs: { p: 2, q: 8, r: 5, x: 3, s: 9 },
  calls: { a: ["p", "q"], b: ["q", "r"], c: ["r", "s"], r: ["x"] },
};
export const CLOSURE: Problem = closure(PICARD.gains, PICARD.costs, PICARD.calls);

export const PUBLISHED: readonly Published[] = [
  {
    name: "minimum cut of a directed network",
    source:
      "Cormen, Leiserson, Rivest, Stein: Introduction to Algorithms, 3rd edition, figure 26.1 (without the arc 1→2 of the 2nd): maximum flow 23, cut 1→3, 4→3, 4→t = 12 + 7 + 4.",
    problem: directedCut(CORMEN),
    least: 23,
  },
  {
    name: "minimum cut of an undirected network",
    source:
      "Stoer, Wagner: A simple min-cut algorithm, J. ACM 44(4), 1997, figure 1 (weights recalled): least cut 4, {3, 4, 7, 8} from {1, 2, 5, 6} = 3 + 1.",
    problem: undirectedCut(STOER_WAGNER, "1", "8"),
    least: 4,
  },
  {
    name: "the directed network taken as undirected",
    source:
      "The network of Cormen et al. with its directions left out, our own figure: the cut at t, 20 + 4, is now the least, as 3→2 counts in the cut of 23.",
    problem: undirectedCut(CORMEN, "s", "t"),
    least: 24,
  },
  {
    name: "maximal closure",
    source:
      "Picard: Maximal closure of a graph and applications to combinatorial problems, Management Science 22(11), 1976, for the reduction; the figures are our own: gains 25, best closure 3, cut 22.",
    problem: CLOSURE,
    least: 22,
  },
  {
    name: "knapsack under a lift's limit",
    source:
      "Instance p01 of the KNAPSACK_01 collection, Florida State University (figures recalled): ten items, capacity 165, best worth 309 of 679; so 370 is left behind.",
    problem: knapsack(
      [
        [23, 92],
        [31, 57],
        [29, 49],
        [44, 68],
        [53, 60],
        [38, 43],
        [63, 67],
        [85, 84],
        [89, 87],
        [82, 72],
      ],
      165,
    ),
    least: 370,
  },
  {
    name: "ballpoint pen",
    source:
      "The pen of a design textbook's section on assembly sequences: connections 1 to 5 in a row, 3 before 4 and 1 before 5; 2, 3, 4, 1, 5 is a good one. One minute each, ours.",
    problem: PEN,
    least: 5,
  },
];
