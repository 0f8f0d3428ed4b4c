// Published instances and countable ones, through the same door as our own questions.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { CLOSURE, PEN, PUBLISHED, STOER_WAGNER, undirectedCut } from "../../bench/release/published.ts";
import { check } from "./check.ts";
import { type TieGraph, ties } from "./freedom.ts";
import type { Problem } from "./problem.ts";

describe("the least labour is the published value", () => {
  test.each(PUBLISHED)("$name ($source)", ({ problem, least }) => {
    const best = brute(problem);
    expect(best?.labour).toBe(least);
    expect(check(problem, best?.order ?? [])).toMatchObject({ legal: true, labour: least });
  });

  test("directed cut: the arcs cut are those of the book, 1→3, 4→3, 4→t", () => {
    const [cormen] = PUBLISHED;
    const order = cormen ? brute(cormen.problem)?.order : undefined;
    expect(order?.flatMap((step) => ("release" in step ? step.release : [])).sort()).toEqual(["1→3", "4→3", "4→t"]);
  });

  test("Stoer and Wagner 1997: 4 is the least over every node parted from node 1", () => {
    const cuts = ["2", "3", "4", "5", "6", "7", "8"].map(
      (node) => brute(undirectedCut(STOER_WAGNER, "1", node))?.labour,
    );
    // From 3, 4, 7 and 8 by the cut of the figure; from its own side 2, 5, 6 by node 1's own ties, 2 + 3.
    expect(Math.min(...cuts.map((cut) => cut ?? 0))).toBe(4);
    expect(cuts.map((cut, i) => [i + 2, cut])).toEqual([
      [2, 5],
      [3, 4],
      [4, 4],
      [5, 5],
      [6, 5],
      [7, 4],
      [8, 4],
    ]);
  });
});

describe("maximal closure (Picard 1976): gains 25 less the least labour", () => {
  const without = (...wayIds: readonly string[]): Problem => ({
    ...CLOSURE,
    connections: CLOSURE.connections.map((each) => ({
      ...each,
      ways: each.ways.filter((way) => !wayIds.includes(way.id)),
    })),
  });

  test("the best, 3, is {a, b, p, q, r, x}", () => {
    const best = brute(CLOSURE);
    expect(25 - (best?.labour ?? 0)).toBe(3);
    const had = best?.order.flatMap((step) => ("way" in step && step.way.endsWith("/had") ? step.release : []));
    const done = best?.order.flatMap((step) => ("do" in step && step.do !== "settled" ? step.do : []));
    expect([...(had ?? []), ...(done ?? [])].sort()).toEqual(["a", "b", "p", "q", "r", "x"]);
  });

  test("the next best, 2, is {a, p, q}: 12 − 2 − 8", () => {
    expect(25 - (brute(without("b/had"))?.labour ?? 0)).toBe(2);
  });

  test("with every gain had it is −2: 25 − 27", () => {
    expect(25 - (brute(without("a/forgone", "b/forgone", "c/forgone"))?.labour ?? 0)).toBe(-2);
  });
});

test("ballpoint pen: 30 of the 120 orders of its connections are legal, 5! / (2 · 2), and 2, 3, 4, 1, 5 is one", () => {
  const legal = permutations(["1", "2", "3", "4", "5"]).filter((order) => {
    const steps = [...order.map((id) => ({ release: id, way: `${id}/1` })), { do: "apart" }];
    return check(PEN, steps).legal;
  });
  expect(legal).toHaveLength(30);
  expect(legal.map((order) => order.join())).toContain("2,3,4,1,5");
});

// Subassemblies, cuts and disassembly plans of AND/OR graphs (Homem de Mello, Sanderson: AND/OR graph representation of assembly plans, IEEE
// Trans. Robotics and Automation 6(2), 1990), every connected split allowed. Chain: n(n+1)/2 subassemblies, C(n+1, 3) cuts, Catalan(n−1)
// plans, (n−1)! orders. Complete: 2ⁿ−1, (3ⁿ−2ⁿ⁺¹+1)/2, (2n−3)!!, n!(n−1)!/2ⁿ⁻¹. Ring: counted by enumeration elsewhere.
describe("subassemblies, cuts, plans and orders of products of 3 to 6 parts", () => {
  const link = (a: number, b: number) => ({ id: `${a}–${b}`, joins: [String(a), String(b)] });
  const chain = (n: number) => Array.from({ length: n - 1 }, (_, i) => link(i, i + 1));
  const ring = (n: number) => [...chain(n), link(n - 1, 0)];
  const complete = (n: number) =>
    Array.from({ length: n }, (_, i) => Array.from({ length: n - 1 - i }, (_, k) => link(i, i + 1 + k))).flat();

  test.each([
    ["chain", 3, chain, [6, 4, 2, 2]],
    ["chain", 4, chain, [10, 10, 5, 6]],
    ["chain", 5, chain, [15, 20, 14, 24]],
    ["chain", 6, chain, [21, 35, 42, 120]],
    ["ring", 3, ring, [7, 6, 3, 3]],
    ["ring", 4, ring, [13, 18, 10, 12]],
    ["ring", 5, ring, [21, 40, 35, 60]],
    ["ring", 6, ring, [31, 75, 126, 360]],
    ["complete", 3, complete, [7, 6, 3, 3]],
    ["complete", 4, complete, [15, 25, 15, 18]],
    ["complete", 5, complete, [31, 90, 105, 180]],
    ["complete", 6, complete, [63, 301, 945, 2700]],
  ] as const)("%s of %i", (_, n, links, counts) => {
    expect(count(n, links(n))).toEqual(counts);
  });
});

/** Connected subsets, splits of one into two, plans (trees of splits), orders (of the splits of a plan in time). */
function count(n: number, connections: TieGraph["connections"]): number[] {
  const isConnected = (subset: number) => {
    const parts = Array.from({ length: n }, (_, i) => i)
      .filter((i) => subset & (1 << i))
      .map((i) => ({ id: String(i), fixed: false }));
    // Ties to parts outside the subset reach nothing that is in the graph.
    return ties({ parts, connections }, [], [parts[0]?.id ?? ""]).group.length === parts.length;
  };
  let cuts = 0;
  const plans = new Map<number, { readonly trees: number; readonly orders: number }>();
  for (let subset = 1; subset < 1 << n; subset++) {
    if (!isConnected(subset)) continue;
    let [trees, orders] = [0, 0];
    for (let one = (subset - 1) & subset; one > 0; one = (one - 1) & subset) {
      const [a, b] = [plans.get(one), plans.get(subset & ~one)];
      if (one < (subset & ~one) || !a || !b) continue;
      cuts++;
      trees += a.trees * b.trees;
      orders += a.orders * b.orders * choose(size(subset) - 2, size(one) - 1);
    }
    plans.set(subset, size(subset) === 1 ? { trees: 1, orders: 1 } : { trees, orders });
  }
  const whole = plans.get((1 << n) - 1);
  return [plans.size, cuts, whole?.trees ?? 0, whole?.orders ?? 0];
}

function size(set: number): number {
  return set === 0 ? 0 : 1 + size(set & (set - 1));
}

function choose(n: number, k: number): number {
  return k === 0 ? 1 : (choose(n - 1, k - 1) * n) / k;
}

function permutations<T>(items: readonly T[]): T[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) => permutations(items.toSpliced(i, 1)).map((rest) => [item, ...rest]));
}
