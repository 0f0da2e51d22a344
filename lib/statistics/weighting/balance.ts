import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths, checkFinite } from '../check-input';
import { checkWeights } from '../check-weights';

export type CovariateBalance = {
  /** Whether the column holds only 0 and 1: its variance is then p(1 - p). */
  readonly binary: boolean;
  readonly treatedMean: number;
  readonly controlMean: number;
  /** In units of the spread before weighting: the figure to judge balance by. */
  readonly standardisedDifference: number | NotEstimable;
  /** In units of the weighted spread. */
  readonly differenceByWeightedSpread: number | NotEstimable;
  /** Weighted variance of the treated over that of the others; only for columns that are not binary. */
  readonly varianceRatio: number | NotEstimable | undefined;
};

/**
 * How far apart two groups are in each covariate, before weighting or after.
 *
 * Estimand: difference of the (weighted) means, treated minus others, over sqrt((v1 + v0)/2). The variances v are those of
 * the unweighted groups also after weighting, so that figures before and after share one scale (Austin & Stuart, Stat
 * Med 2015;34:3661); beside it the same over the weighted variances.
 * Formula: variance of a column of 0 and 1 p(1 - p); of any other sum w(x - m)^2/(sum w - sum w^2/sum w), which is the
 * usual n - 1 with equal weights.
 * Squares and products of covariates are given as columns of their own: weights that balance means need not balance them.
 * Not estimable: a group without rows or weight; a figure whose spread is zero or takes more rows than there are.
 * Shapes: columns of equal length; without weights all count 1.
 * @throws StatisticsError unequalLengths, notFinite, negative (weights), unknownCode (treated).
 */
export function estimateBalance(data: {
  readonly treated: Column;
  readonly covariates: readonly Column[];
  readonly weights?: Column;
}): CovariateBalance[] | NotEstimable {
  const { treated, covariates, weights } = data;
  const named = covariates.map((column, j): [string, Column] => [`covariates[${j}]`, column]);
  checkEqualLengths({ treated, ...Object.fromEntries(named), weights });
  checkCodes('treated', treated, 2);
  for (const [name, column] of named) checkFinite(name, column);
  if (weights) checkWeights(weights);
  const sums = sumOfWeights(treated, weights);
  const rows = sumOfWeights(treated, undefined);
  if (rows.some((sum) => sum === 0)) return notEstimable('emptyArm');
  if (sums.some((sum) => sum === 0)) return notEstimable('allWeightsZero');
  return covariates.map((column) => balanceOf(column, treated, weights));
}

function sumOfWeights(treated: Column, weights: Column | undefined): Float64Array {
  const sum = new Float64Array(2);
  for (let i = 0; i < treated.length; i += 1) sum[treated[i]] += weights ? weights[i] : 1;
  return sum;
}

function balanceOf(column: Column, treated: Column, weights: Column | undefined): CovariateBalance {
  let binary = true;
  for (let i = 0; i < column.length && binary; i += 1) binary = column[i] === 0 || column[i] === 1;
  const before = [0, 1].map((arm) => momentsOf(column, treated, arm, binary, undefined));
  const after = weights ? [0, 1].map((arm) => momentsOf(column, treated, arm, binary, weights)) : before;
  const [control, own] = after;
  const difference = own.mean - control.mean;
  return {
    binary,
    treatedMean: own.mean,
    controlMean: control.mean,
    standardisedDifference: ratio(difference, Math.sqrt((before[1].variance + before[0].variance) / 2)),
    differenceByWeightedSpread: ratio(difference, Math.sqrt((own.variance + control.variance) / 2)),
    varianceRatio: binary ? undefined : ratio(own.variance, control.variance),
  };
}

type Moments = { readonly mean: number; readonly variance: number };

/** The variance is NaN where the group has no spare row to tell it from; it never leaves this file. */
function momentsOf(
  column: Column,
  treated: Column,
  arm: number,
  binary: boolean,
  weights: Column | undefined,
): Moments {
  let total = 0;
  let squares = 0;
  let sum = 0;
  for (let i = 0; i < column.length; i += 1) {
    if (treated[i] !== arm) continue;
    const weight = weights ? weights[i] : 1;
    total += weight;
    squares += weight * weight;
    sum += weight * column[i];
  }
  const mean = sum / total;
  if (binary) return { mean, variance: mean * (1 - mean) };
  let spread = 0;
  for (let i = 0; i < column.length; i += 1) {
    if (treated[i] === arm) spread += (weights ? weights[i] : 1) * (column[i] - mean) ** 2;
  }
  const spare = total - squares / total;
  return { mean, variance: spare > 1e-12 * total ? spread / spare : Number.NaN };
}

function ratio(numerator: number, denominator: number): number | NotEstimable {
  return denominator > 0 && Number.isFinite(numerator) ? numerator / denominator : notEstimable('noSpread');
}
