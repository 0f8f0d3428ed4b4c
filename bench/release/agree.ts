// Owns the comparison of solver and oracle on machines too big for exhaustive search: equal labour on each, or it is said where not.

import { solve } from "../../src/release/index.ts";
import { FAMILIES, generateMachine, HOISTS } from "./generate.ts";
import { loadHighs } from "./lp.ts";
import { askOracle } from "./oracle.ts";

export interface Agreement {
  /** Machines on which both ended with a proof, and those of them on which the labours are equal. */
  readonly both: number;
  readonly equal: number;
  /** Machines left out, because the oracle or the solver ran out of time. */
  readonly oracleOpen: number;
  readonly solverOpen: number;
  /** What contradicts: unequal labours, a bound above the other's plan. */
  readonly contradictions: readonly string[];
}

const CLOSE = 1e-4;

/** Every family and hoist, each size, seeds from 1. `seconds` is the time that either has for one machine. */
export async function compareWithOracle(
  sizes: readonly number[],
  seeds: number,
  seconds: number,
  tell: (line: string) => void,
): Promise<Agreement> {
  const highs = await loadHighs();
  const now = (): number => performance.now();
  let [both, equal, oracleOpen, solverOpen] = [0, 0, 0, 0];
  const contradictions: string[] = [];
  for (const size of sizes) {
    for (const family of FAMILIES) {
      for (const hoist of HOISTS) {
        for (let seed = 1; seed <= seeds; seed++) {
          const { problem } = generateMachine({ family, size, hoist, seed });
          const result = solve(problem, { now, milliseconds: seconds * 1000 });
          const finding = askOracle(highs, problem, { rounds: 100, seconds });
          const ours = result.plan?.labour ?? Number.POSITIVE_INFINITY;
          const theirs = finding.labour ?? Number.POSITIVE_INFINITY;
          const line = `${family} ${hoist} ${size} seed ${seed}: solver ${result.status} ${ours}, bound ${result.bound}; oracle ${finding.status} ${theirs}, bound ${finding.bound}`;
          if (result.status !== "optimal") solverOpen++;
          if (finding.status === "bound") oracleOpen++;
          else if (result.status === "optimal") {
            both++;
            if (Math.abs(ours - theirs) < CLOSE) equal++;
          }
          const clash = result.bound > theirs + CLOSE || finding.bound > ours + CLOSE || result.status === "infeasible";
          if (clash) contradictions.push(line);
          if (clash || result.status !== "optimal" || finding.status === "bound") tell(line);
        }
      }
    }
  }
  return { both, equal, oracleOpen, solverOpen, contradictions };
}
