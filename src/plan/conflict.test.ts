import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { carrier, connection, frame, job, part, task, vehicle } from "../../test/small-vehicle.ts";
import { kilograms, metres } from "../quantity/index.ts";
import { solve } from "../release/index.ts";
import type { Kind, Need, Vehicle } from "../vehicle/index.ts";
import { conflictOf, type Rule, rulesOf, waive } from "./conflict.ts";
import { type Order, orderFor, toolsOf } from "./order.ts";
import { type Question, translate } from "./question.ts";

const ask = (order: Partial<Order>, file: Vehicle = carrier()): Question =>
  translate(file, { ...orderFor("clutch-plate"), ...order });

/** Whether there is a plan when only these rules are kept. */
function holds(question: Question, kept: readonly Rule[]): boolean {
  const keys = new Set(kept.map((rule) => JSON.stringify(rule)));
  const waived = rulesOf(question).filter((rule) => !keys.has(JSON.stringify(rule)));
  return solve(waive(question, waived)).status === "optimal";
}

function conflict(question: Question) {
  const found = conflictOf(question);
  if (found === undefined) throw new Error("no conflict");
  return found;
}

describe("the conflict is one, and none of its rules can be spared", () => {
  const tools = [...new Set(toolsOf(carrier()))].map((tool): Partial<Order> => ({ withoutTools: [tool] }));
  const parts = carrier()
    .parts.filter(({ fixed }) => !fixed)
    .flatMap(({ id }): Partial<Order>[] => [{ keep: [id] }, { take: [id] }]);
  const short: readonly Partial<Order>[] = [
    ...tools,
    ...parts,
    { people: 1 },
    { people: 2 },
    { people: 2, withoutTools: ["spanner 13"] },
  ];
  const impossible = short.filter((order) => solve(ask(order).problem).status === "infeasible");

  test("there is something to explain", () => {
    expect(impossible.length).toBeGreaterThan(3);
    expect(impossible.length).toBeLessThan(short.length);
  });

  test.each(impossible.map((order) => [JSON.stringify(order), order] as const))("%s", (_, order) => {
    const question = ask(order);
    const { rules, smallest } = conflict(question);
    const kept = rules.map(({ rule }) => rule);
    expect(smallest).toBe(true);
    expect(holds(question, kept)).toBe(false);
    for (const spared of kept)
      expect({
        spared,
        holds: holds(
          question,
          kept.filter((rule) => rule !== spared),
        ),
      }).toEqual({ spared, holds: true });
  });
});

test("it is said in the words of the file, what the foreman can change first", () => {
  const [first, ...others] = conflict(ask({ keep: ["engine"] })).rules.map(({ says }) => says);
  expect(first).toBe('"The engine" (engine) may not go up with a lift, says the order');
  expect(others.join("\n")).toMatch(/needs /);
});

test("a tie that the file never releases is named", () => {
  const file = carrier();
  const welded = {
    ...file,
    connections: [...file.connections, connection("weld", ["engine", "frame"], "bolted joint", [])],
  };
  expect(conflict(ask({ jobs: ["swap-engine"] }, welded)).rules.map(({ rule }) => rule)).toContainEqual({
    kind: "made",
    id: "weld",
  });
});

test("too few people, a missing skill and a missing tool are each named by what is missing", () => {
  const kinds = (order: Partial<Order>) => conflict(ask(order)).rules.map(({ rule }) => rule);
  expect(kinds({ jobs: ["swap-engine"], people: 2 })).toContainEqual({ kind: "people", have: 2 });
  expect(kinds({ jobs: ["swap-engine"], withoutTools: ["spanner 13"] })).toContainEqual({
    kind: "tool",
    name: "spanner 13",
  });
});

test("where a plan exists every rule can be kept at once", () => {
  const question = ask({});
  expect(holds(question, rulesOf(question))).toBe(true);
});

/** Two parts and a few ties that need one another in any order, circles and all, so that most orders on it cannot be carried out. */
function tangle(chance: Chance): Vehicle {
  const ids = ["a", "b", "c", "d"].slice(0, chance.whole(3, 4));
  const needs = (): readonly Need[] => {
    const one = (): Need => ({ id: chance.pick([...ids, "raise"]) });
    return chance.hit(0.6) ? [chance.hit(0.25) ? { any: [one(), one()] } : one()] : [];
  };
  const kinds: readonly Kind[] = ["hose", "bolted joint", "mount"];
  const ends = () =>
    chance.pick([
      ["pump", "frame"],
      ["pump", "block"],
      ["block", "frame"],
    ]);
  return vehicle({
    parts: [frame(), part("pump", chance.pick([5, 60])), part("block", chance.pick([5, 60]))],
    connections: ids.map((id) =>
      connection(id, ends(), chance.pick(kinds), [
        {
          needs: needs(),
          ...(chance.hit(0.2) ? { without: ["raise"] } : {}),
          ...(chance.hit(0.2) ? { people: 2 } : {}),
        },
      ]),
    ),
    tasks: [
      task("raise", { needs: chance.hit(0.3) ? needs() : [] }, { undo: { time: 1, people: 1 } }),
      task("lift", { ...(chance.hit(0.3) ? { needs: needs() } : {}) }, { lifts: ["pump"], reach: 1 }),
    ],
    jobs: [job("mend", { needs: [chance.pick<Need>([{ id: "lift" }, { id: "pump" }, { out: "pump" }])] })],
    hoists: [{ id: "crane", label: "Crane", reach: [[metres(1), kilograms(chance.pick([50, 500]))]] }],
  });
}

/** Every set of rules that cannot be kept together and none of which can be spared, found by trying every set with the brute force. */
function smallestSets(question: Question, rules: readonly Rule[]): ReadonlySet<string> {
  const sets = Array.from({ length: 2 ** rules.length }, (_, bits) => rules.map((_rule, n) => ((bits >> n) & 1) === 1));
  const clashing: (readonly boolean[])[] = [];
  // Waiving a rule never makes a plan impossible, so only what holds no clashing set itself is tried; smaller sets first.
  const size = (set: readonly boolean[]) => set.filter(Boolean).length;
  for (const set of sets.toSorted((one, other) => size(one) - size(other))) {
    if (clashing.some((known) => known.every((kept, n) => !kept || set[n] === true))) continue;
    if (
      brute(
        waive(
          question,
          rules.filter((_rule, n) => set[n] === false),
        ),
      ) === undefined
    )
      clashing.push(set);
  }
  return new Set(clashing.map((set) => JSON.stringify(rules.filter((_rule, n) => set[n]))));
}

test("on small tangles the conflict is one of those that trying every set of rules finds", () => {
  let met = 0;
  let ways = 0;
  for (let seed = 0; seed < 20; seed++) {
    const chance = makeChance(seed);
    const file = tangle(chance);
    const order = { ...orderFor("mend"), people: chance.pick([1, 2]), keep: chance.hit(0.3) ? ["block"] : [] };
    const question = translate(file, order);
    const rules = rulesOf(question);
    if (rules.length > 9) continue;
    if (brute(question.problem) !== undefined) continue;
    const found = conflictOf(question);
    const smallest = smallestSets(question, rules);
    expect({ seed, smallest: found?.smallest }).toEqual({ seed, smallest: true });
    const rulesFound = JSON.stringify(
      rules.filter((rule) => found?.rules.some((one) => JSON.stringify(one.rule) === JSON.stringify(rule))),
    );
    expect([...smallest], `seed ${seed}`).toContain(rulesFound);
    met++;
    if (smallest.size > 1) ways++;
  }
  // Enough of them to mean something, and some with more than one conflict to choose from.
  expect(met).toBeGreaterThan(7);
  expect(ways).toBeGreaterThan(1);
});
