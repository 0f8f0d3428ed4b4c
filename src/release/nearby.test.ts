// What was learnt, tried nearby: it keeps every clause and every limit, changes nothing far off, and is the cheapest where everything is near.
import { expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { minimise } from "./minimise.ts";
import { Nearby } from "./nearby.ts";
import { type Literal, Network, yes } from "./network.ts";
import type { Watch } from "./watch.ts";

const watch = (): Watch => ({ nodes: 0, stop: () => false, gap: 0 });
const not = (literal: Literal): Literal => literal ^ 1;

const keeps = ({ literals, starts, rows }: Network, values: Uint8Array): boolean =>
  starts
    .slice(0, -1)
    .every((start, i) =>
      literals.slice(start, starts[i + 1]).some((literal) => values[literal >> 1] === 1 - (literal & 1)),
    ) &&
  rows.every(
    ({ limit, variables, masses }) =>
      variables.reduce((sum, v, i) => sum + (values[v] === 1 ? (masses[i] as number) : 0), 0) <= limit,
  );

/** Clauses between neighbours in a line, and a limit on the mass of the first few. */
function line(seed: number, length: number): Network {
  const chance = makeChance(seed);
  const network = new Network();
  for (let v = 0; v < length; v++) network.variable(chance.whole(1, 9));
  for (let v = 0; v + 3 < length; v++)
    network.clause([0, 1, 2].map(() => yes(v + chance.whole(0, 3)) ^ (chance.hit(0.3) ? 1 : 0)));
  network.rows.push({ limit: 9, variables: [0, 1, 2, 3, 4, 5], masses: [4, 4, 4, 2, 2, 2] });
  return network;
}

test.each(Array.from({ length: 40 }, (_, seed) => seed))(
  "seed %i: where all is near it is the cheapest, or there is none",
  (seed) => {
    const network = line(seed, 40);
    const before = minimise(network, watch());
    if (before.values === undefined) return;
    const known = { values: before.values, cost: before.cost };
    const from = network.starts.length - 1;
    // What was true may not all be true again; one of the new literals stands for a variable that is newer than the assignment.
    const wrong = [...known.values.keys()].filter((v) => known.values[v] === 1).map((v) => not(yes(v)));
    network.clause(wrong.slice(0, 6));
    network.clause([not(yes(network.variable(1))), yes(seed % 40)]);
    const after = minimise(network, watch());
    const mended = new Nearby(network).mend(known, from, watch());
    expect(mended?.cost ?? Number.POSITIVE_INFINITY).toBeCloseTo(after.cost, 6);
    if (mended !== undefined) expect(keeps(network, mended.values)).toBe(true);
  },
);

test("what is far off stays, though it could be cheaper there", () => {
  const network = line(1, 4000);
  const least = minimise(network, watch());
  const values = (least.values as Uint8Array).slice();
  // Far from the new clause more is true than need be.
  const spare = [...values.keys()].findLast((v) => {
    if (values[v] === 1) return false;
    values[v] = 1;
    if (keeps(network, values)) return true;
    values[v] = 0;
    return false;
  });
  const known = { values, cost: least.cost + (network.cost[spare ?? 0] as number) };
  const from = network.starts.length - 1;
  network.clause([known.values[10] === 1 ? not(yes(10)) : yes(10)]);
  const mended = new Nearby(network).mend(known, from, watch());
  expect(mended?.values[spare ?? 0]).toBe(1);
  expect(mended?.values[10]).toBe(1 - (known.values[10] as number));
  expect(mended !== undefined && keeps(network, mended.values)).toBe(true);
  expect(mended?.cost).toBeGreaterThan(minimise(network, watch()).cost);
});
