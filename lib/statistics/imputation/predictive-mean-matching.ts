import { factorSymmetric, solveSymmetric } from '../regression/cholesky';
import type { RandomGenerator } from '../resampling/generator';
import { chiSquareQuantile } from '../special/chi-square';
import { COLLINEAR, drawDeviation, predict } from './coefficient-draw';
import type { CheckedColumn } from './columns-to-impute';

/**
 * Fills the missing values of a numeric column: a linear regression on the observed rows, its coefficients and spread
 * drawn from their posterior distribution; each missing row takes the value of one of the `donors` observed rows whose
 * fitted values lie nearest to its own under the drawn coefficients (Little, J Bus Econ Stat 1988;6:287; van Buuren, Flexible
 * Imputation of Missing Data 2018, algorithm 3.3).
 */
export function matchPredictedMeans(
  generator: RandomGenerator,
  { values, observed, missing }: CheckedColumn,
  predictors: readonly Float64Array[],
  donors: number,
  filled: Float64Array,
): void {
  const { fitted, drawn } = drawLinear(generator, values, observed, predictors);
  const order = orderOf(generator, observed, (row) => predict(predictors, fitted, row));
  const nearest = new Int32Array(Math.min(donors, observed.length));
  for (const row of missing) {
    findNearest(order.fitted, predict(predictors, drawn, row), nearest);
    filled[row] = values[order.rows[nearest[generator.below(nearest.length)]]];
  }
}

function drawLinear(
  generator: RandomGenerator,
  values: Float64Array,
  observed: Int32Array,
  predictors: readonly Float64Array[],
): { readonly fitted: Float64Array; readonly drawn: Float64Array } {
  const size = predictors.length;
  const products = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let j = 0; j < size; j += 1) {
    const column = predictors[j];
    for (const row of observed) right[j] += column[row] * values[row];
    for (let k = 0; k <= j; k += 1) {
      const other = predictors[k];
      let sum = 0;
      for (const row of observed) sum += column[row] * other[row];
      products[j * size + k] = sum;
    }
  }
  const factor = factorSymmetric(products, size, COLLINEAR);
  const fitted = solveSymmetric(factor, right);
  let squares = 0;
  for (const row of observed) squares += (values[row] - predict(predictors, fitted, row)) ** 2;
  const degreesOfFreedom = Math.max(1, observed.length - factor.rank);
  const spread = Math.sqrt(squares / chiSquareQuantile(generator.uniform(), degreesOfFreedom));
  const deviation = drawDeviation(generator, factor);
  return { fitted, drawn: fitted.map((value, j) => value + spread * deviation[j]) };
}

/** The observed rows by fitted value; rows with the same one in an order drawn at random. */
function orderOf(
  generator: RandomGenerator,
  observed: Int32Array,
  fittedOf: (row: number) => number,
): { readonly rows: Int32Array; readonly fitted: Float64Array } {
  const shuffled = observed.slice();
  for (let i = shuffled.length - 1; i > 0; i -= 1) {
    const other = generator.below(i + 1);
    [shuffled[i], shuffled[other]] = [shuffled[other], shuffled[i]];
  }
  const fitted = Float64Array.from(shuffled, fittedOf);
  const places = Array.from(shuffled.keys()).sort((a, b) => fitted[a] - fitted[b]);
  return {
    rows: Int32Array.from(places, (place) => shuffled[place]),
    fitted: Float64Array.from(places, (place) => fitted[place]),
  };
}

/** The places of the nearest values in an ascending list, as many as `nearest` holds. */
function findNearest(sorted: Float64Array, wanted: number, nearest: Int32Array): void {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < wanted) low = middle + 1;
    else high = middle;
  }
  let left = low - 1;
  let right = low;
  for (let k = 0; k < nearest.length; k += 1) {
    const takeLeft = right >= sorted.length || (left >= 0 && wanted - sorted[left] < sorted[right] - wanted);
    nearest[k] = takeLeft ? left : right;
    if (takeLeft) left -= 1;
    else right += 1;
  }
}
