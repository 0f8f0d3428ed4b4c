// Owns the check of what a body stands on: each pad against what it may carry, over all that is not known.

import { against, type Check, kilonewtons } from "./check.ts";
import { GRAVITY } from "./gravity.ts";
import { type Standing, standOf } from "./standing.ts";
import { standRange } from "./standing-range.ts";

/**
 * Every bearing that is gear, at rest, for its limit has in it what lifting adds. Borne from below alone no share lies beyond the range; where ties share what they may, only the whole
 * weight is counted on as the most.
 */
export function padChecks(body: Standing): readonly Check[] {
  const stand = standOf(body);
  if (stand.falls) return [];
  const range = standRange(body);
  const { nominal, high } = body.mass;
  return body.bearings.flatMap((bearing, i): Check[] => {
    if (bearing.gear === undefined) return [];
    const found = (Math.max(0, stand.shares[i]!.force) * high) / nominal;
    const most = range === undefined ? Math.max(high * GRAVITY, found) : range.shares[i]!.high;
    const how =
      range === undefined
        ? "all of the weight, for ties share it by a stiffness that is only estimated"
        : "at the most over the range and whatever the stiffness";
    const { rating } = bearing.gear;
    const figures = `computed ${kilonewtons(stand.shares[i]!.force)} at rest; ${how}${rating === undefined ? ` ${kilonewtons(most)}` : ""}`;
    const check = against("pad", bearing.id, most, rating, figures, 1, undefined, found);
    return [
      check.verdict === "attention" || check.verdict === "fails"
        ? { ...check, mend: "Take a stronger one, set them so that each bears less, or take weight off first." }
        : check,
    ];
  });
}
