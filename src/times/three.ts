// Owns times given by people: one number, three points, or a range with a middle; and what is wrong with them.

import type { Fault } from "./fault.ts";
import { fromMedian, fromMoments, type Lognormal } from "./lognormal.ts";
import { quantile } from "./normal.ts";

/** Minutes: the least, the likeliest, the most. */
export interface ThreePoints {
  readonly least: number;
  readonly likely: number;
  readonly most: number;
}

/**
 * Standard deviation of the logarithm where a single number is given, ours, no standard's: nine of ten times are then between 0.61 and 1.64 times the number.
 * It is the first thing that a shop's own runs replace.
 */
export const DEFAULT_SPREAD = 0.3;

/** One number, taken for the median: as often more as less. */
export const fromNumber = (minutes: number, spread = DEFAULT_SPREAD): Lognormal | Fault =>
  minutes > 0 && Number.isFinite(minutes)
    ? fromMedian(minutes, spread)
    : { at: "time", what: `${minutes} min is no time for work`, mend: "Give a time above 0 minutes." };

/** What is wrong with three points: out of order, or not above 0. */
const faultOfThree = ({ least, likely, most }: ThreePoints): Fault | undefined => {
  if (!(least > 0) || !Number.isFinite(most))
    return { at: "least", what: `${least} min is no time for work`, mend: "Give a least time above 0 minutes." };
  if (!(least <= likely && likely <= most))
    return {
      at: least > likely ? "likely" : "most",
      what: `the three times ${least}, ${likely}, ${most} min are out of order`,
      mend: "Give the least, the likeliest and the most, each no less than the one before.",
    };
  return undefined;
};

/**
 * The lognormal with the mean and variance of the beta distribution that has PERT's mean: μ = (a + 4m + b)/6 and (μ − a)(b − μ)/7. PERT's own (b − a)²/36
 * is not the variance of that beta but for narrow shapes, so it is not taken.
 */
export const fromThree = (points: ThreePoints): Lognormal | Fault => {
  const fault = faultOfThree(points);
  if (fault !== undefined) return fault;
  const { least, likely, most } = points;
  const mean = (least + 4 * likely + most) / 6;
  return fromMoments(mean, ((mean - least) * (most - mean)) / 7);
};

/** A lognormal that begins at `from` instead of 0, and falls to the left of it where `mirrored`; `normal` where the middle is in the middle. */
export type Shifted =
  | { readonly kind: "lognormal"; readonly from: number; readonly time: Lognormal; readonly mirrored: boolean }
  | { readonly kind: "normal"; readonly mean: number; readonly spread: number };

/**
 * Through a range and its middle, taken for P10, P50 and P90: exactly, by a shift. A middle nearer to the high end gives the mirror image, one right in the
 * middle the normal: said, not divided by zero.
 */
export const fromRange = ({ least, likely, most }: ThreePoints): Shifted | Fault => {
  const fault = faultOfThree({ least, likely, most });
  if (fault !== undefined) return fault;
  if (least === likely || likely === most)
    return {
      at: "likely",
      what: `no middle: ${likely} min is an end of the range ${least} to ${most} min`,
      mend: "Give a middle between the ends, or one number.",
    };
  const z = quantile(0.9);
  const [up, down] = [most - likely, likely - least];
  // Beyond a millionth of evenness the shift is a million times the range: nobody can tell it from the normal.
  if (Math.abs(up - down) <= 1e-6 * (most - least))
    return { kind: "normal", mean: likely, spread: (up + down) / (2 * z) };
  const mirrored = up < down;
  const [long, short] = mirrored ? [down, up] : [up, down];
  const spread = Math.log(long / short) / z;
  const reach = (long * short) / (long - short);
  return {
    kind: "lognormal",
    from: mirrored ? likely + reach : likely - reach,
    time: fromMedian(reach, spread),
    mirrored,
  };
};

/** The p-th percentile of a shifted time, minutes. */
export const shiftedPercentile = (shifted: Shifted, p: number): number => {
  if (shifted.kind === "normal") return shifted.mean + quantile(p) * shifted.spread;
  const { from, time, mirrored } = shifted;
  const side = mirrored ? -1 : 1;
  return from + side * Math.exp(time.centre + side * quantile(p) * time.spread);
};
