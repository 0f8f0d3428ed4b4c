// Owns the tests of the order of changes.

import { describe, expect, it } from "vitest";
import type { Improved, ImprovedChange } from "../../plan/index.ts";
import { impossibleIn, rank } from "./ranking.ts";

const change = (id: string, labour: number, elapsed: number, jobs: ImprovedChange["jobs"] = []): ImprovedChange => ({
  id,
  label: id,
  rule: "yours",
  why: "",
  steps: [],
  ways: [],
  spare: [],
  people: 0,
  tools: [],
  labour,
  elapsed,
  p95: { value: elapsed, error: 0.1 },
  jobs,
});

const improved = (changes: readonly ImprovedChange[], untried: readonly string[] = []): Improved => ({
  format: "unmoor/improve/1",
  vehicle: "a",
  people: 2,
  weighed: false,
  jobs: [],
  mean: { labour: 100, elapsed: 60, p95: 80 },
  cost: { labour: 100, steps: [] },
  changes,
  untried,
  pairs: [],
  solves: 0,
  stopped: false,
  assumed: [],
});

const NOTHING = { value: 0, error: 0 };

describe("changes", () => {
  const some = improved([change("a", 1, 5), change("b", 3, 2), change("c", 3, 4), change("none", 0.01, 0)]);

  it("are ranked by what is asked for, and by name where that is alike", () => {
    expect(rank(some, "labour").changes.map(({ id }) => id)).toEqual(["b", "c", "a"]);
    expect(rank(some, "elapsed").changes.map(({ id }) => id)).toEqual(["a", "c", "b"]);
  });

  it("that do nothing are counted, but not those that were not tried everywhere", () => {
    expect(rank(some, "p95").useless).toBe(1);
    expect(rank(improved(some.changes, ["none"]), "p95").useless).toBe(0);
  });

  it("that make a job impossible are shown whatever they spare", () => {
    const bad = change("bad", 0, 0, [{ id: "j", how: "impossible", labour: 0, elapsed: 0, p95: NOTHING }]);
    expect(impossibleIn(bad)).toBe(1);
    expect(rank(improved([bad]), "labour").changes).toHaveLength(1);
  });
});
