import {
  factorSymmetric,
  inverseQuadratic,
  type SymmetricFactor,
  solveSymmetric,
} from '../regression/cholesky';
import type { RandomGenerator } from '../resampling/generator';
import { COLLINEAR, drawDeviation, predict } from './coefficient-draw';
import type { CheckedColumn } from './columns-to-impute';

/**
 * Fills the missing values of a column of categories (two for a binary one): a multinomial logistic regression on the
 * observed rows, its coefficients drawn from their approximate posterior distribution; each missing row draws its category
 * with the probabilities that these give it. Rows of little weight, two per predictor and category, half a standard
 * deviation to either side, keep the fit finite where predictors separate the categories (White, Daniel & Royston, Comput
 * Stat Data Anal 2010;54:2267). False when the fit does not settle.
 */
export function drawCategories(
  generator: RandomGenerator,
  column: CheckedColumn,
  predictors: readonly Float64Array[],
  filled: Float64Array,
): boolean {
  const rows = augment(column, predictors);
  const fit = fitCategories(rows, column.categoryCount);
  if (!fit) return false;
  const deviation = drawDeviation(generator, fit.factor);
  const drawn = fit.coefficients.map((value, j) => value + deviation[j]);
  const probabilities = new Float64Array(column.categoryCount);
  for (const row of column.missing) {
    fillProbabilities(probabilities, predictors, drawn, row);
    let left = generator.uniform();
    let code = 0;
    while (code < column.categoryCount - 1 && left > probabilities[code]) {
      left -= probabilities[code];
      code += 1;
    }
    filled[row] = code;
  }
  return true;
}

type WeightedRows = {
  readonly predictors: readonly Float64Array[];
  readonly codes: Int32Array;
  readonly weights: Float64Array;
};

/** The observed rows, and those that keep the fit finite; the latter weigh as much as there are coefficients. */
function augment(
  { values, observed, categoryCount }: CheckedColumn,
  predictors: readonly Float64Array[],
): WeightedRows {
  const size = predictors.length;
  const added = 2 * (size - 1) * categoryCount;
  const count = observed.length + added;
  const codes = new Int32Array(count);
  for (let i = 0; i < observed.length; i += 1) codes[i] = values[observed[i]];
  for (let k = 0; k < added; k += 1) codes[observed.length + k] = (k >> 1) % categoryCount;
  const weights = new Float64Array(count).fill(1);
  weights.fill(size / added, observed.length);
  return {
    codes,
    weights,
    predictors: predictors.map((column, j) => {
      const own = new Float64Array(count);
      for (let i = 0; i < observed.length; i += 1) own[i] = column[observed[i]];
      // The intercept is 1 throughout; others lie at their mean 0 but for the rows of their own.
      if (j === 0) own.fill(1, observed.length);
      const start = observed.length + 2 * (j - 1) * categoryCount;
      if (j > 0 && column.some((value) => value !== 0))
        for (let k = 0; k < 2 * categoryCount; k += 1) own[start + k] = k % 2 === 0 ? 0.5 : -0.5;
      return own;
    }),
  };
}

/** The first category has the coefficients 0; those of category c stand from (c - 1) times the predictors on. */
function fillProbabilities(
  probabilities: Float64Array,
  predictors: readonly Float64Array[],
  coefficients: Float64Array,
  row: number,
): number {
  let largest = 0;
  probabilities[0] = 0;
  for (let code = 1; code < probabilities.length; code += 1) {
    const value = predict(predictors, coefficients, row, (code - 1) * predictors.length);
    probabilities[code] = value;
    if (value > largest) largest = value;
  }
  let total = 0;
  for (let code = 0; code < probabilities.length; code += 1) {
    probabilities[code] = Math.exp(probabilities[code] - largest);
    total += probabilities[code];
  }
  for (let code = 0; code < probabilities.length; code += 1) probabilities[code] /= total;
  return largest + Math.log(total);
}

const MOST_STEPS = 50;

type CategoryFit = { readonly coefficients: Float64Array; readonly factor: SymmetricFactor };

/** The maximum of the weighted multinomial likelihood by Newton's method, steps halved where it would fall. */
function fitCategories(rows: WeightedRows, categoryCount: number): CategoryFit | undefined {
  const size = (categoryCount - 1) * rows.predictors.length;
  let coefficients: Float64Array = new Float64Array(size);
  let here = evaluate(rows, categoryCount, coefficients);
  for (let count = 0; count < MOST_STEPS; count += 1) {
    const factor = factorSymmetric(here.information, size, COLLINEAR);
    const step = solveSymmetric(factor, here.gradient);
    // Draws need no more: this far from the maximum is a ten thousandth of a standard error.
    if (inverseQuadratic(factor, here.gradient) <= 1e-8) return { coefficients, factor };
    const next = climb(rows, categoryCount, coefficients, step, here.logLikelihood);
    if (!next) return undefined;
    coefficients = next;
    here = evaluate(rows, categoryCount, coefficients);
  }
  return undefined;
}

function climb(
  rows: WeightedRows,
  categoryCount: number,
  coefficients: Float64Array,
  step: Float64Array,
  from: number,
): Float64Array | undefined {
  // But for rounding, which many rows add up.
  const least = from - 1e-11 * (1 + Math.abs(from));
  for (let part = 1; part > 1e-6; part /= 2) {
    const next = coefficients.map((value, j) => value + part * step[j]);
    if (logLikelihoodAt(rows, categoryCount, next) >= least) return next;
  }
  return undefined;
}

function logLikelihoodAt(rows: WeightedRows, categoryCount: number, coefficients: Float64Array): number {
  const { predictors, codes, weights } = rows;
  const probabilities = new Float64Array(categoryCount);
  let sum = 0;
  for (let i = 0; i < codes.length; i += 1) {
    const logTotal = fillProbabilities(probabilities, predictors, coefficients, i);
    const own = codes[i] === 0 ? 0 : predict(predictors, coefficients, i, (codes[i] - 1) * predictors.length);
    sum += weights[i] * (own - logTotal);
  }
  return sum;
}

function evaluate(
  rows: WeightedRows,
  categoryCount: number,
  coefficients: Float64Array,
): { readonly logLikelihood: number; readonly gradient: Float64Array; readonly information: Float64Array } {
  const { predictors, codes, weights } = rows;
  const width = predictors.length;
  const size = coefficients.length;
  const probabilities = new Float64Array(categoryCount);
  const gradient = new Float64Array(size);
  const information = new Float64Array(size * size);
  for (let i = 0; i < codes.length; i += 1) {
    fillProbabilities(probabilities, predictors, coefficients, i);
    for (let a = 1; a < categoryCount; a += 1) {
      const residual = weights[i] * ((codes[i] === a ? 1 : 0) - probabilities[a]);
      for (let j = 0; j < width; j += 1) gradient[(a - 1) * width + j] += residual * predictors[j][i];
      for (let b = 1; b <= a; b += 1) {
        const spread = weights[i] * probabilities[a] * ((a === b ? 1 : 0) - probabilities[b]);
        for (let j = 0; j < width; j += 1) {
          const product = spread * predictors[j][i];
          const at = ((a - 1) * width + j) * size + (b - 1) * width;
          for (let k = 0; k < width; k += 1) information[at + k] += product * predictors[k][i];
        }
      }
    }
  }
  return { logLikelihood: logLikelihoodAt(rows, categoryCount, coefficients), gradient, information };
}
