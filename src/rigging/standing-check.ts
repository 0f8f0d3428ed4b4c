// Owns the check of what a body stands on: each pad against what it may carry, over all that is not known.

import { against, type Check } from "./check.ts";
import { GRAVITY } from "./gravity.ts";
import type { Remark } from "./remark.ts";
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
    const { rating } = bearing.gear;
    const figures: readonly Remark[] = [
      {
        is: "pad",
        force: stand.shares[i]!.force,
        over: range === undefined ? "all of the weight" : "the range",
        most: rating === undefined ? most : undefined,
      },
    ];
    const check = against("pad", bearing.id, most, rating, figures, 1, undefined, found);
    return [
      check.verdict === "attention" || check.verdict === "fails" ? { ...check, mend: { is: "mend pad" } } : check,
    ];
  });
}
