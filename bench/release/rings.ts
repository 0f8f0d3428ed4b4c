// Owns the rings of needs: which connections, tasks and separations can be needed by what they themselves need.

import type { Need, Problem } from "../../src/release/problem.ts";

/**
 * The strongly connected groups of two or more in the graph "may need", by Tarjan's algorithm (R. Tarjan, Depth-first search and linear graph
 * algorithms, SIAM J. Comput. 1, 1972) without recursion. A separation is named by the JSON of its two sides and may need every connection.
 *
 * @returns id → number of its group; what lies in no ring is left out
 */
export function findRings(problem: Problem): Map<string, number> {
  const graph = new Map<string, Set<string>>();
  const already = new Set(problem.released);
  const note = (id: string, need: Need): void => {
    const needed = graph.get(id) as Set<string>;
    if ("all" in need) for (const each of need.all) note(id, each);
    else if ("any" in need) for (const each of need.any) note(id, each);
    else if ("apart" in need) {
      const key = JSON.stringify(need.apart);
      needed.add(key);
      if (!graph.has(key)) graph.set(key, new Set(problem.connections.map((c) => c.id)));
    } else {
      const key = "released" in need ? need.released : need.done;
      if (!already.has(key)) needed.add(key);
    }
  };
  for (const { id, ways } of problem.connections) {
    graph.set(id, new Set());
    for (const way of ways) for (const need of way.needs) note(id, need);
  }
  for (const { id, needs } of problem.tasks) {
    graph.set(id, new Set());
    for (const need of needs) note(id, need);
  }

  const rings = new Map<string, number>();
  const number = new Map<string, number>();
  const low = new Map<string, number>();
  const stack: string[] = [];
  const stacked = new Set<string>();
  const open: { id: string; rest: Iterator<string> }[] = [];
  const enter = (id: string): void => {
    number.set(id, number.size);
    low.set(id, number.get(id) as number);
    stack.push(id);
    stacked.add(id);
    open.push({ id, rest: (graph.get(id) ?? new Set<string>()).values() });
  };
  const lower = (id: string, to: number): void => {
    low.set(id, Math.min(low.get(id) as number, to));
  };
  let groups = 0;
  for (const root of graph.keys()) {
    if (!number.has(root)) enter(root);
    for (let top = open.at(-1); top !== undefined; top = open.at(-1)) {
      const { id } = top;
      const { value: next, done } = top.rest.next();
      if (!done) {
        if (!number.has(next)) enter(next);
        else if (stacked.has(next)) lower(id, number.get(next) as number);
        continue;
      }
      open.pop();
      const above = open.at(-1);
      if (above) lower(above.id, low.get(id) as number);
      if (low.get(id) !== number.get(id)) continue;
      const group = stack.splice(stack.lastIndexOf(id));
      for (const member of group) {
        stacked.delete(member);
        if (group.length > 1) rings.set(member, groups);
      }
      groups += 1;
    }
  }
  return rings;
}
