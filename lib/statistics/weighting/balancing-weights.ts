import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { quantileOf } from './quantile-of';
import { type WeightingEstimand, weightWithSlope } from './weight-with-slope';

export type BalancingWeightOptions = {
  readonly estimand: WeightingEstimand;
  /** Times the share of the row's own group: only with `ate`, whose weights then sum to about the number of rows. */
  readonly stabilised?: boolean;
  /** Weights beyond these quantiles of all weights are set to them, such as { lower: 0.01, upper: 0.99 }. */
  readonly truncation?: { readonly lower: number; readonly upper: number };
};

export type BalancingWeights = {
  readonly kind: 'derived';
  readonly weights: Float64Array;
  /** With truncation: the weights it stops at, and how many rows it changed. */
  readonly truncated?: { readonly lower: number; readonly upper: number; readonly rows: number };
};

/**
 * Weights that make two groups alike in what their propensity score was estimated from.
 *
 * Formula, with e the propensity of being treated, for treated and others: ate 1/e, 1/(1 - e) (times the share of the
 * group when stabilised); att 1, e/(1 - e); atc (1 - e)/e, 1; overlap 1 - e, e (Li, Morgan & Zaslavsky, JASA
 * 2018;113:390); matching min(e, 1 - e)/e, min(e, 1 - e)/(1 - e) (Li & Greene, Int J Biostat 2013;9:215). Truncation at
 * quantiles: Cole & Hernan, Am J Epidemiol 2008;168:656; quantiles by linear interpolation between ordered weights.
 * Not estimable: one group empty.
 * Shapes: columns of equal length. Propensities strictly between 0 and 1.
 * @throws StatisticsError unequalLengths, notFinite, unknownCode (treated), outOfRange (propensity, truncation,
 * stabilised).
 */
export function deriveBalancingWeights(
  data: { readonly treated: Column; readonly propensity: Column },
  options: BalancingWeightOptions,
): BalancingWeights | NotEstimable {
  const { treated, propensity } = data;
  const { estimand, stabilised = false, truncation } = options;
  checkEqualLengths({ treated, propensity });
  checkCodes('treated', treated, 2);
  checkPropensities(propensity);
  if (stabilised && estimand !== 'ate') {
    const message = `stabilised weights go with the estimand 'ate', not with '${estimand}'; leave stabilised out.`;
    throw new StatisticsError('outOfRange', 'stabilised', undefined, message);
  }
  const rows = treated.length;
  let treatedRows = 0;
  for (let i = 0; i < rows; i += 1) treatedRows += treated[i];
  if (treatedRows === 0 || treatedRows === rows) return notEstimable('emptyArm');
  const share = treatedRows / rows;
  const weights = new Float64Array(rows);
  for (let i = 0; i < rows; i += 1) {
    const factor = stabilised ? (treated[i] === 1 ? share : 1 - share) : 1;
    weights[i] = factor * weightWithSlope(estimand, treated[i] === 1, propensity[i]).weight;
  }
  return truncation ? truncate(weights, truncation) : { kind: 'derived', weights };
}

function checkPropensities(propensity: Column): void {
  checkFinite('propensity', propensity);
  for (let i = 0; i < propensity.length; i += 1) {
    if (propensity[i] > 0 && propensity[i] < 1) continue;
    const message = `propensity[${i}] is ${propensity[i]}; give a probability strictly between 0 and 1.`;
    throw new StatisticsError('outOfRange', 'propensity', i, message);
  }
}

function truncate(
  weights: Float64Array,
  truncation: { readonly lower: number; readonly upper: number },
): BalancingWeights {
  if (!(truncation.lower >= 0 && truncation.lower < truncation.upper && truncation.upper <= 1)) {
    const message = `truncation is from ${truncation.lower} to ${truncation.upper}; give two fractions from 0 to 1, the lower first.`;
    throw new StatisticsError('outOfRange', 'truncation', undefined, message);
  }
  const sorted = weights.slice().sort();
  const lower = quantileOf(sorted, truncation.lower);
  const upper = quantileOf(sorted, truncation.upper);
  let rows = 0;
  const kept = weights.map((weight) => {
    if (weight >= lower && weight <= upper) return weight;
    rows += 1;
    return weight < lower ? lower : upper;
  });
  return { kind: 'derived', weights: kept, truncated: { lower, upper, rows } };
}
