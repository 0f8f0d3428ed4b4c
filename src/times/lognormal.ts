// Owns the lognormal time: made from moments, percentiles or a mode; asked for percentiles and chances; summed.

import { below, quantile } from "./normal.ts";

/** A time whose logarithm is normal: `centre` is the mean of ln(minutes), `spread` its standard deviation. */
export interface Lognormal {
  readonly centre: number;
  readonly spread: number;
}

export const medianOf = ({ centre }: Lognormal): number => Math.exp(centre);
export const meanOf = ({ centre, spread }: Lognormal): number => Math.exp(centre + spread ** 2 / 2);
export const modeOf = ({ centre, spread }: Lognormal): number => Math.exp(centre - spread ** 2);
export const varianceOf = (time: Lognormal): number => meanOf(time) ** 2 * Math.expm1(time.spread ** 2);

/** The time by which the share p of all is done: Mmax(p) of the maintainability handbooks (MIL-HDBK-338B §5.3). */
export const percentileOf = ({ centre, spread }: Lognormal, p: number): number =>
  Math.exp(centre + quantile(p) * spread);

/** The share that is done within so many minutes. */
export const chanceWithin = ({ centre, spread }: Lognormal, minutes: number): number => {
  if (minutes <= 0) return 0;
  if (spread === 0) return Math.log(minutes) >= centre ? 1 : 0;
  return below((Math.log(minutes) - centre) / spread);
};

/** Of this mean and variance: s² = ln(1 + V/M²), m = ln M − s²/2. */
export const fromMoments = (mean: number, variance: number): Lognormal => {
  const square = Math.log1p(variance / mean ** 2);
  return { centre: Math.log(mean) - square / 2, spread: Math.sqrt(square) };
};

/** Of this median, the spread given. */
export const fromMedian = (median: number, spread: number): Lognormal => ({ centre: Math.log(median), spread });

/** Through two percentiles: [share, minutes], the shares different. */
export const fromPercentiles = (
  [p, low]: readonly [number, number],
  [q, high]: readonly [number, number],
): Lognormal => {
  const spread = Math.log(high / low) / (quantile(q) - quantile(p));
  return { centre: Math.log(low) - quantile(p) * spread, spread };
};

/** Of the likeliest time and a percentile above it: s from s² + z·s = ln(high/mode). */
export const fromMode = (mode: number, [p, high]: readonly [number, number]): Lognormal => {
  const z = quantile(p);
  const spread = (Math.sqrt(z * z + 4 * Math.log(high / mode)) - z) / 2;
  return { centre: Math.log(mode) + spread ** 2, spread };
};

/**
 * The mean of the logarithms and their standard deviation with divisor n − 1, as MIL-HDBK-338B's example has it.
 *
 * @throws RangeError with fewer than two times, or one that is not above 0.
 */
export const fitTimes = (minutes: readonly number[]): Lognormal => {
  if (minutes.length < 2 || minutes.some((one) => !(one > 0)))
    throw new RangeError("a fit needs two times or more, each above 0");
  const logs = minutes.map(Math.log);
  const centre = logs.reduce((sum, one) => sum + one, 0) / logs.length;
  const squares = logs.reduce((sum, one) => sum + (one - centre) ** 2, 0);
  return { centre, spread: Math.sqrt(squares / (logs.length - 1)) };
};

/** A series of independent times taken for lognormal: mean and variance matched (Fenton 1960). 1 % from the median to P95; the low tail is 3 % low. */
export const sumOf = (times: readonly Lognormal[]): Lognormal =>
  fromMoments(
    times.reduce((sum, time) => sum + meanOf(time), 0),
    times.reduce((sum, time) => sum + varianceOf(time), 0),
  );

/** Through a median and a 95th percentile: what a wider prediction is taken for where it must be drawn from, for a lognormal has a mean. */
export const quantileSpread = (median: number, p95: number): Lognormal => fromPercentiles([0.5, median], [0.95, p95]);
