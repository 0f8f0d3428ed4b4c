// Owns the weighing of readings by their errors: errors that go together made into errors of one that do not.

/** Lower triangle L of a covariance C = L·Lᵀ (n × n, flat rows), and the logarithm of its determinant. */
export interface Whitening {
  readonly lower: Float64Array;
  readonly n: number;
  readonly logDet: number;
}

/** Cholesky's triangle; throws a RangeError when the covariance is none. */
export function whitening(covariance: Float64Array, n: number): Whitening {
  const lower = new Float64Array(n * n);
  let logDet = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      if (i !== j) lower[i * n + j] = sum / lower[j * n + j]!;
      else if (sum > 0) {
        lower[i * n + i] = Math.sqrt(sum);
        logDet += Math.log(sum);
      } else throw new RangeError("whitening: the errors of the readings must be above nothing");
    }
  return { lower, n, logDet };
}

/** L⁻¹·v, written into `into` from its first place on. */
export function whiten({ lower, n }: Whitening, v: ArrayLike<number>, into: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = v[i]!;
    for (let k = 0; k < i; k++) sum -= lower[i * n + k]! * into[k]!;
    into[i] = sum / lower[i * n + i]!;
  }
}
