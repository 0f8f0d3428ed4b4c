// Branching on what elimination leaves: forced by tables too small for anything, against every assignment.
import { describe, expect, test } from "vitest";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { calibrate } from "./calibrate.ts";
import { sweep } from "./fronts.ts";
import { minimise } from "./minimise.ts";
import { Network, yes } from "./network.ts";
import { cheapest } from "./search.ts";
import { tablesOf } from "./tables.ts";
import { Halted, type Watch } from "./watch.ts";

const patient = (): Watch => ({ nodes: 0, stop: () => false, gap: 0 });

/** So many variables of whole cost with a mass each, about twice as many clauses: of 36, more than tables of ten neighbours fold, of 52 and more than any. */
function thicket(seed: number, limits: number, count = 36): Network {
  const chance = makeChance(seed);
  const network = new Network();
  const variables = Array.from({ length: count }, () => network.variable(chance.whole(0, 8)));
  for (let i = 0; i < 2 * count - 2; i++) {
    const some = chance.some(variables, chance.whole(2, 4));
    network.clause(some.map((v) => (chance.hit(0.6) ? yes(v) : yes(v) ^ 1)));
  }
  for (let i = 0; i < limits; i++) {
    const some = chance.some(variables, 20);
    network.rows.push({ limit: chance.whole(15, 45), variables: some, masses: some.map(() => chance.whole(1, 9)) });
  }
  return network;
}

/** 10 variables of whole cost with a mass each, clauses of two to four literals, up to two limits. */
function draw(chance: Chance, limits: number): Network {
  const network = new Network();
  const variables = Array.from({ length: 10 }, () => network.variable(chance.whole(0, 8)));
  for (let i = chance.whole(8, 24); i > 0; i--) {
    const some = chance.some(variables, chance.whole(2, 4));
    network.clause(some.map((v) => (chance.hit(0.65) ? yes(v) : yes(v) ^ 1)));
  }
  for (let i = 0; i < limits; i++) {
    const some = chance.some(variables, chance.whole(3, 8));
    const masses = some.map(() => chance.whole(1, 9));
    network.rows.push({ limit: chance.whole(4, 14), variables: some, masses });
  }
  return network;
}

function costOf(network: Network, values: Uint8Array): number {
  const { starts, literals } = network;
  const fails = starts
    .slice(1)
    .some((end, i) => literals.slice(starts[i], end).every((literal) => values[literal >> 1] === (literal & 1)));
  const heavy = network.rows.some(
    (row) => row.variables.reduce((m, v, i) => m + (values[v] === 1 ? (row.masses[i] as number) : 0), 0) > row.limit,
  );
  if (fails || heavy) return Number.POSITIVE_INFINITY;
  return network.cost.reduce((sum, c, v) => sum + (values[v] === 1 ? c : 0), 0);
}

function least(network: Network): number {
  let best = Number.POSITIVE_INFINITY;
  for (let bits = 0; bits < 2 ** network.cost.length; bits++) {
    const values = Uint8Array.from(network.cost, (_, v) => (bits >> v) & 1);
    best = Math.min(best, costOf(network, values));
  }
  return best;
}

/** Variable → the least cost with it false, and with it true. */
function leastWith(network: Network): [number[], number[]] {
  const found: [number[], number[]] = [[], []];
  for (let bits = 0; bits < 2 ** network.cost.length; bits++) {
    const values = Uint8Array.from(network.cost, (_, v) => (bits >> v) & 1);
    const cost = costOf(network, values);
    values.forEach((value, v) => {
      const own = found[value as 0 | 1];
      own[v] = Math.min(own[v] ?? Number.POSITIVE_INFINITY, cost);
    });
  }
  return found;
}

describe("the cheapest assignment of clauses", () => {
  test("tables of two neighbours at most: the cost is the least, the values have it, the bound is it", () => {
    let nodes = 0;
    for (let seed = 0; seed < 100; seed++) {
      const network = draw(makeChance(seed), 0);
      const watch = patient();
      const truth = least(network);
      const { cost, values, bound } = cheapest(tablesOf(network), Number.POSITIVE_INFINITY, watch, 2);
      nodes += watch.nodes;
      expect({ seed, cost, bound }).toEqual({ seed, cost: truth, bound: truth });
      if (values !== undefined) expect({ seed, cost: costOf(network, values) }).toEqual({ seed, cost: truth });
    }
    expect(nodes).toBeGreaterThan(50);
  });

  test("nothing below a ceiling is no answer, and the bound does not claim more than the ceiling", () => {
    for (let seed = 0; seed < 100; seed++) {
      const network = draw(makeChance(seed), 0);
      const truth = least(network);
      if (truth === Number.POSITIVE_INFINITY) continue;
      const at = cheapest(tablesOf(network), truth, patient(), 2);
      expect({ seed, values: at.values }).toEqual({ seed, values: undefined });
      expect(at.bound).toBeGreaterThanOrEqual(truth);
      expect({ seed, cost: cheapest(tablesOf(network), truth + 1, patient(), 2).cost }).toEqual({ seed, cost: truth });
    }
  });

  test("stopped at once it still answers, and the bound is no lie", () => {
    for (let seed = 0; seed < 100; seed++) {
      const network = draw(makeChance(seed), 0);
      const truth = least(network);
      const watch = { ...patient(), stop: () => true };
      const { cost, values, bound } = cheapest(tablesOf(network), Number.POSITIVE_INFINITY, watch, 2);
      expect({ seed, found: values !== undefined }).toEqual({ seed, found: truth < Number.POSITIVE_INFINITY });
      expect({ seed, between: bound <= truth + 1e-9 && truth <= cost }).toEqual({ seed, between: true });
    }
  });
});

describe("under limits of mass", () => {
  test.each([1, 2])(
    "%i of them: the least cost of all assignments within them",
    (limits) => {
      for (let seed = 0; seed < 100; seed++) {
        const network = draw(makeChance(seed), limits);
        const truth = least(network);
        // Limits of more than one row may add clauses: what was drawn is counted on a copy.
        const { cost, values, bound } = minimise(draw(makeChance(seed), limits), patient());
        expect({ seed, cost, bound }).toEqual({ seed, cost: truth, bound: truth });
        if (values === undefined) continue;
        const own = values.slice(0, network.cost.length);
        expect({ seed, cost: costOf(network, own) }).toEqual({ seed, cost: truth });
      }
    },
    20_000,
  );

  test("asked again with clauses added and below what is known, what the last time taught leaves out nothing", () => {
    let again = 0;
    for (let seed = 0; seed < 60; seed++) {
      const chance = makeChance(seed);
      const network = draw(chance, 1 + (seed % 2));
      for (let round = 0; round < 6; round++) {
        const truth = least(network);
        const below = chance.hit(0.3) ? truth + chance.whole(0, 6) : Number.POSITIVE_INFINITY;
        if (network.floors.isKnown) again++;
        const { cost, values, bound } = minimise(network, patient(), below);
        expect({ seed, round, below, bound }).toEqual({ seed, round, below, bound: Math.min(truth, below) });
        if (truth < below) expect({ seed, round, below, cost }).toEqual({ seed, round, below, cost: truth });
        if (values === undefined || network.cost.length > 10) break;
        const some = chance.some([0, 1, 2, 3, 4, 5, 6, 7, 8, 9], 3);
        network.clause(some.map((v) => (values[v] === 1 ? yes(v) ^ 1 : yes(v))));
      }
    }
    expect(again).toBeGreaterThan(25);
  });

  test("stopped at once the bound is no lie", () => {
    for (let seed = 0; seed < 100; seed++) {
      const truth = least(draw(makeChance(seed), 1));
      const { cost, bound } = minimise(draw(makeChance(seed), 1), { ...patient(), stop: () => true });
      expect({ seed, between: bound <= truth + 1e-9 && truth <= cost }).toEqual({ seed, between: true });
    }
  });
});

describe("stopped, or content with a gap, under limits", () => {
  test("the bound is no lie, and nothing is called impossible that is not", () => {
    // Seed 57 was once given a bound above the truth.
    for (let seed = 54; seed < 58; seed++) {
      const truth = minimise(thicket(seed, 2), patient()).cost;
      for (const asks of [0, 2, 8, Number.POSITIVE_INFINITY]) {
        for (const gap of [0, 0.3]) {
          let asked = 0;
          const watch: Watch = { nodes: 0, stop: () => ++asked > asks, gap };
          const { cost, bound } = minimise(thicket(seed, 2), watch);
          expect({ seed, asks, gap, bound: bound <= truth + 1e-6, cost: truth <= cost }).toEqual({
            ...{ seed, asks, gap },
            ...{ bound: true, cost: true },
          });
        }
      }
    }
  }, 60_000);
});

describe("halted before any answer", () => {
  test("the bound is what was known of the least cost: more than nothing, never above it, and it does not fall", () => {
    for (let seed = 1; seed < 3; seed++) {
      for (const limits of [0, 1]) {
        const truth = minimise(thicket(seed, limits, 60), patient()).cost;
        const bounds = [1, 2, 4, 8].map((ticks) => {
          let ticked = 0;
          const tick = (known?: number): void => {
            if (++ticked >= ticks) throw new Halted(known);
          };
          return minimise(thicket(seed, limits, 60), { ...patient(), tick }).bound;
        });
        expect({ seed, limits, bounds, within: bounds.every((b) => b > 0 && b <= truth + 1e-6) }).toMatchObject({
          within: true,
        });
        expect({ seed, limits, bounds }).toEqual({ seed, limits, bounds: bounds.toSorted((a, b) => a - b) });
      }
    }
  }, 30_000);
});

describe("networks too large for every assignment", () => {
  test("cost the same, whatever the width of the tables that they are folded into", () => {
    for (let seed = 0; seed < 8; seed++) {
      const network = thicket(seed, 0);
      const costs = [1, 2, 3, 5, 7, 9, 12].map(
        (cap) => cheapest(tablesOf(network), Number.POSITIVE_INFINITY, patient(), cap).cost,
      );
      expect({ seed, costs: [...new Set(costs)] }).toEqual({ seed, costs: [costs[0]] });
    }
  }, 30_000);
});

describe("the tree of tables", () => {
  test("what a value costs more at least: just that in a tree of all variables, no more than that beside a core", () => {
    let cores = 0;
    for (let seed = 0; seed < 30; seed++) {
      const network = draw(makeChance(seed), 0);
      const tables = tablesOf(network);
      const [without, having] = leastWith(network);
      for (const width of [1, 2, 12]) {
        const tree = calibrate(tables, tables.unary, undefined, [width, width]);
        if (tree.least === Number.POSITIVE_INFINITY) continue;
        if (!tree.whole) cores++;
        for (let v = 0; v < tables.count; v++) {
          const known = [tree.low, tree.high].map((more) => tree.least + (more[v] as number));
          const truth = [without[v] as number, having[v] as number];
          const right = known.every((x, i) => (tree.whole ? x === truth[i] : x <= (truth[i] as number) + 1e-6));
          expect({ seed, width, v, known, truth, right }).toMatchObject({ right: true });
        }
      }
    }
    expect(cores).toBeGreaterThan(15);
  }, 30_000);
});

describe("fronts of cost and mass", () => {
  test("a sweep whose answer lies within its slack of the bound of its price is the least within the limit", () => {
    for (let seed = 0; seed < 60; seed++) {
      const chance = makeChance(seed);
      const network = draw(chance, 1);
      const row = network.rows[0];
      if (row === undefined) continue;
      const tables = tablesOf(network);
      const masses = new Float64Array(tables.count);
      row.variables.forEach((v, i) => {
        masses[v] = row.masses[i] ?? 0;
      });
      const truth = least(network);
      for (const price of [0, 0.5, 1.7]) {
        const unary = tables.unary.map((c, v) => c + price * (masses[v] ?? 0));
        const base = cheapest({ ...tables, unary }, Number.POSITIVE_INFINITY, patient()).cost - price * row.limit;
        for (const slack of [0, 2, 8, 64]) {
          const tree = calibrate(tables, unary);
          const { complete, cost } = sweep(tables, tree, masses, row.limit, price, slack, () => false);
          expect({ seed, price, slack, complete, least: truth <= cost }).toEqual({
            ...{ seed, price, slack },
            ...{ complete: true, least: true },
          });
          if (cost <= base + slack) expect({ seed, price, slack, cost }).toEqual({ seed, price, slack, cost: truth });
        }
      }
    }
  }, 30_000);
});
