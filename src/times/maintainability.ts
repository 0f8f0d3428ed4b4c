// Owns the maintainability figures of the handbooks: mean time to repair, median, and the time by which a share is done, over jobs weighted by how often each comes.
//
// All are elapsed times. Labour is another figure with another name: people × minutes.

import type { Estimate } from "./finish.ts";
import { chanceWithin, type Lognormal, meanOf } from "./lognormal.ts";

export interface JobTime {
  readonly id: string;
  /** How often it comes, in any unit that is the same for all: λ. Above 0. */
  readonly often: number;
  /** Elapsed minutes. */
  readonly elapsed: Lognormal;
}

export interface StandardFigures {
  /** Σλ·M ÷ Σλ: Mct, also MTTR (MIL-HDBK-338B §5.3). */
  readonly mean: number;
  /** Half of all actions are done by then. */
  readonly median: number;
  /** Mmax(90 %) and Mmax(95 %). */
  readonly p90: number;
  readonly p95: number;
}

/** Minutes by which the share p of all jobs is done, each job as often as it comes: of their mixture, not the mean of their percentiles. */
export const mixturePercentile = (jobs: readonly JobTime[], p: number): number => {
  const all = jobs.reduce((sum, { often }) => sum + often, 0);
  const done = (minutes: number) =>
    jobs.reduce((sum, { often, elapsed }) => sum + often * chanceWithin(elapsed, minutes), 0) / all;
  let [low, high] = [0, 1];
  while (done(high) < p) high *= 2;
  for (let step = 0; step < 100; step++) {
    const middle = (low + high) / 2;
    if (done(middle) < p) low = middle;
    else high = middle;
  }
  return high;
};

/** @throws RangeError without jobs, or where one never comes. */
export const standardFigures = (jobs: readonly JobTime[]): StandardFigures => {
  if (jobs.length === 0 || jobs.some(({ often }) => !(often > 0)))
    throw new RangeError("the standard figures need jobs that come more than never");
  const all = jobs.reduce((sum, { often }) => sum + often, 0);
  return {
    mean: jobs.reduce((sum, { often, elapsed }) => sum + often * meanOf(elapsed), 0) / all,
    median: mixturePercentile(jobs, 0.5),
    p90: mixturePercentile(jobs, 0.9),
    p95: mixturePercentile(jobs, 0.95),
  };
};

/** Mean active time of all work, corrective and preventive: (Mct·Σλ + Mpt·Σf) ÷ (Σλ + Σf) (MIL-HDBK-470/472; from memory). */
export const meanActive = (corrective: readonly JobTime[], preventive: readonly JobTime[]): number =>
  standardFigures([...corrective, ...preventive]).mean;

/** A job with its finishes by chance, minutes, rising. */
export interface JobFinishes {
  /** How often it comes: λ. Above 0. */
  readonly often: number;
  readonly sorted: Float64Array;
}

/** The standard figures of simulated jobs, each with its standard error: the jobs have their luck each for itself, as strata of one sample. */
export interface SimulatedFigures {
  readonly mean: Estimate;
  readonly median: Estimate;
  readonly p90: Estimate;
  readonly p95: Estimate;
}

const shareWithin = (sorted: Float64Array, minutes: number): number => {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] ?? 0) <= minutes) low = middle + 1;
    else high = middle;
  }
  return low / sorted.length;
};

/**
 * The standard figures over jobs that were simulated: no shape is assumed. A percentile is the smallest finish by which so large a share of all repairs is done; its error is half the way
 * between the finishes one standard error of that share to either side, of strata √(Σ w²·F(1 − F)/N).
 *
 * @throws RangeError without jobs, or where one never comes.
 */
export const figuresOfFinishes = (jobs: readonly JobFinishes[]): SimulatedFigures => {
  if (jobs.length === 0 || jobs.some(({ often }) => !(often > 0)))
    throw new RangeError("the standard figures need jobs that come more than never");
  const all = jobs.reduce((sum, { often }) => sum + often, 0);
  const strata = jobs.map(({ often, sorted }) => ({ weight: often / all, sorted }));
  const finishes = strata
    .flatMap(({ weight, sorted }) => Array.from(sorted, (minutes) => ({ minutes, share: weight / sorted.length })))
    .sort((a, b) => a.minutes - b.minutes);
  const cut = (p: number): number => {
    let done = 0;
    for (const { minutes, share } of finishes) {
      done += share;
      if (done >= p - 1e-9) return minutes;
    }
    return finishes.at(-1)?.minutes ?? Number.NaN;
  };
  const percentile = (p: number): Estimate => {
    const value = cut(p);
    const variance = strata.reduce((sum, { weight, sorted }) => {
      const within = shareWithin(sorted, value);
      return sum + (weight * weight * within * (1 - within)) / sorted.length;
    }, 0);
    const side = Math.sqrt(variance);
    return { value, error: (cut(Math.min(1, p + side)) - cut(Math.max(0, p - side))) / 2 };
  };
  const means = strata.map(({ weight, sorted }) => {
    const own = sorted.reduce((sum, one) => sum + one, 0) / sorted.length;
    const variance = sorted.reduce((sum, one) => sum + (one - own) ** 2, 0) / Math.max(1, sorted.length - 1);
    return { value: weight * own, variance: (weight * weight * variance) / sorted.length };
  });
  return {
    mean: {
      value: means.reduce((sum, { value }) => sum + value, 0),
      error: Math.sqrt(means.reduce((sum, { variance }) => sum + variance, 0)),
    },
    median: percentile(0.5),
    p90: percentile(0.9),
    p95: percentile(0.95),
  };
};
