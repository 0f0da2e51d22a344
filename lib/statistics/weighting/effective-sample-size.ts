import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths, countCodes } from '../check-input';
import { checkWeights } from '../check-weights';

/**
 * How many equally weighted rows would say as much as these weighted ones, per group.
 *
 * Formula: (sum of weights)^2 / sum of weights^2 (Kish, Survey Sampling 1965), within each group. The number of rows
 * when all weights are equal; it does not change when all weights are multiplied.
 * Without `group` there is one; index = group code. Not estimable: a group without rows, or of weight 0.
 * @throws StatisticsError unequalLengths, notFinite, negative (weights), unknownCode (group), outOfRange (groupCount).
 */
export function estimateEffectiveSampleSize(
  data: { readonly weights: Column; readonly group?: Column },
  options: { readonly groupCount?: number } = {},
): (number | NotEstimable)[] {
  const { weights, group } = data;
  checkEqualLengths({ weights, group });
  checkWeights(weights);
  const groupCount = group ? countCodes('group', group, options.groupCount) : 1;
  if (group) checkCodes('group', group, groupCount);
  const rows = new Float64Array(groupCount);
  const sum = new Float64Array(groupCount);
  const squares = new Float64Array(groupCount);
  for (let i = 0; i < weights.length; i += 1) {
    const g = group ? group[i] : 0;
    rows[g] += 1;
    sum[g] += weights[i];
    squares[g] += weights[i] ** 2;
  }
  return Array.from(sum, (total, g) => {
    if (rows[g] === 0) return notEstimable('noRows');
    return total === 0 ? notEstimable('allWeightsZero') : total ** 2 / squares[g];
  });
}
