// Owns which ties are found still made when they are verified: how likely each is, by whether it can be seen, its kind and when it was due, so that the likeliest is looked at first.

import { betaQuantile } from "./beta.ts";

/** One tie, as it was looked at. */
export interface Look {
  readonly kind: string;
  readonly hidden: boolean;
  /** Third of the order in which it was due to be released. */
  readonly due: "early" | "middle" | "late";
}

export interface Looked extends Look {
  readonly stillMade: boolean;
}

export interface Chance {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
  /** Looks at ties just like it. */
  readonly seen: number;
}

/** One in a hundred before anything is seen, as sure as after a hundred looks. Ours: nothing public was found to take it from. */
const FIRST = { mean: 0.01, weight: 100 };
/** A narrower group counts as its wider one until it has been looked at about so often itself. */
const HANDED = 25;

/**
 * How likely a tie like this is found still made: beta-binomial, handed down from all ties to those as visible, of the same kind, due in the same third. Each
 * group's prior has the mean of the wider one.
 */
export const stillMadeChance = (looks: readonly Looked[]): ((of: Look) => Chance) => {
  const counts = new Map<string, { made: number; all: number }>();
  const chain = ({ hidden, kind, due }: Look): readonly string[] => {
    const seen = hidden ? "hidden" : "seen";
    return ["", seen, `${seen}/${kind}`, `${seen}/${kind}/${due}`];
  };
  for (const look of looks)
    for (const key of chain(look)) {
      const count = counts.get(key) ?? { made: 0, all: 0 };
      counts.set(key, { made: count.made + (look.stillMade ? 1 : 0), all: count.all + 1 });
    }
  return (of) => {
    let [mean, weight] = [FIRST.mean, FIRST.weight];
    let [yes, no] = [mean * weight, (1 - mean) * weight];
    let seen = 0;
    for (const key of chain(of)) {
      const count = counts.get(key) ?? { made: 0, all: 0 };
      [yes, no] = [mean * weight + count.made, (1 - mean) * weight + count.all - count.made];
      [mean, weight, seen] = [yes / (yes + no), HANDED, count.all];
    }
    return { mean, low: betaQuantile(0.05, yes, no), high: betaQuantile(0.95, yes, no), seen };
  };
};
