// Owns small dense matrices in flat rows: solving, inverting, and the eigenvalues of symmetric ones.

/**
 * Solves A·x = b for a positive definite A (n × n, flat rows); undefined when A is not positive definite. Cholesky, A is left as it was.
 */
export function solvePositive(a: Float64Array, b: Float64Array): Float64Array | undefined {
  const n = b.length;
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      if (i !== j) l[i * n + j] = sum / l[j * n + j]!;
      else if (sum > 0) l[i * n + i] = Math.sqrt(sum);
      else return undefined;
    }
  }
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] = x[i]! - l[i * n + k]! * x[k]!;
    x[i] = x[i]! / l[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] = x[i]! - l[k * n + i]! * x[k]!;
    x[i] = x[i]! / l[i * n + i]!;
  }
  return x;
}

/** The inverse of a matrix (n × n, flat rows) by elimination with the largest pivot of each column; undefined when it has none that is worth a figure. */
export function inverse(matrix: Float64Array, n: number): Float64Array | undefined {
  const a = Float64Array.from(matrix);
  const b = new Float64Array(n * n);
  // Rows by their largest entry, so that newtons and metres weigh alike.
  for (let i = 0; i < n; i++) {
    let largest = 0;
    for (let j = 0; j < n; j++) largest = Math.max(largest, Math.abs(a[i * n + j]!));
    if (!(largest > 0)) return undefined;
    for (let j = 0; j < n; j++) a[i * n + j] = a[i * n + j]! / largest;
    b[i * n + i] = 1 / largest;
  }
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    const value = a[pivot * n + k]!;
    if (!(Math.abs(value) > 1e-11)) return undefined;
    for (let j = 0; j < n; j++) {
      [a[k * n + j], a[pivot * n + j]] = [a[pivot * n + j]!, a[k * n + j]!];
      [b[k * n + j], b[pivot * n + j]] = [b[pivot * n + j]!, b[k * n + j]!];
    }
    for (let j = 0; j < n; j++) {
      a[k * n + j] = a[k * n + j]! / value;
      b[k * n + j] = b[k * n + j]! / value;
    }
    for (let i = 0; i < n; i++) {
      const factor = a[i * n + k]!;
      if (i === k || factor === 0) continue;
      for (let j = 0; j < n; j++) {
        a[i * n + j] = a[i * n + j]! - factor * a[k * n + j]!;
        b[i * n + j] = b[i * n + j]! - factor * b[k * n + j]!;
      }
    }
  }
  return b;
}

export interface Eigen {
  /** Rising. */
  readonly values: readonly number[];
  readonly vectors: readonly (readonly number[])[];
}

/** Eigenvalues and vectors of a symmetric matrix (n × n, flat rows) by Jacobi's rotations (Golub & Van Loan, Matrix Computations, 8.5). */
export function symmetricEigen(matrix: ArrayLike<number>, n: number): Eigen {
  const a = Float64Array.from({ length: n * n }, (_, i) => matrix[i]!);
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;
  for (let sweep = 0; sweep < 40; sweep++) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        all += a[i * n + j]! ** 2;
        if (i !== j) off += a[i * n + j]! ** 2;
      }
    if (off <= 1e-32 * all) break;
    for (let p = 0; p < n - 1; p++)
      for (let q = p + 1; q < n; q++) {
        const apq = a[p * n + q]!;
        if (apq === 0) continue;
        const theta = (a[q * n + q]! - a[p * n + p]!) / (2 * apq);
        const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
        const c = 1 / Math.sqrt(t * t + 1);
        const s = t * c;
        for (let k = 0; k < n; k++) {
          const kp = a[k * n + p]!;
          const kq = a[k * n + q]!;
          a[k * n + p] = c * kp - s * kq;
          a[k * n + q] = s * kp + c * kq;
        }
        for (let k = 0; k < n; k++) {
          const pk = a[p * n + k]!;
          const qk = a[q * n + k]!;
          a[p * n + k] = c * pk - s * qk;
          a[q * n + k] = s * pk + c * qk;
          const kp = v[k * n + p]!;
          const kq = v[k * n + q]!;
          v[k * n + p] = c * kp - s * kq;
          v[k * n + q] = s * kp + c * kq;
        }
      }
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => a[i * n + i]! - a[j * n + j]!);
  return {
    values: order.map((i) => a[i * n + i]!),
    vectors: order.map((i) => Array.from({ length: n }, (_, k) => v[k * n + i]!)),
  };
}
