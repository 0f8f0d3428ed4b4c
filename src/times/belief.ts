// Owns what is believed of one time: normal–inverse-gamma on its logarithm, updated by what is seen, asked for the next.
//
// y = ln t ~ N(μ, σ²), μ | σ² ~ N(centre, σ²/weight), σ² ~ InvGamma(alpha, beta). The next y is Student's t with 2·alpha degrees of freedom
// (Murphy, Conjugate Bayesian analysis of the Gaussian distribution, 2007). The exponential of a Student t has no finite mean, however many
// degrees of freedom: percentiles are given, and a plug-in mean that is called that.

import { studentBelow, studentQuantile } from "./beta.ts";

export interface Belief {
  readonly centre: number;
  readonly weight: number;
  readonly alpha: number;
  readonly beta: number;
}

/** The next logarithm: Student's t about `centre`. */
export interface Predictive {
  readonly centre: number;
  readonly scale: number;
  readonly freedom: number;
}

/** The belief after one more time, minutes above 0, that counts `counts` times one: 1, or less where it is old. */
export const see = (belief: Belief, minutes: number, counts = 1): Belief => {
  const off = Math.log(minutes) - belief.centre;
  const weight = belief.weight + counts;
  return {
    centre: belief.centre + (counts * off) / weight,
    weight,
    alpha: belief.alpha + counts / 2,
    beta: belief.beta + (counts * belief.weight * off * off) / (2 * weight),
  };
};

export const predictive = ({ centre, weight, alpha, beta }: Belief): Predictive => ({
  centre,
  scale: Math.sqrt((beta * (weight + 1)) / (alpha * weight)),
  freedom: 2 * alpha,
});

/** What is believed of the median alone: the centre without the scatter of a single time. */
export const medianBelief = ({ centre, weight, alpha, beta }: Belief): Predictive => ({
  centre,
  scale: Math.sqrt(beta / (alpha * weight)),
  freedom: 2 * alpha,
});

/** Minutes within which the next is done with chance p. */
export const predictedPercentile = ({ centre, scale, freedom }: Predictive, p: number): number =>
  Math.exp(centre + scale * studentQuantile(p, freedom));

/** The chance that the next is done within so many minutes. */
export const predictedChance = ({ centre, scale, freedom }: Predictive, minutes: number): number =>
  minutes <= 0 ? 0 : studentBelow((Math.log(minutes) - centre) / scale, freedom);

/** exp(centre + E[σ²]/2): the mean of a lognormal with the expected parameters, not the mean of the prediction, which is infinite. */
export const plugInMean = ({ centre, alpha, beta }: Belief): number => Math.exp(centre + beta / (alpha - 1) / 2);
