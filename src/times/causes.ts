// Owns what keeps people from the work: waiting, fetching and the like, how often each comes and how long it lasts, learnt apart from the work's own time.

import { type Belief, type Predictive, predictive, see } from "./belief.ts";
import { betaQuantile } from "./beta.ts";

/** One piece of work as it went: what came between, and for how long. */
export interface Course {
  readonly causes: readonly { readonly cause: string; readonly minutes: number }[];
}

export interface CauseLearnt {
  readonly cause: string;
  /** Pieces of work in which it came, and all. */
  readonly came: number;
  readonly of: number;
  /** The chance that it comes: median, and the ends of nine chances of ten. */
  readonly chance: { readonly low: number; readonly middle: number; readonly high: number };
  /** How long, when it comes. */
  readonly lasts: Predictive;
  /** Minutes in all. */
  readonly minutes: number;
}

/** Five minutes, give or take: ours, worth one that was seen. */
const FIRST: Belief = { centre: Math.log(5), weight: 1, alpha: 2, beta: 0.5 };

/** Jeffreys' prior of a chance. */
const HALF = 0.5;

/** Each cause, the dearest in minutes first. */
export const learnCauses = (courses: readonly Course[]): readonly CauseLearnt[] => {
  const names = new Set(courses.flatMap(({ causes }) => causes.map(({ cause }) => cause)));
  return [...names]
    .map((cause): CauseLearnt => {
      const lasted = courses
        .map(({ causes }) => causes.reduce((sum, one) => (one.cause === cause ? sum + one.minutes : sum), 0))
        .filter((minutes) => minutes > 0);
      const [yes, no] = [lasted.length + HALF, courses.length - lasted.length + HALF];
      return {
        cause,
        came: lasted.length,
        of: courses.length,
        chance: {
          low: betaQuantile(0.05, yes, no),
          middle: betaQuantile(0.5, yes, no),
          high: betaQuantile(0.95, yes, no),
        },
        lasts: predictive(lasted.reduce((belief, minutes) => see(belief, minutes), FIRST)),
        minutes: lasted.reduce((sum, one) => sum + one, 0),
      };
    })
    .sort((a, b) => b.minutes - a.minutes || a.cause.localeCompare(b.cause));
};
