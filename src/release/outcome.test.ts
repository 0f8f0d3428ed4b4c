// What the solver says that a plan moves, against what the checker saw move: two pieces of code that share nothing.
import { describe, expect, test } from "vitest";
import { FAMILIES, generateMachine } from "../../bench/release/generate.ts";
import { proveFeasible } from "../../bench/release/witness.ts";
import { check } from "./check.ts";
import { outcomeOf } from "./outcome.ts";
import type { Problem } from "./problem.ts";

describe("lifted groups, parts set aside and hangs agree with the checker's", () => {
  test.each(FAMILIES)("on %s machines", (family) => {
    for (let seed = 1; seed <= 20; seed++) {
      const { problem, cores } = generateMachine({ family, size: 120, hoist: "loose", seed });
      const order = proveFeasible(problem, cores);
      // Half the orders stop short of the end, so that groups are still tied and parts half off.
      const shown = seed % 2 === 0 ? order : order.slice(0, Math.floor(order.length / 2));
      const { lifts, setAside, hung } = check(problem, shown);
      const outcome = outcomeOf(problem, shown);
      expect({ seed, ...outcome, lifts: outcome.lifts.map(({ task, parts }) => ({ task, parts })) }).toEqual({
        seed,
        lifts: lifts.map(({ task, parts }) => ({ task, parts })),
        setAside,
        hung: hung.map(({ task }) => task),
      });
      outcome.lifts.forEach(({ mass }, i) => {
        expect(mass).toBeCloseTo(lifts[i]?.mass ?? Number.NaN, 6);
      });
    }
  });

  test("a strap that hangs a part aside ties it, so that what hangs on a lifted part goes up with it", () => {
    const part = (id: string, fixed = false) => ({ id, fixed, mass: 10 });
    const tie = (id: string, ...joins: string[]) => ({ id, joins, carrying: true, rests: false, ways: [] });
    const task = (id: string) => ({
      ...{ id, labour: 1, needs: [], without: [], entails: [], supports: [] },
      ...{ toggle: false, back: false, must: false },
    });
    const problem: Problem = {
      parts: [part("frame", true), part("unit"), part("pump"), part("cover")],
      connections: [tie("mount", "unit", "frame"), tie("flange", "pump", "frame"), tie("screws", "cover", "frame")],
      tasks: [
        { ...task("hang"), hang: { part: "pump", to: "unit", taut: [] } },
        { ...task("lift"), lift: { parts: ["unit"], limit: 100 } },
      ],
      ...{ handLimit: 25, margin: 0, keep: [], take: [], released: ["screws"] },
    };
    const order = [{ do: "hang" }, { release: "flange", way: "" }, { release: "mount", way: "" }, { do: "lift" }];
    expect(outcomeOf(problem, order)).toEqual({
      lifts: [{ task: "lift", parts: ["unit", "pump"], mass: 20 }],
      setAside: ["cover"],
      hung: ["hang"],
    });
  });
});
