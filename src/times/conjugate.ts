// Owns the linear model of logarithms with its conjugate prior: effects that add, their common scatter, what was broken off counted as at least so long.
//
// y = x·effects + noise, effects | σ² ~ N(0, σ²·V) with V diagonal, σ² ~ InvGamma(alpha, beta): the normal–inverse-gamma of `belief.ts` with more than one
// column (Bishop, Pattern Recognition and Machine Learning, 2006, exercises 3.12 and 3.13; from memory). With one column it is that belief, which a test holds.

import type { Predictive } from "./belief.ts";
import { hazard } from "./normal.ts";
import { type Factored, factor, inverseForm, solveFactored } from "./symmetric.ts";

/** A row of the design: which columns, with which value. */
export type Row = readonly (readonly [column: number, value: number])[];

export interface Datum {
  readonly row: Row;
  /** The logarithm less what was guessed before. */
  readonly y: number;
  /** 1, or less where it is old. */
  readonly counts: number;
  /** Broken off: the whole would have been longer than y. */
  readonly censored: boolean;
}

export interface Prior {
  /** Of each column: the variance of its effect over σ². */
  readonly variances: readonly number[];
  readonly alpha: number;
  readonly beta: number;
}

export interface Fitted {
  readonly effects: Float64Array;
  readonly alpha: number;
  readonly beta: number;
  readonly factored: Factored;
}

const MOST_ROUNDS = 200;
const STILL = 1e-10;

const along = (row: Row, effects: Float64Array): number =>
  row.reduce((sum, [column, value]) => sum + value * (effects[column] ?? 0), 0);

const dense = (row: Row, size: number): Float64Array => {
  const x = new Float64Array(size);
  for (const [column, value] of row) x[column] = (x[column] ?? 0) + value;
  return x;
};

/**
 * One round: what was broken off stands for its expected score and information at the last effects and scatter. With a = (y − m)/σ and λ the hazard
 * at a, its score is λ/σ and its information λ(λ − a)/σ², so it counts λ(λ − a) of a whole time: nearly none when broken off at once, nearly one
 * when it had long been overdue.
 */
const round = (data: readonly Datum[], prior: Prior, before: Fitted | undefined): Fitted => {
  const size = prior.variances.length;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  const sigma = before === undefined ? Math.sqrt(prior.beta / prior.alpha) : Math.sqrt(before.beta / before.alpha);
  const parts = data.map(({ row, y, counts, censored }) => {
    if (!censored) return { row, y, share: counts, pull: counts * y, squares: undefined };
    const middle = before === undefined ? 0 : along(row, before.effects);
    const a = (y - middle) / sigma;
    const lambda = hazard(a);
    const share = counts * Math.max(0, lambda * (lambda - a));
    return { row, y, share, pull: share * middle + counts * sigma * lambda, squares: counts * (sigma * lambda) ** 2 };
  });
  prior.variances.forEach((variance, column) => {
    matrix[column * size + column] = 1 / variance;
  });
  for (const { row, share, pull } of parts)
    for (const [i, x] of row) {
      right[i] = (right[i] ?? 0) + x * pull;
      for (const [j, other] of row) matrix[i * size + j] = (matrix[i * size + j] ?? 0) + share * x * other;
    }
  const factored = factor(matrix, size);
  const effects = solveFactored(factored, right);
  const misfit = parts.reduce(
    (sum, { row, y, share, squares }) => sum + (squares ?? share * (y - along(row, effects)) ** 2),
    prior.variances.reduce((sum, variance, column) => sum + (effects[column] ?? 0) ** 2 / variance, 0),
  );
  return {
    effects,
    factored,
    alpha: prior.alpha + parts.reduce((sum, { share }) => sum + share, 0) / 2,
    beta: prior.beta + misfit / 2,
  };
};

/** The posterior: exact where nothing was broken off, else Laplace's approximation about the fixed point. */
export const infer = (data: readonly Datum[], prior: Prior): Fitted => {
  let fitted = round(data, prior, undefined);
  if (!data.some(({ censored }) => censored)) return fitted;
  for (let count = 0; count < MOST_ROUNDS; count++) {
    const next = round(data, prior, fitted);
    const moved = next.effects.reduce(
      (most, effect, i) => Math.max(most, Math.abs(effect - (fitted.effects[i] ?? 0))),
      0,
    );
    const settled = moved < STILL && Math.abs(next.beta - fitted.beta) < STILL;
    fitted = next;
    if (settled) break;
  }
  return fitted;
};

/** The next y at this row; `unknown` is the variance over σ² of what about it no column knows. `single`: with the scatter of a single time. */
export const predict = (fitted: Fitted, row: Row, unknown = 0, single = true): Predictive => {
  const { effects, factored, alpha, beta } = fitted;
  const variance = inverseForm(factored, dense(row, factored.size)) + unknown + (single ? 1 : 0);
  return { centre: along(row, effects), scale: Math.sqrt((beta / alpha) * variance), freedom: 2 * alpha };
};

/** How far a datum lies from what all the others say, in scales of that prediction, and its degrees of freedom: the leave-one-out of a conjugate model, in closed form. */
export const standing = (
  fitted: Fitted,
  { row, y, counts }: Datum,
): { readonly t: number; readonly freedom: number } => {
  const { factored, effects } = fitted;
  const leverage = counts * inverseForm(factored, dense(row, factored.size));
  const residual = y - along(row, effects);
  const alpha = fitted.alpha - counts / 2;
  const beta = Math.max(fitted.beta - (counts * residual ** 2) / (2 * (1 - leverage)), Number.MIN_VALUE);
  const scale = Math.sqrt((beta / alpha) * (1 + leverage / counts / (1 - leverage)));
  return { t: residual / (1 - leverage) / scale, freedom: 2 * alpha };
};
