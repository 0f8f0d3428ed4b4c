import { describe, expect, it } from "vitest";
import { check } from "../../src/release/index.ts";
import { brute } from "./brute.ts";
import { loadHighs, solveLp } from "./lp.ts";
import { Milp } from "./milp.ts";
import { askOracle } from "./oracle.ts";
import { randomProblem } from "./random.ts";

/** Enough for two in three of these; what is not done by then says "bound". */
const LIMITS = { rounds: 6, seconds: 30 };

describe("the integer models against the exhaustive search", () => {
  it("never promise less than they may: the peer's optimum and the oracle's bound are no plan's labour too much, and what is called exact is", async () => {
    const highs = await loadHighs();
    const met = { exact: 0, infeasible: 0, bound: 0 };
    for (let seed = 1; seed <= 24; seed += 1) {
      const problem = randomProblem(seed);
      const least = brute(problem)?.labour ?? Number.POSITIVE_INFINITY;
      const peer = solveLp(highs, new Milp(problem, "groups").lp);
      expect({ seed, fits: peer.objective <= least + 1e-6 }).toEqual({ seed, fits: true });
      const finding = askOracle(highs, problem, LIMITS);
      met[finding.status] += 1;
      expect({ seed, fits: finding.bound <= least + 1e-6 }).toEqual({ seed, fits: true });
      if (finding.status === "infeasible") expect({ seed, least }).toEqual({ seed, least: Number.POSITIVE_INFINITY });
      if (finding.status !== "exact") continue;
      expect({ seed, labour: finding.labour }).toEqual({ seed, labour: least });
      expect({ seed, legal: check(problem, finding.order ?? []).legal }).toEqual({ seed, legal: true });
    }
    // Were the oracle to give up on all, the lines above would say nothing.
    expect(met.exact).toBeGreaterThanOrEqual(6);
    expect(met.infeasible).toBeGreaterThanOrEqual(6);
  }, 120_000);
});
