// Owns the lift in the plan's own words: the few figures of how it hangs that whoever does the job needs, and which checks did not pass.

import { type Check, faultInEnglish, inEnglish } from "../rigging/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { groupsOf } from "./lift-group.ts";
import { type LiftOfPlan, reckonLiftOf } from "./lift-of-plan.ts";
import type { Between, LiftInShort, Plan } from "./plan.ts";

/** The lifts of a plan in short, in its order. */
export const liftsInShort = (vehicle: Vehicle, plan: Plan, hoist: string | undefined): readonly LiftInShort[] =>
  groupsOf(vehicle, plan).map((group) => shortOf(reckonLiftOf(vehicle, group, hoist === undefined ? {} : { hoist })));

function shortOf(lift: LiftOfPlan): LiftInShort {
  if (lift.kind === "refused")
    return {
      kind: "not reckoned",
      why: lift.faults
        .map(faultInEnglish)
        .map(({ what, mend }) => `${what}. ${mend}`)
        .join(" "),
      legs: [],
      passed: 0,
      open: [],
    };
  const { clearing, checks } = lift.kind === "stands" ? lift : lift.answer;
  const nearest = clearing.contact ?? clearing.least;
  const shared = {
    passed: checks.filter(({ verdict }) => verdict === "passes").length,
    open: checks.flatMap(openOf),
    ...(nearest === undefined
      ? {}
      : { clearance: { gap: clearing.least?.gap.distance ?? 0, box: nearest.box, obstacle: nearest.obstacle } }),
  };
  if (lift.kind === "stands") {
    const { margin } = lift.stand;
    return { kind: "stands", legs: [], ...(margin === undefined ? {} : { margin }), ...shared };
  }
  const { hanging, ranges, stop } = lift.answer;
  const known = ranges.kind === "ranges" && ranges.status === "proved" ? ranges : undefined;
  const between = (
    nominal: number,
    range: { low: { bound: number }; high: { bound: number } } | undefined,
  ): Between => ({
    nominal,
    ...(range === undefined ? {} : { low: range.low.bound, high: range.high.bound }),
  });
  return {
    kind: hanging.kind,
    pitch: between(hanging.pitch, known?.pitch),
    roll: between(hanging.roll, known?.roll),
    legs: hanging.legs.map(({ id, tension, angle }, i) => ({
      id,
      tension: between(tension, known?.legs[i]?.tension),
      angle,
    })),
    margin: known?.margin.low.bound ?? (hanging.kind === "hangs" ? hanging.stability.margin : hanging.margin),
    stop: stop.newtons,
    ...shared,
  };
}

const openOf = ({ check, at, verdict, figures }: Check): LiftInShort["open"] =>
  verdict === "passes" ? [] : [{ check, at, verdict, figures: inEnglish(...figures) }];
