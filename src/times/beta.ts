// Owns the beta distribution and what is made of it: its distribution function and quantiles, Student's t, and binomial sums.

const LANCZOS = [
  676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
  -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

/** ln Γ(x) for x > 0, by Lanczos' sum (SIAM J. Numer. Anal. B 1, 1964; coefficients from memory, held to factorials by the tests). */
export const logGamma = (x: number): number => {
  const y = x - 1;
  const t = y + 7.5;
  const sum = LANCZOS.reduce((all, c, index) => all + c / (y + index + 1), 0.9999999999998099);
  return Math.log(2 * Math.PI) / 2 + (y + 0.5) * Math.log(t) - t + Math.log(sum);
};

/** The continued fraction of the incomplete beta function (DLMF 8.17.22), by Lentz's method; quick for x < (a+1)/(a+b+2). */
const fraction = (x: number, a: number, b: number): number => {
  const TINY = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || TINY);
  let value = d;
  for (let m = 1; m <= 10_000; m++) {
    for (const one of [
      (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m)),
      (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1)),
    ]) {
      d = 1 / (1 + one * d || TINY);
      c = 1 + one / c || TINY;
      value *= c * d;
    }
    if (Math.abs(c * d - 1) < 1e-15) break;
  }
  return value;
};

/** P(X ≤ x) of a beta distribution with shapes a and b, both above 0. */
export const betaBelow = (x: number, a: number, b: number): number => {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  return x < (a + 1) / (a + b + 2) ? (front * fraction(x, a, b)) / a : 1 - (front * fraction(1 - x, b, a)) / b;
};

/** Halves an interval that holds the answer until nothing is left between its ends. */
const bisect = (low: number, high: number, isBelow: (x: number) => boolean): number => {
  let [from, to] = [low, high];
  for (let step = 0; step < 200; step++) {
    const middle = (from + to) / 2;
    if (middle <= from || middle >= to) break;
    if (isBelow(middle)) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
};

/** x with P(X ≤ x) = p of a beta distribution. */
export const betaQuantile = (p: number, a: number, b: number): number => bisect(0, 1, (x) => betaBelow(x, a, b) < p);

/** P(T ≤ t) of Student's t with so many degrees of freedom, not only whole ones. */
export const studentBelow = (t: number, freedom: number): number => {
  const half = betaBelow(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;
  return t > 0 ? 1 - half : half;
};

/** t with P(T ≤ t) = p. */
export const studentQuantile = (p: number, freedom: number): number => {
  if (p === 0.5) return 0;
  if (p > 0.5) return -studentQuantile(1 - p, freedom);
  let low = -1;
  while (studentBelow(low, freedom) > p) low *= 2;
  return bisect(low, 0, (t) => studentBelow(t, freedom) < p);
};

/** P(at most `most` of n), each with chance p. */
export const atMost = (most: number, n: number, p: number): number =>
  most < 0 ? 0 : most >= n ? 1 : betaBelow(1 - p, n - most, most + 1);
