// Owns what is said of simulated finishes: percentiles, the chance of a time, each with its standard error, and which uncertainty is worth reducing.

import type { Network } from "./network.ts";
import { type Luck, type Simulated, simulate } from "./simulate.ts";

/** A figure and how far chance may have it out: one standard error. */
export interface Estimate {
  readonly value: number;
  readonly error: number;
}

/** Nearest rank: the smallest finish that at least the share p does not exceed. `sorted` rising. */
const atRank = (sorted: Float64Array, p: number): number =>
  sorted[Math.min(sorted.length - 1, Math.max(0, Math.ceil(p * sorted.length - 1e-9) - 1))] ?? Number.NaN;

/**
 * The p-th percentile of sorted finishes by nearest rank. Its standard error is half the way between the ranks that lie one standard error of a share, √(p(1 − p)/N),
 * to either side: no shape is assumed.
 */
export const percentile = (sorted: Float64Array, p: number): Estimate => {
  const side = Math.sqrt((p * (1 - p)) / sorted.length);
  return { value: atRank(sorted, p), error: (atRank(sorted, p + side) - atRank(sorted, p - side)) / 2 };
};

/** The chance of being done within so many minutes. */
export const chanceOf = (sorted: Float64Array, minutes: number): Estimate => {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] ?? 0) <= minutes) low = middle + 1;
    else high = middle;
  }
  const value = low / sorted.length;
  return { value, error: Math.sqrt((value * (1 - value)) / sorted.length) };
};

export const meanFinish = ({ finishes, runs }: Simulated): Estimate => {
  const value = finishes.reduce((sum, one) => sum + one, 0) / runs;
  const variance = finishes.reduce((sum, one) => sum + (one - value) ** 2, 0) / Math.max(1, runs - 1);
  return { value, error: Math.sqrt(variance / runs) };
};

const BATCHES = 20;

/** By how much the p-th percentile of `after` is below that of `before`, run by run the same luck; the error from twenty batches. */
export const gain = (before: Float64Array, after: Float64Array, p: number): Estimate => {
  const size = Math.floor(Math.min(before.length, after.length) / BATCHES);
  const differences = Array.from({ length: BATCHES }, (_, index) => {
    const cut = (of: Float64Array) => atRank(of.slice(index * size, (index + 1) * size).sort(), p);
    return cut(before) - cut(after);
  });
  const middle = differences.reduce((sum, one) => sum + one, 0) / BATCHES;
  const squares = differences.reduce((sum, one) => sum + (one - middle) ** 2, 0);
  return {
    value: atRank(before.slice().sort(), p) - atRank(after.slice().sort(), p),
    error: Math.sqrt(squares / (BATCHES - 1) / BATCHES),
  };
};

/** What it would be worth to know the time of one activity: the percentile with it as uncertain as it is, less the percentile with its mean for certain. */
export interface Worth {
  readonly id: string;
  readonly gain: Estimate;
}

/** The activities whose times go most with the finish, tried one by one; the dearest first. */
export const worthKnowing = (
  network: Network,
  luck: Luck,
  known: Simulated,
  p: number,
  most: number,
): readonly Worth[] =>
  [...known.activities]
    .filter(({ correlation }) => correlation > 0)
    .sort((a, b) => b.correlation - a.correlation)
    .slice(0, most)
    .map(({ id }) => ({
      id,
      gain: gain(known.finishes, simulate(network, { ...luck, runs: known.runs, certain: new Set([id]) }).finishes, p),
    }))
    .sort((a, b) => b.gain.value - a.gain.value);
