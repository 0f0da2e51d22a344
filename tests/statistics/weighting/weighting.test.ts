import { describe, expect, it } from 'vitest';
import {
  type BalancingWeightOptions,
  type CovariateBalance,
  deriveBalancingWeights,
  estimateBalance,
  estimateEffectiveSampleSize,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const treated = [1, 1, 0, 0, 0];
const propensity = [0.8, 0.25, 0.2, 0.5, 0.75];
const weightsOf = (options: BalancingWeightOptions): number[] =>
  Array.from(estimable(deriveBalancingWeights({ treated, propensity }, options)).weights, (w) =>
    Number(w.toFixed(12)),
  );

describe('balancing weights, by hand', () => {
  it('stand for everyone: one over the probability of what happened', () => {
    expect(weightsOf({ estimand: 'ate' })).toEqual([1.25, 4, 1.25, 2, 4]);
  });

  it('when stabilised are those times the share of the own group, 2/5 and 3/5', () => {
    expect(weightsOf({ estimand: 'ate', stabilised: true })).toEqual([0.5, 1.6, 0.75, 1.2, 2.4]);
    expect(weightsOf({ estimand: 'ate', stabilised: false })).toEqual(weightsOf({ estimand: 'ate' }));
  });

  it('stand for one group: 1 in it, the odds of it in the other', () => {
    expect(weightsOf({ estimand: 'att' })).toEqual([1, 1, 0.25, 1, 3]);
    expect(weightsOf({ estimand: 'atc' })).toEqual([0.25, 3, 1, 1, 1]);
  });

  it('stand for those who could be either: the probability of the other group', () => {
    expect(weightsOf({ estimand: 'overlap' })).toEqual([0.2, 0.75, 0.2, 0.5, 0.75]);
  });

  it('match: the smaller of both probabilities over that of what happened', () => {
    expect(weightsOf({ estimand: 'matching' })).toEqual([0.25, 1, 0.25, 1, 1]);
  });

  it('are cut at quantiles between the ordered weights, and the rows cut are counted', () => {
    // Ordered 1.25, 1.25, 2, 4, 4: the quantile 0.6 lies 0.4 of the way from 2 to 4, the quantile 0.25 at 1.25.
    const options = { estimand: 'ate', truncation: { lower: 0.25, upper: 0.6 } } as const;
    const found = estimable(deriveBalancingWeights({ treated, propensity }, options));
    const { truncated, weights } = found;
    expect(Array.from(weights, (w) => Number(w.toFixed(12)))).toEqual([1.25, 2.8, 1.25, 2, 2.8]);
    expect(truncated?.lower).toBeCloseTo(1.25, 14);
    expect(truncated?.upper).toBeCloseTo(2.8, 14);
    expect(truncated?.rows).toBe(2);
    const low = deriveBalancingWeights(
      { treated, propensity },
      { estimand: 'ate', truncation: { lower: 0.5, upper: 1 } },
    );
    expect(Array.from(estimable(low).weights)).toEqual([2, 4, 2, 2, 4]);
    expect(estimable(low).truncated).toEqual({ lower: 2, upper: 4, rows: 2 });
    expect(estimable(deriveBalancingWeights({ treated, propensity }, { estimand: 'ate' })).truncated).toBe(
      undefined,
    );
  });

  it('need both groups', () => {
    const alone = { treated: [1, 1], propensity: [0.5, 0.5] };
    expect(deriveBalancingWeights(alone, { estimand: 'ate' })).toMatchObject({ code: 'emptyArm' });
    const others = { treated: [0], propensity: [0.5] };
    expect(deriveBalancingWeights(others, { estimand: 'ate' })).toMatchObject({ code: 'emptyArm' });
  });

  it('refuse mistakes', () => {
    const run = (data: { treated: number[]; propensity: number[] }, options: BalancingWeightOptions) => () =>
      deriveBalancingWeights(data, options);
    const ate = { estimand: 'ate' } as const;
    expectMistake(run({ treated, propensity: [0.5] }, ate), 'unequalLengths', 'propensity');
    expectMistake(run({ treated: [1, 2], propensity: [0.5, 0.5] }, ate), 'unknownCode', 'treated', 1);
    expectMistake(run({ treated: [1, 0], propensity: [0.5, 1] }, ate), 'outOfRange', 'propensity', 1);
    expectMistake(run({ treated: [1, 0], propensity: [0, 0.5] }, ate), 'outOfRange', 'propensity', 0);
    expectMistake(run({ treated: [1, 0], propensity: [Number.NaN, 1] }, ate), 'notFinite', 'propensity', 0);
    const data = { treated, propensity };
    expectMistake(run(data, { estimand: 'att', stabilised: true }), 'outOfRange', 'stabilised');
    for (const [lower, upper] of [
      [-0.1, 0.5],
      [0.5, 0.5],
      [0, 1.1],
      [Number.NaN, 1],
    ])
      expectMistake(run(data, { ...ate, truncation: { lower, upper } }), 'outOfRange', 'truncation');
  });
});

describe('effective sample size, by hand', () => {
  it('is the squared sum of the weights over the sum of their squares, per group', () => {
    const found = estimateEffectiveSampleSize({ weights: [1, 3, 2, 2, 2], group: treated });
    expect(found).toEqual([3, 1.6]);
    expect(estimateEffectiveSampleSize({ weights: [1, 3] })).toEqual([1.6]);
  });

  it('has none for a group without rows or without weight', () => {
    const found = estimateEffectiveSampleSize({ weights: [0, 5], group: [0, 2] }, { groupCount: 4 });
    expect(found).toMatchObject([{ code: 'allWeightsZero' }, { code: 'noRows' }, 1, { code: 'noRows' }]);
    expect(estimateEffectiveSampleSize({ weights: [] })).toMatchObject([{ code: 'noRows' }]);
  });

  it('refuses mistakes', () => {
    expectMistake(() => estimateEffectiveSampleSize({ weights: [1, -1] }), 'negative', 'weights', 1);
    const lengths = () => estimateEffectiveSampleSize({ weights: [1], group: [0, 1] });
    expectMistake(lengths, 'unequalLengths', 'group');
    const code = () => estimateEffectiveSampleSize({ weights: [1, 1], group: [0, 1] }, { groupCount: 1 });
    expectMistake(code, 'unknownCode', 'group', 1);
  });
});

describe('balance, by hand', () => {
  const balanceOf = (data: Parameters<typeof estimateBalance>[0]): CovariateBalance[] => {
    const found = estimateBalance(data);
    if ('kind' in found) throw new Error(found.reason);
    return found;
  };
  // Treated 1 and 3 (mean 2, variance 2), others 0, 1, 5 (mean 2, variance 7).
  const column = [1, 3, 0, 1, 5];
  const mark = [1, 0, 0, 0, 1];

  it('is the difference of the means over the root mean square of the standard deviations', () => {
    const [first, second] = balanceOf({ treated, covariates: [[2, 4, 0, 1, 5], mark] });
    expect(first).toMatchObject({ binary: false, treatedMean: 3, controlMean: 2 });
    expect(first.standardisedDifference).toBeCloseTo(1 / Math.sqrt(4.5), 14);
    expect(first.varianceRatio).toBeCloseTo(2 / 7, 14);
    // Shares 1/2 and 1/3 have variances 1/4 and 2/9.
    expect(second).toMatchObject({ binary: true, varianceRatio: undefined, treatedMean: 0.5 });
    expect(second.standardisedDifference).toBeCloseTo(1 / 6 / Math.sqrt(17 / 72), 14);
    expect(second.differenceByWeightedSpread).toBe(second.standardisedDifference);
  });

  it('keeps the spread before weighting as its unit, and gives the weighted one beside it', () => {
    const [first, second] = balanceOf({ treated, covariates: [column, mark], weights: [3, 1, 1, 2, 1] });
    // Means 1.5 and 7/4; weighted spreads 3 x 0.25 + 1 x 2.25 over 4 - 10/4, and 83/4 - 49/4 ... over 4 - 6/4.
    expect(first.treatedMean).toBeCloseTo(1.5, 14);
    expect(first.controlMean).toBeCloseTo(1.75, 14);
    expect(first.standardisedDifference).toBeCloseTo(-0.25 / Math.sqrt(4.5), 14);
    const spread = 27 - 4 * 1.75 ** 2;
    expect(first.varianceRatio).toBeCloseTo(2 / (spread / 2.5), 13);
    expect(first.differenceByWeightedSpread).toBeCloseTo(-0.25 / Math.sqrt((2 + spread / 2.5) / 2), 13);
    expect(second.treatedMean).toBeCloseTo(3 / 4, 14);
    expect(second.differenceByWeightedSpread).toBeCloseTo(0.5 / Math.sqrt(3 / 16), 13);
    expect(second.standardisedDifference).toBeCloseTo(0.5 / Math.sqrt(17 / 72), 13);
  });

  it('has no figure where there is no spread, or one row alone to see it in', () => {
    const [constant] = balanceOf({ treated, covariates: [[2, 2, 2, 2, 2]] });
    expect(constant.standardisedDifference).toMatchObject({ code: 'noSpread' });
    expect(constant.varianceRatio).toMatchObject({ code: 'noSpread' });
    const [single] = balanceOf({ treated: [1, 0, 0], covariates: [[7, 2, 4]] });
    expect(single).toMatchObject({ treatedMean: 7, standardisedDifference: { code: 'noSpread' } });
    const [carried] = balanceOf({ treated, covariates: [column], weights: [1, 0, 1, 1, 1] });
    expect(carried.standardisedDifference).toBeCloseTo(-1 / Math.sqrt(4.5), 14);
    expect(carried.differenceByWeightedSpread).toMatchObject({ code: 'noSpread' });
  });

  it('calls a column binary only when all its values are 0 or 1', () => {
    const found = balanceOf({ treated, covariates: [mark, [1, 0, 0, 0, 0.5], [0, 0, 0, 0, -1]] });
    expect(found.map(({ binary }) => binary)).toEqual([true, false, false]);
  });

  it('needs rows and weight in both groups', () => {
    expect(estimateBalance({ treated: [1], covariates: [[1]] })).toMatchObject({ code: 'emptyArm' });
    expect(estimateBalance({ treated: [1, 0], covariates: [], weights: [0, 1] })).toMatchObject({
      code: 'allWeightsZero',
    });
  });

  it('refuses mistakes', () => {
    expectMistake(() => balanceOf({ treated, covariates: [mark, [1]] }), 'unequalLengths', 'covariates[1]');
    const bad = [0, 0, Number.NaN, 0, 0];
    expectMistake(() => balanceOf({ treated, covariates: [bad] }), 'notFinite', 'covariates[0]', 2);
    expectMistake(() => balanceOf({ treated: [2], covariates: [] }), 'unknownCode', 'treated', 0);
    const negative = () => balanceOf({ treated, covariates: [], weights: [1, 1, 1, -1, 1] });
    expectMistake(negative, 'negative', 'weights', 3);
  });
});
