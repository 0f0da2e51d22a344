/** The triangular factor of a symmetric matrix, with the columns that add nothing to those before them set aside. */
export type SymmetricFactor = {
  readonly size: number;
  /** By rows; entry (i, j), j <= i, of L in L L' = the matrix without the dropped rows and columns. */
  readonly lower: Float64Array;
  /** dropped[j] is 1 when column j is (to working precision) a combination of the kept columns before it. */
  readonly dropped: Uint8Array;
  readonly rank: number;
};

/**
 * Cholesky's L L' of a positive semidefinite matrix given by rows (lower triangle read). A column is dropped when what
 * the columns before it leave of its diagonal is at most `tolerance` times `reference[j]`, the size of the sums that
 * the diagonal was made of (the diagonal itself unless given): below that only rounding is left.
 */
export function factorSymmetric(
  matrix: Float64Array,
  size: number,
  tolerance: number,
  reference?: Float64Array,
): SymmetricFactor {
  const lower = new Float64Array(size * size);
  const dropped = new Uint8Array(size);
  let rank = size;
  for (let j = 0; j < size; j += 1) {
    const diagonal = matrix[j * size + j];
    let left = diagonal;
    for (let k = 0; k < j; k += 1) left -= lower[j * size + k] ** 2;
    // Written so that a matrix with NaN in it has no rank.
    if (!(left > tolerance * (reference ? reference[j] : diagonal))) {
      dropped[j] = 1;
      rank -= 1;
      lower.fill(0, j * size, (j + 1) * size);
      continue;
    }
    const pivot = Math.sqrt(left);
    lower[j * size + j] = pivot;
    for (let i = j + 1; i < size; i += 1) {
      let sum = matrix[i * size + j];
      for (let k = 0; k < j; k += 1) sum -= lower[i * size + k] * lower[j * size + k];
      lower[i * size + j] = sum / pivot;
    }
  }
  return { size, lower, dropped, rank };
}

/** x with matrix x = right over the kept columns, 0 at the dropped ones. */
export function solveSymmetric(factor: SymmetricFactor, right: ArrayLike<number>): Float64Array {
  const { size, lower, dropped } = factor;
  const x = halfSolve(factor, right);
  for (let i = size - 1; i >= 0; i -= 1) {
    if (dropped[i]) continue;
    for (let k = i + 1; k < size; k += 1) x[i] -= lower[k * size + i] * x[k];
    x[i] /= lower[i * size + i];
  }
  return x;
}

/** right' M^-1 right over the kept columns, as a sum of squares: never below 0. */
export function inverseQuadratic(factor: SymmetricFactor, right: ArrayLike<number>): number {
  let sum = 0;
  for (const value of halfSolve(factor, right)) sum += value * value;
  return sum;
}

/** x' M x over the kept columns, as a sum of squares. */
export function quadraticForm(factor: SymmetricFactor, x: ArrayLike<number>): number {
  const { size, lower } = factor;
  let total = 0;
  for (let j = 0; j < size; j += 1) {
    let sum = 0;
    for (let i = j; i < size; i += 1) sum += lower[i * size + j] * x[i];
    total += sum * sum;
  }
  return total;
}

/** The inverse over the kept columns, by rows; rows and columns of dropped ones hold 0. */
export function invertSymmetric(factor: SymmetricFactor): Float64Array {
  const { size } = factor;
  const inverse = new Float64Array(size * size);
  const unit = new Float64Array(size);
  for (let j = 0; j < size; j += 1) {
    if (factor.dropped[j]) continue;
    unit.fill(0);
    unit[j] = 1;
    const column = solveSymmetric(factor, unit);
    for (let i = 0; i < size; i += 1) inverse[i * size + j] = column[i];
  }
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < i; j += 1) inverse[j * size + i] = inverse[i * size + j];
  return inverse;
}

/** L^-1 right. */
function halfSolve({ size, lower, dropped }: SymmetricFactor, right: ArrayLike<number>): Float64Array {
  const x = new Float64Array(size);
  for (let i = 0; i < size; i += 1) {
    if (dropped[i]) continue;
    let sum = right[i];
    for (let k = 0; k < i; k += 1) sum -= lower[i * size + k] * x[k];
    x[i] = sum / lower[i * size + i];
  }
  return x;
}
