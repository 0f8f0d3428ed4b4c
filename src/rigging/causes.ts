// Owns what makes the worst case the worst: the way from the nominal figure to the end of a range, one cause after the other.

import { hangSound } from "./hang.ts";
import type { Sample } from "./hang-options.ts";
import { madeLength } from "./leg.ts";
import type { Rig } from "./problem.ts";
import type { End } from "./ranges.ts";
import type { Hanging } from "./result.ts";

export interface Cause {
  readonly cause: "mass" | "centre" | "lengths" | "stiffness" | "which legs carry" | "not reached";
  /** By how much it moves the figure, in the figure's unit. */
  readonly adds: number;
}

/**
 * From the figure at nominal values to the bound: mass, then centre, lengths and stiffness of the worst case put in, one on top of the other; what then is left is that
 * only some of the legs carry there, and what of the bound no case was found to reach. The sum is exactly the bound less the nominal figure.
 */
export function causesOf(rig: Rig, end: End, read: (hanging: Hanging) => number): readonly Cause[] {
  const { mass, centre, lengths, stiffness } = end.at;
  // Lengths of the case are as loaded; those that carry nothing are as made.
  const own = rig.legs.map((leg, i) => {
    const made = madeLength(leg);
    return Math.min(made + leg.within, Math.max(made - leg.within, lengths[i] ?? made));
  });
  const samples: readonly (readonly [Cause["cause"], Sample])[] = [
    ["mass", { mass }],
    ["centre", { mass, centre }],
    ["lengths", { mass, centre, lengths: own }],
    ...(stiffness === undefined ? [] : [["stiffness", { mass, centre, lengths: own, stiffness }] as const]),
  ];
  const causes: Cause[] = [];
  const start = figure({});
  let last = start;
  function figure(sample: Sample): number | undefined {
    const hanging = hangSound(rig, { sample });
    return hanging.kind === "hangs" ? read(hanging) : undefined;
  }
  if (start === undefined) return [];
  for (const [cause, sample] of samples) {
    const next = figure(sample);
    if (next === undefined || last === undefined) break;
    causes.push({ cause, adds: next - last });
    last = next;
  }
  causes.push({ cause: "which legs carry", adds: end.reached - (last ?? 0) });
  causes.push({ cause: "not reached", adds: end.bound - end.reached });
  return causes;
}
