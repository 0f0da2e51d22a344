import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths, checkFinite } from '../check-input';
import { fitLogisticRegression, type LogisticFit } from '../regression/logistic';
import { type WeightingEstimand, weightWithSlope } from './weight-with-slope';

export type PropensityVarianceData = {
  readonly treated: Column;
  /** What the propensity score is estimated from. */
  readonly covariates: readonly Column[];
  /** Per row: how much the estimate changes as the row's weight does, at the weights of this estimand. */
  readonly slope: Column;
  /** Rows that belong together, such as the procedures of a patient: any number per row names the cluster. */
  readonly cluster?: Column;
};

/**
 * The variance of an estimate that weights rows by an estimated propensity score, the estimation counted in.
 *
 * Estimand: the variance of any smooth function of weighted sums: give its slope along each weight (for a weighted mean
 * (y - mean)/sum w). Propensity: logistic regression of `treated` on the covariates.
 * Formula: stacked estimating equations (Stefanski & Boos, Am Stat 2002;56:29; for weights Lunceford & Davidian, Stat Med
 * 2004;23:2937). A row's influence is w s + h' V x (t - e): s its slope, V the inverse information of the regression, h
 * the sum over rows of slope times the change of the weight with the log odds times x. The variance is the sum of squares
 * over the rows, or over the clusters of their sums; no factor for small samples.
 * Not estimable: as fitLogisticRegression (one group empty, separation, no convergence).
 * @throws StatisticsError unequalLengths, notFinite, unknownCode (treated).
 */
export function estimatePropensityVariance(
  data: PropensityVarianceData,
  options: { readonly estimand: WeightingEstimand },
): { readonly kind: 'estimated'; readonly variance: number } | NotEstimable {
  const { treated, covariates, slope, cluster } = data;
  checkEqualLengths({ treated, slope, cluster });
  checkCodes('treated', treated, 2);
  checkFinite('slope', slope);
  if (cluster) checkFinite('cluster', cluster);
  const fit = fitPropensity(treated, covariates);
  if (fit.kind === 'notEstimable') return fit;
  const influence = propensityInfluence(fit, treated, covariates, slope, options.estimand);
  return { kind: 'estimated', variance: sumOfSquares(influence, cluster) };
}

/** One group empty is said in the words of groups. */
export function fitPropensity(treated: Column, covariates: readonly Column[]): LogisticFit | NotEstimable {
  const fit = fitLogisticRegression({ outcome: treated, covariates });
  return fit.kind === 'notEstimable' && fit.code === 'oneOutcome' ? notEstimable('emptyArm') : fit;
}

/** Each row's influence on the estimate, the estimation of the propensity counted in. */
export function propensityInfluence(
  fit: LogisticFit,
  treated: Column,
  covariates: readonly Column[],
  slope: Column,
  estimand: WeightingEstimand,
): Float64Array {
  const { fitted, covariance } = fit;
  const columns = fit.estimated.map((j) => covariates[j]);
  const size = columns.length + 1;
  const pull = new Float64Array(size);
  const influence = new Float64Array(treated.length);
  for (let i = 0; i < treated.length; i += 1) {
    const own = weightWithSlope(estimand, treated[i] === 1, fitted[i]);
    influence[i] = own.weight * slope[i];
    const product = slope[i] * own.slope;
    pull[0] += product;
    for (let j = 1; j < size; j += 1) pull[j] += product * columns[j - 1][i];
  }
  const lever = Float64Array.from({ length: size }, (_, j) => {
    let sum = 0;
    for (let k = 0; k < size; k += 1) sum += covariance[j * size + k] * pull[k];
    return sum;
  });
  for (let i = 0; i < treated.length; i += 1) {
    let along = lever[0];
    for (let j = 1; j < size; j += 1) along += lever[j] * columns[j - 1][i];
    influence[i] += along * (treated[i] - fitted[i]);
  }
  return influence;
}

/** Over the rows, or over the clusters of their sums. */
export function sumOfSquares(influence: Float64Array, cluster: Column | undefined): number {
  const sums = new Map<number, number>();
  for (let i = 0; i < influence.length; i += 1) {
    const key = cluster ? cluster[i] : i;
    sums.set(key, (sums.get(key) ?? 0) + influence[i]);
  }
  let total = 0;
  for (const value of sums.values()) total += value * value;
  return total;
}
