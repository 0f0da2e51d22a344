import type { NotEstimable } from '../absence';
import {
  type Column,
  checkCodes,
  checkConfidenceLevel,
  checkEqualLengths,
  checkFinite,
} from '../check-input';
import type { LogisticFit } from '../regression/logistic';
import { fitPropensity, propensityInfluence, sumOfSquares } from './propensity-variance';
import { type WeightingEstimand, weightWithSlope } from './weight-with-slope';
import { intervalAround, type WeightedDifference, weightedMeans } from './weighted-difference';

export type PropensityWeightedDifference = WeightedDifference & { readonly propensity: LogisticFit };

/**
 * The difference of two means weighted by an estimated propensity score.
 *
 * Estimand: mean outcome under treatment minus that without it, in the population of the estimand (see
 * deriveBalancingWeights), if the covariates hold all that steers both treatment and outcome. Of an outcome of 0 and 1
 * it is a risk difference.
 * Formula: weights from a logistic regression of `treated` on the covariates; weighted means sum wy/sum w; variance by
 * stacked estimating equations of the regression and both means (see estimatePropensityVariance), which for overlap and
 * inverse-probability weights is commonly the smaller for the estimation. Stabilised weights give the same.
 * Not estimable: one group empty; the propensity (separation, no convergence); the interval when the outcome does not
 * vary within the groups.
 * @throws StatisticsError unequalLengths, notFinite, unknownCode (treated), outOfRange (`confidenceLevel`).
 */
export function estimatePropensityWeightedDifference(
  data: {
    readonly outcome: Column;
    readonly treated: Column;
    readonly covariates: readonly Column[];
    /** Rows that belong together, such as the procedures of a patient. */
    readonly cluster?: Column;
  },
  options: { readonly estimand: WeightingEstimand; readonly confidenceLevel?: number },
): PropensityWeightedDifference | NotEstimable {
  const { outcome, treated, covariates, cluster } = data;
  const { estimand, confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkEqualLengths({ outcome, treated, cluster });
  checkFinite('outcome', outcome);
  checkCodes('treated', treated, 2);
  if (cluster) checkFinite('cluster', cluster);
  const fit = fitPropensity(treated, covariates);
  if (fit.kind === 'notEstimable') return fit;
  const weights = fit.fitted.map((e, i) => weightWithSlope(estimand, treated[i] === 1, e).weight);
  const means = weightedMeans(outcome, treated, weights);
  if ('kind' in means) return means;
  const influence = propensityInfluence(fit, treated, covariates, means.slope, estimand);
  return {
    kind: 'estimated',
    treatedMean: means.treatedMean,
    controlMean: means.controlMean,
    difference: means.difference,
    interval: intervalAround(means.difference, sumOfSquares(influence, cluster), confidenceLevel),
    propensity: fit,
  };
}
