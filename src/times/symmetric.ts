// Owns symmetric positive definite systems of equations: factored once, solved often.

/** The lower factor L of A = L·Lᵀ, row by row. */
export interface Factored {
  readonly size: number;
  readonly lower: Float64Array;
}

/**
 * Cholesky's factor of a matrix given row by row.
 *
 * @throws RangeError where it is not positive definite.
 */
export const factor = (matrix: Float64Array, size: number): Factored => {
  const lower = new Float64Array(size * size);
  for (let i = 0; i < size; i++)
    for (let j = 0; j <= i; j++) {
      let rest = matrix[i * size + j] ?? 0;
      for (let k = 0; k < j; k++) rest -= (lower[i * size + k] ?? 0) * (lower[j * size + k] ?? 0);
      if (i !== j) lower[i * size + j] = rest / (lower[j * size + j] ?? 1);
      else if (rest > 0) lower[i * size + i] = Math.sqrt(rest);
      else throw new RangeError("the matrix is not positive definite");
    }
  return { size, lower };
};

/** u with L·u = right. */
const forward = ({ size, lower }: Factored, right: Float64Array): Float64Array => {
  const u = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let rest = right[i] ?? 0;
    for (let k = 0; k < i; k++) rest -= (lower[i * size + k] ?? 0) * (u[k] ?? 0);
    u[i] = rest / (lower[i * size + i] ?? 1);
  }
  return u;
};

/** x with A·x = right. */
export const solveFactored = (factored: Factored, right: Float64Array): Float64Array => {
  const { size, lower } = factored;
  const x = forward(factored, right);
  for (let i = size - 1; i >= 0; i--) {
    let rest = x[i] ?? 0;
    for (let k = i + 1; k < size; k++) rest -= (lower[k * size + i] ?? 0) * (x[k] ?? 0);
    x[i] = rest / (lower[i * size + i] ?? 1);
  }
  return x;
};

/** xᵀ·A⁻¹·x. */
export const inverseForm = (factored: Factored, x: Float64Array): number =>
  forward(factored, x).reduce((sum, one) => sum + one * one, 0);
