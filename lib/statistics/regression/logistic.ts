import { type NotEstimable, notEstimable } from '../absence';
import {
  type Column,
  checkCodes,
  checkConfidenceLevel,
  checkEqualLengths,
  checkFinite,
} from '../check-input';
import { checkWeights } from '../check-weights';
import { chiSquareUpperTail } from '../special/chi-square';
import { normalUpperQuantile } from '../special/normal';
import { invertSymmetric } from './cholesky';
import { buildLogisticDesign, type LogisticData, type LogisticDesign } from './logistic-design';
import { maximiseLogistic } from './logistic-newton';

/** Per unit of the covariate (of the intercept: the odds where all covariates are 0). */
export type LogisticTerm = {
  readonly kind: 'estimated';
  readonly coefficient: number;
  readonly standardError: number;
  readonly z: number;
  readonly pValue: number;
  readonly oddsRatio: number;
  /** Wald limits of the odds ratio. */
  readonly lower: number;
  readonly upper: number;
};

export type LogisticFit = {
  readonly kind: 'fitted';
  /** Rows of a weight above 0, and how many of them had the outcome. */
  readonly n: number;
  readonly events: number;
  readonly intercept: LogisticTerm;
  /** One per covariate; not estimable where earlier ones say the same. */
  readonly terms: readonly (LogisticTerm | NotEstimable)[];
  /** The covariates with a coefficient, ascending. */
  readonly estimated: readonly number[];
  /** Of the coefficients, by rows: the intercept, then those of `estimated`. */
  readonly covariance: Float64Array;
  /** Per row: the probability of the outcome, and its log odds. */
  readonly fitted: Float64Array;
  readonly linear: Float64Array;
  readonly logLikelihood: number;
  readonly deviance: number;
  /** Of the intercept (and offset) alone. */
  readonly nullDeviance: number;
  readonly aic: number;
};

/**
 * Logistic regression: how the odds of an outcome depend on covariates.
 *
 * Estimand: log(P/(1 - P)) = intercept + offset + sum of coefficient times covariate, by maximum likelihood.
 * Formula: Newton's method, which is iteratively reweighted least squares (McCullagh & Nelder, Generalized Linear
 * Models 1989, 2.5 and 4.4); covariance the inverse information; Wald limits on the log odds. Deviance -2 log
 * likelihood, AIC deviance + 2 x coefficients.
 * Weights: a row of weight 2 counts as two rows; rows of weight 0 have a fitted value and no influence.
 * Not estimable: one outcome only; outcomes that a combination of covariates separates, wholly or but for rows on the
 * border (Albert & Anderson, Biometrika 1984;71:1); no convergence. A covariate that is constant or a combination of
 * those before it gets no coefficient and leaves the fit to the others.
 * Shapes: columns of equal length, any number of covariates (none too).
 * @throws StatisticsError unequalLengths, notFinite, negative (weights), unknownCode (outcome), outOfRange
 * (`confidenceLevel`). Covariates are named `covariates[j]`.
 */
export function fitLogisticRegression(
  data: LogisticData,
  options: { readonly confidenceLevel?: number } = {},
): LogisticFit | NotEstimable {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkLogisticData(data);
  const counts = countOutcomes(data);
  if (counts.n === 0) return notEstimable('noRows');
  if (counts.events === 0 || counts.events === counts.n) return notEstimable('oneOutcome');
  const design = buildLogisticDesign(data);
  const found = maximiseLogistic(design);
  if (found.kind !== 'converged') return notEstimable(found.kind);
  const alone = nullLogLikelihood(design);
  if (alone === undefined) return notEstimable('noConvergence');
  const { coefficients, covariance } = restore(design, found.beta, invertSymmetric(found.factor));
  const size = coefficients.length;
  const quantile = normalUpperQuantile((1 - confidenceLevel) / 2);
  const term = (k: number): LogisticTerm =>
    describeTerm(coefficients[k], Math.sqrt(covariance[k * size + k]), quantile);
  const terms: (LogisticTerm | NotEstimable)[] = data.covariates.map(() => notEstimable('collinear'));
  for (const [k, j] of design.kept.entries()) terms[j] = term(k + 1);
  const { linear } = found.state;
  const deviance = -2 * found.logLikelihood;
  return {
    kind: 'fitted',
    ...counts,
    intercept: term(0),
    terms,
    estimated: design.kept,
    covariance,
    fitted: probabilitiesOf(linear),
    linear,
    logLikelihood: found.logLikelihood,
    deviance,
    nullDeviance: -2 * alone,
    aic: deviance + 2 * size,
  };
}

/** Of the intercept and the offset; without an offset the fitted probability is the share. */
function nullLogLikelihood(design: LogisticDesign): number | undefined {
  const { rows, side, weights, offset } = design;
  if (offset) {
    const found = maximiseLogistic({ ...design, z: [], start: new Float64Array(1) });
    return found.kind === 'converged' ? found.logLikelihood : undefined;
  }
  let events = 0;
  let others = 0;
  for (let i = 0; i < rows; i += 1) {
    const weight = weights ? weights[i] : 1;
    if (side[i] > 0) events += weight;
    else others += weight;
  }
  const total = events + others;
  return events * Math.log(events / total) + others * Math.log(others / total);
}

/** With exp of what is not above 0, so that neither tail is lost. */
function probabilitiesOf(logOdds: Float64Array): Float64Array {
  const probabilities = new Float64Array(logOdds.length);
  for (let i = 0; i < logOdds.length; i += 1) {
    const tail = Math.exp(-Math.abs(logOdds[i]));
    probabilities[i] = (logOdds[i] > 0 ? 1 : tail) / (1 + tail);
  }
  return probabilities;
}

function checkLogisticData({ outcome, covariates, weights, offset }: LogisticData): void {
  const named = covariates.map((column, j): [string, Column] => [`covariates[${j}]`, column]);
  checkEqualLengths({ outcome, ...Object.fromEntries(named), weights, offset });
  checkCodes('outcome', outcome, 2);
  for (const [name, column] of named) checkFinite(name, column);
  if (weights) checkWeights(weights);
  if (offset) checkFinite('offset', offset);
}

function countOutcomes({ outcome, weights }: LogisticData): { n: number; events: number } {
  let n = 0;
  let events = 0;
  for (let i = 0; i < outcome.length; i += 1) {
    if (weights && weights[i] === 0) continue;
    n += 1;
    events += outcome[i];
  }
  return { n, events };
}

/** Back from standardised covariates to the units they were given in. */
function restore(
  { centre, scale }: LogisticDesign,
  beta: Float64Array,
  inverse: Float64Array,
): { readonly coefficients: Float64Array; readonly covariance: Float64Array } {
  const size = beta.length;
  // Row k holds the coefficient k as a combination of the standardised ones.
  const back = new Float64Array(size * size);
  back[0] = 1;
  for (let k = 1; k < size; k += 1) {
    back[k] = -centre[k - 1] / scale[k - 1];
    back[k * size + k] = 1 / scale[k - 1];
  }
  const half = multiply(back, inverse, size);
  const coefficients = Float64Array.from({ length: size }, (_, k) => {
    let sum = 0;
    for (let j = 0; j < size; j += 1) sum += back[k * size + j] * beta[j];
    return sum;
  });
  return { coefficients, covariance: multiply(half, transpose(back, size), size) };
}

function multiply(a: Float64Array, b: Float64Array, size: number): Float64Array {
  return Float64Array.from({ length: size * size }, (_, cell) => {
    const row = Math.floor(cell / size) * size;
    let sum = 0;
    for (let k = 0; k < size; k += 1) sum += a[row + k] * b[k * size + (cell % size)];
    return sum;
  });
}

function transpose(matrix: Float64Array, size: number): Float64Array {
  return matrix.map((_, cell) => matrix[(cell % size) * size + Math.floor(cell / size)]);
}

function describeTerm(coefficient: number, standardError: number, quantile: number): LogisticTerm {
  const z = coefficient / standardError;
  return {
    kind: 'estimated',
    coefficient,
    standardError,
    z,
    pValue: chiSquareUpperTail(z * z, 1),
    oddsRatio: Math.exp(coefficient),
    lower: Math.exp(coefficient - quantile * standardError),
    upper: Math.exp(coefficient + quantile * standardError),
  };
}
