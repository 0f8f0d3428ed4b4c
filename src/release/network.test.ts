// Weighted clauses: a long clause is cut into a chain and means the same.
import { expect, test } from "vitest";
import { Network, yes } from "./network.ts";

/** Whether some values of the variables beyond the given ones satisfy every clause. */
function canHold(network: Network, given: readonly boolean[]): boolean {
  const free = network.cost.length - given.length;
  return Array.from({ length: 2 ** free }, (_, bits) => {
    const value = (v: number): boolean => given[v] ?? ((bits >> (v - given.length)) & 1) === 1;
    return network.starts
      .slice(1)
      .every((end, i) =>
        network.literals
          .slice(network.starts[i], end)
          .some((literal) => value(literal >> 1) === (literal === yes(literal >> 1))),
      );
  }).includes(true);
}

test("a clause of any length holds exactly where one of its literals does, and links cost nothing", () => {
  for (let length = 0; length <= 9; length++) {
    const network = new Network();
    const literals = Array.from({ length }, (_, i) => {
      const v = network.variable(i);
      return i % 3 === 1 ? yes(v) ^ 1 : yes(v);
    });
    network.clause(literals);
    for (let bits = 0; bits < 2 ** length; bits++) {
      const given = literals.map((_, i) => ((bits >> i) & 1) === 1);
      const means = literals.some((literal, i) => given[i] === (literal === yes(i)));
      expect({ length, bits, holds: canHold(network, given) }).toEqual({ length, bits, holds: means });
    }
    expect(network.cost.slice(length).every((cost) => cost === 0)).toBe(true);
    network.starts.slice(1).forEach((end, i) => {
      expect(end - (network.starts[i] ?? 0)).toBeLessThanOrEqual(4);
    });
  }
});
