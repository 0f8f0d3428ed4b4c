// Owns the demonstration of a maintainability requirement: how many repairs must be timed, when it is accepted, and what the two sides risk; in fixed plans and one repair after another.
//
// MIL-STD-471A and MIL-HDBK-470A appendix B name the plans; formulas from memory, 1A, 1B and 2 derived anew from the normal approximation.

import { atMost } from "./beta.ts";
import { fitTimes } from "./lognormal.ts";
import { quantile } from "./normal.ts";

/** What producer and consumer may each risk: P(reject | good) and P(accept | bad). */
export interface Risks {
  readonly producer: number;
  readonly consumer: number;
}

/** z with so much above it. */
const upper = (share: number): number => quantile(1 - share);

/** Plan 1A, on the mean of lognormal times whose σ² of the logarithm is known beforehand: how many. The standard asks for 30 or more besides. */
export const sizeOfMeanPlan = (good: number, bad: number, variance: number, { producer, consumer }: Risks): number =>
  ((upper(producer) * good + upper(consumer) * bad) ** 2 / (bad - good) ** 2) * Math.expm1(variance);

/** Plan 1B, on the mean, no distribution: with a standard deviation of so many minutes. */
export const sizeOfPlainPlan = (good: number, bad: number, deviation: number, { producer, consumer }: Risks): number =>
  (((upper(producer) + upper(consumer)) * deviation) / (bad - good)) ** 2;

/** Both accept when the mean is no more than this; `deviation` is the sample's. */
export const mostMean = (good: number, deviation: number, n: number, { producer }: Risks): number =>
  good + (upper(producer) * deviation) / Math.sqrt(n);

/** Plan 2, on the p-th percentile of lognormal times: how many. */
export const sizeOfPercentilePlan = (
  good: number,
  bad: number,
  p: number,
  spread: number,
  { producer, consumer }: Risks,
): number =>
  ((2 + quantile(p) ** 2) / 2) * spread ** 2 * ((upper(producer) + upper(consumer)) / Math.log(bad / good)) ** 2;

/** Plan 2: the percentile of the sample, exp(ȳ + z·s), may be no more than this. */
export const mostPercentile = (good: number, p: number, spread: number, n: number, { producer }: Risks): number =>
  good * Math.exp(upper(producer) * spread * Math.sqrt(1 / n + quantile(p) ** 2 / (2 * (n - 1))));

/** Whether timed repairs pass plan 2. @throws RangeError with fewer than two, or one not above 0. */
export const passesPercentilePlan = (
  minutes: readonly number[],
  good: number,
  p: number,
  spread: number,
  risks: Risks,
): boolean => {
  const { centre, spread: own } = fitTimes(minutes);
  return centre + quantile(p) * own <= Math.log(mostPercentile(good, p, spread, minutes.length, risks));
};

export interface CountPlan {
  readonly n: number;
  /** Accept with so many times above the critical one, or fewer. */
  readonly most: number;
  /** The risks as they are: counts come whole. */
  readonly risks: Risks;
}

/** Plan 3, by count, no distribution: the smallest sample for a share of times above the critical one of `good` against `bad`. Undefined where ten thousand are too few. */
export const countPlan = (good: number, bad: number, { producer, consumer }: Risks): CountPlan | undefined => {
  let most = 0;
  for (let n = 1; n <= 10_000; n++) {
    // The most that the consumer can bear; it only ever grows with n.
    while (atMost(most + 1, n, bad) <= consumer) most++;
    if (atMost(most, n, bad) > consumer) continue;
    const reject = 1 - atMost(most, n, good);
    if (reject <= producer) return { n, most, risks: { producer: reject, consumer: atMost(most, n, bad) } };
  }
  return undefined;
};

/** ERT plan for 20 times: log₁₀ of their geometric mean ≤ log₁₀ ERT + 0.397·S, S of the logarithms with divisor n. 0.397 is t₀.₉₅,₁₉/√19. */
export const passesMedianPlan = (minutes: readonly number[], required: number): boolean => {
  if (minutes.length !== 20) throw new RangeError("this plan is for 20 times");
  const { centre, spread } = fitTimes(minutes);
  return centre <= Math.log(required) + 0.397 * spread * Math.sqrt(19 / 20);
};

export interface Sequential {
  readonly say: "accept" | "reject" | "go on";
  /** Repairs above the critical time so far, and the counts from which on it is accepted and rejected after so many repairs. */
  readonly over: number;
  readonly acceptAt: number;
  readonly rejectAt: number;
  readonly after: number;
}

/**
 * One repair after another (Wald, Sequential Analysis, 1947, ch. 5): the share of times above `critical` is `good` or `bad`; accept below one line, reject above the
 * other, else go on. Wald's bounds ln(β/(1 − α)) and ln((1 − β)/α): the true risks sum to no more than the stated ones.
 */
export const sequentialTest = (
  minutes: readonly number[],
  critical: number,
  good: number,
  bad: number,
  { producer, consumer }: Risks,
): Sequential => {
  const overRatio = Math.log(bad / good);
  const underRatio = Math.log((1 - bad) / (1 - good));
  const slope = overRatio - underRatio;
  const accept = (n: number) => (Math.log(consumer / (1 - producer)) - n * underRatio) / slope;
  const reject = (n: number) => (Math.log((1 - consumer) / producer) - n * underRatio) / slope;
  let over = 0;
  for (const [index, time] of minutes.entries()) {
    const n = index + 1;
    if (time > critical) over++;
    const say = over <= accept(n) ? "accept" : over >= reject(n) ? "reject" : undefined;
    if (say !== undefined) return { say, over, acceptAt: accept(n), rejectAt: reject(n), after: n };
  }
  const n = minutes.length;
  return { say: "go on", over, acceptAt: accept(n), rejectAt: reject(n), after: n };
};
