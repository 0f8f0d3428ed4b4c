// Bucket elimination against every assignment of small networks.
import { expect, test } from "vitest";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { eliminate } from "./elimination.ts";
import { Network, yes } from "./network.ts";
import { tablesOf } from "./tables.ts";

/** Up to 9 variables of whole cost, and clauses of one to four literals over them. */
function draw(chance: Chance): Network {
  const network = new Network();
  const count = chance.whole(1, 9);
  for (let v = 0; v < count; v++) network.variable(chance.whole(0, 6));
  for (let i = chance.whole(0, 2 * count); i > 0; i--) {
    const length = chance.pick([1, 2, 2, 3, 3, 4]);
    network.clause(
      Array.from({ length }, () => {
        const v = chance.whole(0, count - 1);
        return chance.hit(0.6) ? yes(v) : yes(v) ^ 1;
      }),
    );
  }
  return network;
}

/** The cost of values, infinite where a clause fails. */
function costOf(network: Network, values: Uint8Array): number {
  const fails = network.starts
    .slice(1)
    .some((end, i) =>
      network.literals.slice(network.starts[i], end).every((literal) => values[literal >> 1] === (literal & 1)),
    );
  return fails ? Number.POSITIVE_INFINITY : network.cost.reduce((sum, c, v) => sum + (values[v] === 1 ? c : 0), 0);
}

/** The least cost of all assignments in which the given variables have the given values. */
function least(network: Network, fixed: ReadonlyMap<number, number> = new Map()): number {
  const count = network.cost.length;
  let best = Number.POSITIVE_INFINITY;
  for (let bits = 0; bits < 2 ** count; bits++) {
    if ([...fixed].some(([v, to]) => ((bits >> v) & 1) !== to)) continue;
    best = Math.min(
      best,
      costOf(
        network,
        Uint8Array.from({ length: count }, (_, v) => (bits >> v) & 1),
      ),
    );
  }
  return best;
}

const seeds = Array.from({ length: 400 }, (_, i) => i);

test("with room for every table nothing is left, and what is restored costs the least there is", () => {
  for (const seed of seeds) {
    const network = draw(makeChance(seed));
    const truth = least(network);
    const folded = eliminate(tablesOf(network), 12);
    expect({ seed, feasible: folded.feasible }).toEqual({ seed, feasible: truth < Number.POSITIVE_INFINITY });
    if (!folded.feasible) continue;
    expect({ seed, base: folded.base, left: folded.rest.count }).toEqual({ seed, base: truth, left: 0 });
    expect({ seed, cost: costOf(network, folded.restore(new Uint8Array(0))) }).toEqual({ seed, cost: truth });
  }
});

test("what is kept back stays open: for each of its values the rest says what the least is", () => {
  for (const seed of seeds) {
    const chance = makeChance(seed);
    const network = draw(chance);
    const frozen = Uint8Array.from(network.cost, () => (chance.hit(0.3) ? 1 : 0));
    const tables = tablesOf(network);
    const folded = eliminate(tables, 12, { frozen });
    if (!folded.feasible) {
      expect({ seed, truth: least(network) }).toEqual({ seed, truth: Number.POSITIVE_INFINITY });
      continue;
    }
    const { rest, names, base, restore } = folded;
    for (const v of names) expect({ seed, v, frozen: frozen[v] }).toEqual({ seed, v, frozen: 1 });
    for (let bits = 0; bits < 2 ** rest.count; bits++) {
      const values = Uint8Array.from({ length: rest.count }, (_, i) => (bits >> i) & 1);
      let cost = base + rest.unary.reduce((sum, c, v) => sum + (values[v] === 1 ? c : 0), 0);
      rest.offsets.forEach((offset, f) => {
        const scope = rest.scopes.slice(rest.starts[f], rest.starts[f + 1]);
        const at = scope.reduce((sum, v, i) => sum + ((values[v] as number) << i), 0);
        if (offset >= 0) cost += rest.costs[offset + at] as number;
        else if (at === rest.negative[f]) cost = Number.POSITIVE_INFINITY;
      });
      const full = restore(values);
      const chosen = new Map([...names].map((v, i) => [v, values[i] as number]));
      expect({ seed, bits, cost }).toEqual({ seed, bits, cost: costOf(network, full) });
      expect({ seed, bits, cost }).toEqual({ seed, bits, cost: least(network, chosen) });
    }
  }
});

test("under a ceiling: the same answer where it is below, nothing where it is not", () => {
  for (const seed of seeds) {
    const network = draw(makeChance(seed));
    const truth = least(network);
    if (truth === Number.POSITIVE_INFINITY) continue;
    const half = eliminate(tablesOf(network), 1);
    const within = eliminate(half.rest, 12, { ceiling: truth + 1 - half.base });
    expect({ seed, ...within, base: half.base + within.base }).toMatchObject({ seed, feasible: true, base: truth });
    expect({ seed, cost: costOf(network, half.restore(within.restore(new Uint8Array(within.rest.count)))) }).toEqual({
      ...{ seed, cost: truth },
    });
    const without = eliminate(half.rest, 12, { ceiling: truth - half.base });
    expect({ seed, feasible: without.feasible }).toEqual({ seed, feasible: false });
  }
});
