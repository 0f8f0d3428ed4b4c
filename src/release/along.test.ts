import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { ask, frame, part, task, tie, way } from "../../bench/release/scene.ts";
import type { Problem } from "./problem.ts";
import { solve } from "./solve.ts";

/**
 * An engine of 200 kg on one mount, a housing bolted to it, a bracket bolted to the housing, a radiator of 30 kg on the frame that a hose joins to the engine, and a
 * cover of no mass that lies on the radiator.
 */
const scene = (take: readonly string[], rest: Partial<Problem> = {}): Problem =>
  ask({
    parts: [
      frame,
      part("engine", 200),
      part("housing", 40),
      part("bracket", 15),
      part("radiator", 30),
      part("cover", 0),
    ],
    connections: [
      tie("mount", ["engine", "frame"], { carrying: true, ways: [way("mount/1", 4, [{ done: "sling" }])] }),
      tie("housing-bolts", ["engine", "housing"], { carrying: true }),
      tie("bracket-bolts", ["housing", "bracket"], { carrying: true }),
      tie("bracket-foot", ["bracket", "frame"], { carrying: true, ways: [way("bracket-foot/1", 2)] }),
      tie("radiator-mount", ["radiator", "frame"], { carrying: true }),
      tie("hose", ["engine", "radiator"]),
      tie("clip", ["cover", "radiator"]),
    ],
    tasks: [
      task("sling", { supports: ["engine"] }),
      task("lift", { must: true, lift: { parts: ["engine"], limit: 400 } }),
    ],
    take,
    ...rest,
  });

/** One round, without a search through choices that nothing tells from one another. */
const once = (problem: Problem) => {
  const result = solve(problem, { stop: () => true });
  expect(result.status === "infeasible").toBe(brute(problem) === undefined);
  return result;
};

describe("what must go up with a lift", () => {
  test("goes with all that it hangs on: the bracket takes the housing along", () => {
    const { status, plan } = once(scene(["bracket"]));
    expect(status).toBe("optimal");
    expect(plan?.lifts[0]?.parts.toSorted()).toEqual(["bracket", "engine", "housing"]);
  });

  test("does not go by a hose alone: said at once, not after trying what else could be left on", () => {
    expect(once(scene(["radiator"])).status).toBe("infeasible");
  });

  test("does not go through a part that would drop: the cover lies on the radiator", () => {
    expect(once(scene(["cover"])).status).toBe("infeasible");
  });

  test("does not go when its last tie is released before the lift can be made", () => {
    const { tasks } = scene([]);
    const changed = tasks.map((one) => (one.id === "sling" ? { ...one, needs: [{ released: "housing-bolts" }] } : one));
    expect(once(scene(["housing"], { tasks: changed })).status).toBe("infeasible");
  });

  test("goes though its tie is released for the job, once it is out", () => {
    const { tasks } = scene([]);
    const work = task("work", { must: true, needs: [{ released: "housing-bolts" }, { done: "lift" }] });
    const { status, plan } = once(scene(["housing"], { tasks: [...tasks, work] }));
    expect(status).toBe("optimal");
    expect(plan?.lifts[0]?.parts).toContain("housing");
  });
});
