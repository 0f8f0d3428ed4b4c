// Owns the standard normal distribution: its density, its distribution function and its quantiles, to double precision.

const ROOT = Math.sqrt(2 * Math.PI);

/** φ(x). */
const density = (x: number): number => Math.exp((-x * x) / 2) / ROOT;

/** Beyond this the continued fraction of the tail is the better one. */
const TAIL = 3;

/** 1 − Φ(x) for x ≥ TAIL: the continued fraction φ(x)/(x + 1/(x + 2/(x + …))), from its far end. */
const tail = (x: number): number => {
  let under = x;
  for (let k = 80; k >= 1; k--) under = x + k / under;
  return density(x) / under;
};

/** Φ(x): the series ½ + φ(x)·(x + x³/3 + x⁵/15 + …), in the tails a continued fraction (Marsaglia, J. Stat. Software 11(4), 2004, names both). */
export const below = (x: number): number => {
  if (x > TAIL) return 1 - tail(x);
  if (x < -TAIL) return tail(-x);
  let term = x;
  let sum = x;
  for (let k = 3; sum !== sum + term; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return 0.5 + density(x) * sum;
};

/**
 * z with Φ(z) = p: the rational start of Abramowitz & Stegun 26.2.23 (good to 4.5e-4), then Halley's steps.
 *
 * @param p above 0 and below 1; outside it is −∞ or ∞.
 */
export const quantile = (p: number): number => {
  if (p <= 0) return Number.NEGATIVE_INFINITY;
  if (p >= 1) return Number.POSITIVE_INFINITY;
  if (p > 0.5) return -quantile(1 - p);
  const t = Math.sqrt(-2 * Math.log(p));
  let z = -(t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))));
  for (let step = 0; step < 3; step++) {
    const off = (below(z) - p) / density(z);
    z -= off / (1 + (z * off) / 2);
  }
  return z;
};

/** φ(a)/(1 − Φ(a)): by how much what is known to lie above a lies above 0 in the mean. */
export const hazard = (a: number): number => density(a) / below(-a);
