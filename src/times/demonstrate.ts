// Owns the answer to whether timed repairs show that a requirement is met: how many must be timed, accepted, rejected or go on, and the risks that both sides bear.

import {
  countPlan,
  mostMean,
  mostPercentile,
  type Risks,
  sequentialTest,
  sizeOfMeanPlan,
  sizeOfPercentilePlan,
  sizeOfPlainPlan,
} from "./demonstration.ts";
import { fitTimes } from "./lognormal.ts";
import { quantile } from "./normal.ts";

/** What is required, good against bad: a system as good as `good` is to be accepted, one as bad as `bad` rejected. */
export type Requirement =
  /** The mean, minutes. `spread`: of the logarithm of lognormal times, known beforehand (plan 1A); else `deviation`, minutes, of times of any kind (plan 1B). */
  | ({ readonly of: "mean"; readonly good: number; readonly bad: number } & (
      | { readonly spread: number }
      | { readonly deviation: number }
    ))
  /** A percentile of lognormal times, minutes: plan 2. */
  | {
      readonly of: "percentile";
      readonly share: number;
      readonly good: number;
      readonly bad: number;
      readonly spread: number;
    }
  /** The share of repairs above a critical time; of any kind: plan 3, or one repair after another. */
  | {
      readonly of: "share";
      readonly critical: number;
      readonly good: number;
      readonly bad: number;
      readonly oneByOne: boolean;
    };

export interface Demonstrated {
  readonly plan: "1A" | "1B" | "2" | "3" | "one by one";
  /** Repairs to be timed; absent one by one. */
  readonly wanted?: number;
  readonly timed: number;
  /** Absent before anything is timed. */
  readonly say?: "accept" | "reject" | "go on";
  /** What the times are held against. `repairs`: how many are above the critical time. */
  readonly held?: { readonly of: "mean" | "percentile" | "repairs"; readonly value: number; readonly most: number };
  /** One by one: after how many it was decided or stands; rejected from so many above the critical time on, accepted at so many or fewer, below 0: not yet. */
  readonly lines?: { readonly after: number; readonly acceptAt: number; readonly rejectAt: number };
  /** As they are: counts come whole, so a count's are less than those asked for. */
  readonly risks: Risks;
}

/** MIL-STD-471A asks for so many at least where a mean is held by the normal approximation. */
const LEAST = 30;

/** Why this cannot be demonstrated; undefined where it can. Shares above 0 and below 1, times above 0. */
export const unsound = (required: Requirement, { producer, consumer }: Risks): string | undefined => {
  const isShare = (value: number) => value > 0 && value < 1;
  if (!isShare(producer) || !isShare(consumer) || producer + consumer >= 1)
    return "the risks are shares above 0 that come to less than 1 together";
  if (!(required.good > 0 && required.good < required.bad)) return "good lies above 0 and below bad";
  if (required.of === "share")
    return !isShare(required.bad)
      ? "good and bad are shares of repairs, below 1"
      : !(required.critical > 0)
        ? "the critical time lies above 0"
        : undefined;
  if (required.of === "percentile" && !isShare(required.share)) return "the percentile is a share above 0 and below 1";
  const known = "deviation" in required ? required.deviation : required.spread;
  return known > 0 ? undefined : "the spread, or the deviation, lies above 0";
};

/**
 * How the requirement is demonstrated, and what the times so far say of it. More times than are wanted are not looked at: who goes on until it comes out well bears other risks.
 *
 * @param minutes in the order in which they were timed.
 * @throws RangeError where the question is unsound, or a time is not above 0.
 */
export const demonstrate = (required: Requirement, risks: Risks, minutes: readonly number[]): Demonstrated => {
  const fault = unsound(required, risks);
  if (fault !== undefined) throw new RangeError(fault);
  if (minutes.some((one) => !(one > 0 && Number.isFinite(one)))) throw new RangeError("a repair takes more than 0 min");
  if (required.of === "share")
    return required.oneByOne ? oneByOne(required, risks, minutes) : byCount(required, risks, minutes);
  return required.of === "mean" ? byMean(required, risks, minutes) : byPercentile(required, risks, minutes);
};

type Of<K extends Requirement["of"]> = Extract<Requirement, { readonly of: K }>;

const oneByOne = ({ critical, good, bad }: Of<"share">, risks: Risks, minutes: readonly number[]): Demonstrated => {
  const { say, over, acceptAt, rejectAt, after } = sequentialTest(minutes, critical, good, bad, risks);
  return {
    plan: "one by one",
    timed: minutes.length,
    ...(minutes.length === 0 ? {} : { say, held: { of: "repairs", value: over, most: Math.floor(acceptAt) } }),
    lines: { after, acceptAt: Math.floor(acceptAt), rejectAt: Math.ceil(rejectAt) },
    risks,
  };
};

const byCount = ({ critical, good, bad }: Of<"share">, risks: Risks, minutes: readonly number[]): Demonstrated => {
  const plan = countPlan(good, bad, risks);
  if (plan === undefined)
    throw new RangeError("good and bad are so near that ten thousand repairs do not tell them apart");
  const counted = minutes.slice(0, plan.n);
  const over = counted.filter((one) => one > critical).length;
  const left = plan.n - counted.length;
  // Once it is sure it is said: the rest could not change it.
  const say = over > plan.most ? "reject" : over + left <= plan.most ? "accept" : "go on";
  return {
    plan: "3",
    wanted: plan.n,
    timed: minutes.length,
    ...(minutes.length === 0 ? {} : { say, held: { of: "repairs", value: over, most: plan.most } }),
    risks: plan.risks,
  };
};

const deviationOf = (minutes: readonly number[]): number => {
  const mean = minutes.reduce((sum, one) => sum + one, 0) / minutes.length;
  return Math.sqrt(minutes.reduce((sum, one) => sum + (one - mean) ** 2, 0) / Math.max(1, minutes.length - 1));
};

const byMean = (required: Of<"mean">, risks: Risks, minutes: readonly number[]): Demonstrated => {
  const { good, bad } = required;
  const size =
    "deviation" in required
      ? sizeOfPlainPlan(good, bad, required.deviation, risks)
      : sizeOfMeanPlan(good, bad, required.spread ** 2, risks);
  const wanted = Math.max(LEAST, Math.ceil(size - 1e-9));
  const head = { plan: "deviation" in required ? "1B" : "1A", wanted, timed: minutes.length, risks } as const;
  if (minutes.length === 0) return head;
  if (minutes.length < wanted) return { ...head, say: "go on" };
  const counted = minutes.slice(0, wanted);
  const value = counted.reduce((sum, one) => sum + one, 0) / wanted;
  const most = mostMean(good, deviationOf(counted), wanted, risks);
  return { ...head, say: value <= most ? "accept" : "reject", held: { of: "mean", value, most } };
};

const byPercentile = (required: Of<"percentile">, risks: Risks, minutes: readonly number[]): Demonstrated => {
  const { share, good, bad, spread } = required;
  const wanted = Math.max(2, Math.ceil(sizeOfPercentilePlan(good, bad, share, spread, risks) - 1e-9));
  const head = { plan: "2", wanted, timed: minutes.length, risks } as const;
  if (minutes.length === 0) return head;
  if (minutes.length < wanted) return { ...head, say: "go on" };
  const fitted = fitTimes(minutes.slice(0, wanted));
  const value = Math.exp(fitted.centre + quantile(share) * fitted.spread);
  const most = mostPercentile(good, share, spread, wanted, risks);
  return { ...head, say: value <= most ? "accept" : "reject", held: { of: "percentile", value, most } };
};
