// Owns the learning curve: what the n-th time takes where each doubling saves the same share, in Wright's reading and in Crawford's, and the curve of a crew.

import { type Predictive, predictedPercentile } from "./belief.ts";
import { infer, predict } from "./conjugate.ts";

/** `rate` 0.8: at each doubling 80 %. The two readings differ in what it is 80 % of. */
const powerOf = (rate: number): number => Math.log2(rate);

/** Wright (J. Aeronautical Sciences 3, 1936): the *average* of the first n is first·nᵇ. */
export const wright = (first: number, rate: number, n: number) => {
  const b = powerOf(rate);
  const total = (count: number) => (count === 0 ? 0 : first * count ** (b + 1));
  return { average: first * n ** b, unit: total(n) - total(n - 1), total: total(n) };
};

/** Crawford: the n-th *unit* takes first·nᵇ. */
export const crawford = (first: number, rate: number, n: number) => {
  const b = powerOf(rate);
  let total = 0;
  for (let k = 1; k <= n; k++) total += first * k ** b;
  return { average: total / n, unit: first * n ** b, total };
};

/** The n-th job of a crew. */
export interface Turn {
  readonly n: number;
  readonly minutes: number;
}

export interface CrewLearning {
  /** Share of the time that a doubling leaves (Crawford's reading): middle and the ends of nine chances of ten. */
  readonly rate: { readonly low: number; readonly middle: number; readonly high: number };
  /** Minutes of the n-th time. */
  nth(n: number): Predictive;
}

/** Before anything is seen: a doubling leaves about 90 %, give or take 7; the first takes what was guessed, within a factor of 1.6; the same again scatters by 0.2. Ours. */
const RATE = 0.9;
const SLOPE_SPREAD = 0.1;
const FIRST_SPREAD = 0.5;
const SCATTER = 0.2;
const ALPHA = 3;

/** ln t = ln(first) + b·ln n, learnt from a crew's turns; `guess` is minutes of the first. */
export const learnCrew = (turns: readonly Turn[], guess: number): CrewLearning => {
  const slope = powerOf(RATE);
  const fitted = infer(
    turns.map(({ n, minutes }) => ({
      row: [
        [0, 1],
        [1, Math.log(n)],
      ],
      y: Math.log(minutes / guess) - slope * Math.log(n),
      counts: 1,
      censored: false,
    })),
    {
      variances: [(FIRST_SPREAD / SCATTER) ** 2, (SLOPE_SPREAD / SCATTER) ** 2],
      alpha: ALPHA,
      beta: (ALPHA - 1) * SCATTER ** 2,
    },
  );
  // A doubling adds ln 2 of the slope.
  const doubling = predict(fitted, [[1, Math.LN2]], 0, false);
  const rate = (p: number) => RATE * predictedPercentile(doubling, p);
  return {
    rate: { low: rate(0.05), middle: rate(0.5), high: rate(0.95) },
    nth: (n) => {
      const { centre, scale, freedom } = predict(fitted, [
        [0, 1],
        [1, Math.log(n)],
      ]);
      return { centre: centre + Math.log(guess) + slope * Math.log(n), scale, freedom };
    },
  };
};
