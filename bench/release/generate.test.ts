import { describe, expect, it } from "vitest";
import { check } from "../../src/release/check.ts";
import { checksum } from "./checksum.ts";
import { FAMILIES, generateMachine, HOISTS } from "./generate.ts";
import { proveFeasible } from "./witness.ts";

describe("generated machines", () => {
  for (const family of FAMILIES) {
    for (const hoist of HOISTS) {
      it(`${family}, ${hoist}: exactly the size asked for, and a plan made by construction passes the check`, () => {
        for (const size of [40, 90, 150, 700]) {
          for (let seed = 1; seed <= 8; seed += 1) {
            const { problem, cores } = generateMachine({ family, size, hoist, seed });
            expect(problem.connections).toHaveLength(size);
            expect({ size, seed, faults: check(problem, proveFeasible(problem, cores)).faults }).toEqual({
              size,
              seed,
              faults: [],
            });
          }
        }
      });
    }
  }

  it("the same seed gives the same machine, another seed another", () => {
    const recipe = { family: "loops", size: 300, hoist: "tight", seed: 5 } as const;
    const text = (seed: number): string => JSON.stringify(generateMachine({ ...recipe, seed }).problem);
    expect(text(5)).toBe(text(5));
    expect(text(6)).not.toBe(text(5));
    expect(checksum(text(5))).toBe("b7cbb050");
  });

  it("ids are unique over parts, connections and tasks", () => {
    const { parts, connections, tasks } = generateMachine({
      family: "extra",
      size: 1000,
      hoist: "loose",
      seed: 1,
    }).problem;
    const ids = [...parts, ...connections, ...tasks, ...connections.flatMap((c) => c.ways)].map((each) => each.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("a tight hoist cannot take all that a loose one takes", () => {
    const limit = (hoist: "loose" | "tight"): number => {
      const { tasks } = generateMachine({ family: "thin", size: 150, hoist, seed: 2 }).problem;
      return tasks.find((task) => task.id === "lift-out")?.lift?.limit ?? Number.NaN;
    };
    expect(limit("tight")).toBeLessThan(limit("loose"));
  });

  it("a machine too small to hold its own bones is refused", () => {
    expect(() => generateMachine({ family: "thin", size: 39, hoist: "loose", seed: 1 })).toThrow(RangeError);
  });
});
