// Owns the maintainability figures of the handbooks: mean time to repair, median, and the time by which a share is done, over jobs weighted by how often each comes.
//
// All are elapsed times. Labour is another figure with another name: people × minutes.

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
