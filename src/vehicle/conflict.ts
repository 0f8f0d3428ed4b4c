// Owns why a need can never hold: the causes in a derived graph, each as the smallest set of lines in conflict.
//
// What does not hold is explained by a closed set: with an `all` one child that does not hold, with an `any` or a `cut`
// every child. A smallest such set is wanted, counted in lines of the file. The causes are the strongly connected parts
// of the graph of what does not hold that nothing leaves: each must be mended by itself, and all else follows from them.
// Where a part has no `any` with two children a smallest set is a shortest circle, found by breadth-first search. With
// such it is a hard problem in general (a smallest proof in an AND/OR graph); a branch and bound with a budget solves
// what people write, and beyond the budget the set is one from which no line can be spared on the way it was found.

import type { Graph, Line } from "./hold.ts";

/** Arcs looked at for one cause, and for all of them. */
const BUDGET_EACH = 20_000;
const BUDGET_ALL = 400_000;

export interface Cause {
  /** Nodes of the smallest set found. */
  readonly nodes: readonly number[];
  /** Their lines, in the order in which one leads to the next. */
  readonly lines: readonly Line[];
}

/** Children that do not hold: what a node is held up by. */
function blockers(graph: Graph, node: number): readonly number[] {
  return graph.holds[node] === 1 ? [] : graph.children[node]!.filter((child) => graph.holds[child] !== 1);
}

const weight = (graph: Graph, node: number): number => (graph.lines[node] === undefined ? 0 : 1);

/** Strongly connected parts of what does not hold, by Tarjan's algorithm without recursion; only those that nothing leaves. */
function findRoots(graph: Graph): readonly (readonly number[])[] {
  const size = graph.forms.length;
  const index = new Int32Array(size).fill(-1);
  const low = new Int32Array(size);
  const part = new Int32Array(size).fill(-1);
  const stack: number[] = [];
  const roots: number[][] = [];
  let next = 0;
  let parts = 0;
  for (let start = 0; start < size; start++) {
    if (graph.holds[start] === 1 || index[start] !== -1) continue;
    const walk: { node: number; children: readonly number[]; i: number; leaves: boolean }[] = [];
    const enter = (node: number): void => {
      index[node] = next;
      low[node] = next;
      next += 1;
      stack.push(node);
      walk.push({ node, children: blockers(graph, node), i: 0, leaves: false });
    };
    enter(start);
    while (walk.length > 0) {
      const top = walk.at(-1)!;
      const child = top.children[top.i];
      if (child !== undefined) {
        top.i += 1;
        if (index[child] === -1) enter(child);
        else if (part[child] === -1) low[top.node] = Math.min(low[top.node]!, index[child]!);
        else top.leaves = true;
        continue;
      }
      walk.pop();
      const above = walk.at(-1);
      if (low[top.node] === index[top.node]) {
        const members: number[] = [];
        for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
          part[node] = parts;
          members.push(node);
          if (node === top.node) break;
        }
        parts += 1;
        if (!top.leaves) roots.push(members);
        if (above !== undefined) above.leaves = true;
      } else if (above !== undefined) {
        low[above.node] = Math.min(low[above.node]!, low[top.node]!);
        above.leaves ||= top.leaves;
      }
    }
  }
  return roots;
}

/** The causes of all that does not hold, one a root. */
export function findCauses(graph: Graph): readonly Cause[] {
  let budget = BUDGET_ALL;
  return findRoots(graph).map((members) => {
    const spend = Math.min(BUDGET_EACH, Math.max(1000, budget));
    budget -= spend;
    const nodes = members.length === 1 ? members : smallestIn(graph, members, spend);
    return { nodes, lines: linesOf(graph, nodes) };
  });
}

/** The smallest set that explains one node, reaching wherever its causes lie. */
export function explain(graph: Graph, node: number): Cause {
  const nodes = smallestClosed(graph, node, Number.POSITIVE_INFINITY, { left: BUDGET_EACH }) ?? [node];
  return { nodes, lines: linesOf(graph, nodes) };
}

function linesOf(graph: Graph, nodes: readonly number[]): readonly Line[] {
  const lines: Line[] = [];
  for (const node of nodes) {
    const line = graph.lines[node];
    if (line !== undefined) lines.push(line);
  }
  return lines;
}

function smallestIn(graph: Graph, members: readonly number[], spend: number): readonly number[] {
  const plain = members.every((node) => graph.forms[node] === "all" || graph.children[node]!.length === 1);
  const budget = { left: spend };
  let best: readonly number[] | undefined;
  let least = Number.POSITIVE_INFINITY;
  // Lines are what is counted, so a circle is entered at one of its lines.
  const starts = members.filter((node) => graph.lines[node] !== undefined).sort((a, b) => a - b);
  for (const start of starts) {
    if (best !== undefined && budget.left <= 0) break;
    const found = plain ? shortestCircle(graph, start, least, budget) : smallestClosed(graph, start, least, budget);
    if (found === undefined) continue;
    const size = found.reduce((sum, node) => sum + weight(graph, node), 0);
    if (size < least) {
      least = size;
      best = found;
    }
  }
  return best ?? members;
}

/** A circle through `start` with fewest lines and fewer than `least`: breadth-first, nodes without a line at no cost. */
function shortestCircle(
  graph: Graph,
  start: number,
  least: number,
  budget: { left: number },
): readonly number[] | undefined {
  const from = new Map<number, number>();
  let layer = [start];
  for (let size = 1; layer.length > 0 && size < least; size++) {
    const next: number[] = [];
    // The layer grows while it is walked: what costs nothing belongs to it.
    for (let i = 0; i < layer.length; i++) {
      const node = layer[i]!;
      for (const child of blockers(graph, node)) {
        budget.left -= 1;
        if (child === start) {
          const circle = [node];
          for (let up = node; up !== start; ) {
            up = from.get(up)!;
            circle.push(up);
          }
          return circle.reverse();
        }
        if (from.has(child)) continue;
        from.set(child, node);
        (weight(graph, child) === 0 ? layer : next).push(child);
      }
    }
    layer = next;
  }
  return undefined;
}

/** Depth of the choices that are taken back; deeper ones are taken once, so that no file can run the stack out. */
const DEPTH = 300;

/** A closed set that contains `start`, with fewest lines and fewer than `least`, by branch and bound. */
function smallestClosed(
  graph: Graph,
  start: number,
  least: number,
  budget: { left: number },
): readonly number[] | undefined {
  const chosen = new Set<number>();
  const order: number[] = [];
  let best: readonly number[] | undefined;
  let bound = least;

  const search = (agenda: readonly number[], before: number, depth: number): void => {
    const mark = order.length;
    const waiting = [...agenda];
    let cost = before;
    let choice: readonly number[] | undefined;
    while (waiting.length > 0 && choice === undefined) {
      const node = waiting.pop()!;
      if (chosen.has(node)) continue;
      budget.left -= 1;
      chosen.add(node);
      order.push(node);
      cost += weight(graph, node);
      if (cost >= bound) break;
      const held = blockers(graph, node);
      if (graph.forms[node] !== "all") for (const child of held.toReversed()) waiting.push(child);
      else if (!held.some((child) => chosen.has(child))) {
        if (held.length === 1) waiting.push(held[0]!);
        else choice = held;
      }
    }
    if (cost < bound) {
      if (choice === undefined) {
        bound = cost;
        best = [...order];
      } else
        for (const child of depth < DEPTH ? choice : choice.slice(0, 1)) {
          search([...waiting, child], cost, depth + 1);
          if (budget.left <= 0 && best !== undefined) break;
        }
    }
    while (order.length > mark) chosen.delete(order.pop()!);
  };
  search([start], 0, 0);
  return best;
}
