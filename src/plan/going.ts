// Owns the minutes from one position to another: the way, what each change of place takes anyhow, and getting under, in or up.

import type { Position } from "../vehicle/index.ts";
import type { Going } from "./crew.ts";

/** Metres from the height of the hands, about 1 m, from where on somebody must climb or crawl to work: common practice. */
const HANDS = 1;
const REACH = 0.45;

/** Twice a minute: finer than that nobody knows it. */
const HALVES = 2;

const isClimb = ({ at }: Position): boolean => at !== undefined && Math.abs(at[2] - HANDS) > REACH;

/**
 * Minutes by position and position, in their order; a position without coordinates is as far as the settling takes. No way round is shorter than the direct one.
 */
export const waysBetween = (positions: readonly Position[], going: Going): readonly (readonly number[])[] => {
  const rows = positions.map((from) =>
    positions.map((to) => {
      if (from === to) return 0;
      const far =
        from.at === undefined || to.at === undefined ? 0 : Math.hypot(to.at[0] - from.at[0], to.at[1] - from.at[1]);
      const climbs = (isClimb(from) ? going.climb : 0) + (isClimb(to) ? going.climb : 0);
      return Math.round((going.settle + climbs + far / going.speed) * HALVES) / HALVES;
    }),
  );
  // Rounding, and positions that nobody gave coordinates, may make a way round shorter.
  for (const [middle, through] of rows.entries())
    for (const row of rows)
      for (const to of row.keys()) row[to] = Math.min(row[to] ?? 0, (row[middle] ?? 0) + (through[to] ?? 0));
  return rows;
};
