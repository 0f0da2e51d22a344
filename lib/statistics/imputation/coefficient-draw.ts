import type { SymmetricFactor } from '../regression/cholesky';
import { drawNormal } from '../resampling/draws';
import type { RandomGenerator } from '../resampling/generator';

/** A draw from the normal distribution with mean 0 whose inverse covariance was factored; 0 at dropped columns. */
export function drawDeviation(generator: RandomGenerator, factor: SymmetricFactor): Float64Array {
  const { size, lower, dropped } = factor;
  const deviation = new Float64Array(size);
  for (let j = 0; j < size; j += 1) if (!dropped[j]) deviation[j] = drawNormal(generator);
  // L' x = draws: then x has the covariance (L L')^-1.
  for (let j = size - 1; j >= 0; j -= 1) {
    if (dropped[j]) continue;
    for (let k = j + 1; k < size; k += 1) deviation[j] -= lower[k * size + j] * deviation[k];
    deviation[j] /= lower[j * size + j];
  }
  return deviation;
}

/** Sum of coefficient times predictor in one row. */
export function predict(
  predictors: readonly Float64Array[],
  coefficients: Float64Array,
  row: number,
  from = 0,
): number {
  let sum = 0;
  for (let j = 0; j < predictors.length; j += 1) sum += coefficients[from + j] * predictors[j][row];
  return sum;
}

/** A column is a combination of others when what they leave of its sum of squares is a part this small. */
export const COLLINEAR = 1e-11;
