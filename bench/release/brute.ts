// Owns the least labour by looking at every state that costs no more: slow, simple, and the measure of the solver on small problems.

import type { Problem } from "../../src/release/problem.ts";
import type { Step } from "../../src/release/result.ts";
import { type Move, Plain, type State } from "./plain.ts";

/** The best plan: least labour, then fewest connections released, then fewest different positions. */
export interface Least {
  /** Minutes. */
  readonly labour: number;
  /** Connections released by the order. */
  readonly connections: number;
  /** Different positions of its steps; those of back tasks are not counted. */
  readonly positions: number;
  readonly order: readonly Step[];
}

interface Node {
  readonly state: State;
  readonly places: number;
  readonly labour: number;
  readonly releases: number;
  /** Orders labour, then releases, then positions, in one number. */
  readonly rank: number;
  readonly from?: { readonly node: Node; readonly step: Step };
}

// Neither releases nor positions reach 64 in what is small enough for this.
const MINUTE = 64 * 64;
const RELEASE = 64;

/**
 * The best legal plan, or undefined when there is none: Dijkstra's search over what is released, done, up and called for.
 *
 * @param problem labours must be multiples of 1/64 min, so that sums are exact; its states are looked at one by one, so some
 *   ten connections and five tasks are the most that is quick
 * @throws RangeError when the problem has too many parts, connections and tasks to number its states
 */
export function brute(problem: Problem): Least | undefined {
  const plain = new Plain(problem);
  // Positions multiply the states, so they are told apart only within the least labour and releases.
  const cheapest = search(plain, () => 0, Number.POSITIVE_INFINITY);
  if (!cheapest) return undefined;
  const best = search(plain, (move) => move.place, cheapest.rank + RELEASE) ?? cheapest;
  const order: Step[] = [];
  for (let node = best; node.from; node = node.from.node) order.push(node.from.step);
  return { labour: best.labour, connections: best.releases, positions: count(best.places), order: order.reverse() };
}

/** The first end met below the ceiling. */
function search(plain: Plain, placeOf: (move: Move) => number, ceiling: number): Node | undefined {
  const queue = new Queue();
  const numberOf = numbering(plain);
  const best = new Map<number, number>();
  const reach = (node: Node) => {
    const number = numberOf(node);
    if (node.rank >= ceiling || node.rank >= (best.get(number) ?? Number.POSITIVE_INFINITY)) return;
    best.set(number, node.rank);
    queue.add(node);
  };
  reach({ state: plain.start, places: 0, labour: 0, releases: 0, rank: 0 });
  for (let node = queue.take(); node; node = queue.take()) {
    if (node.rank > (best.get(numberOf(node)) ?? 0)) continue;
    // Looked at here and not when reached: most states reached are never taken. Before the first step nothing can drop.
    if (plain.dropped(node.state) !== 0) continue;
    if (plain.brokenAtEnd(node.state).size === 0) return node;
    for (const move of plain.moves) {
      if (plain.broken(node.state, move).size > 0) continue;
      const state = plain.after(node.state, move);
      const places = node.places | placeOf(move);
      const labour = node.labour + plain.labour(node.state, move, state);
      const releases = node.releases + ("release" in move.step ? 1 : 0);
      const rank = labour * MINUTE + releases * RELEASE + count(places);
      reach({ state, places, labour, releases, rank, from: { node, step: move.step } });
    }
  }
  return undefined;
}

/** A number for each state, exact as long as all its bits fit into a double. */
function numbering({ problem, moves }: Plain): (node: Node) => number {
  const [parts, connections, tasks] = [problem.parts, problem.connections, problem.tasks].map(
    (each) => 2 ** each.length,
  );
  const places = 1 + Math.max(0, ...moves.map((move) => move.place));
  if (parts! * connections! * tasks! * tasks! * places * 2 > Number.MAX_SAFE_INTEGER)
    throw new RangeError("too many states");
  return ({ state: { released, on, up, called }, places: at }) =>
    (((at * connections! + released) * tasks! + on) * tasks! + called) * parts! + up;
}

function count(bits: number): number {
  return bits === 0 ? 0 : 1 + count(bits & (bits - 1));
}

/** Nodes by rank, the least first: a binary heap. */
class Queue {
  private readonly heap: Node[] = [];

  add(node: Node): void {
    let at = this.heap.push(node) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (this.heap[above]!.rank <= node.rank) break;
      this.heap[at] = this.heap[above]!;
      at = above;
    }
    this.heap[at] = node;
  }

  take(): Node | undefined {
    const first = this.heap[0];
    const last = this.heap.pop();
    if (last === undefined || this.heap.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= this.heap.length) break;
      if (below + 1 < this.heap.length && this.heap[below + 1]!.rank < this.heap[below]!.rank) below++;
      if (this.heap[below]!.rank >= last.rank) break;
      this.heap[at] = this.heap[below]!;
      at = below;
    }
    this.heap[at] = last;
    return first;
  }
}
