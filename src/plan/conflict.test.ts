import { describe, expect, test } from "vitest";
import { carrier, connection } from "../../test/small-vehicle.ts";
import { solve } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
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
