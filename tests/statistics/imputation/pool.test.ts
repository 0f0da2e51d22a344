import { describe, expect, it } from 'vitest';
import { poolEstimates } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

describe('three sets with the estimates 1, 2, 3 and the variance 1, by hand', () => {
  const data = { estimates: [1, 2, 3], variances: [1, 1, 1] };

  it('adds four thirds of the variance between to that within', () => {
    const found = estimable(poolEstimates(data));
    expect(found).toMatchObject({ estimate: 2, withinVariance: 1, betweenVariance: 1 });
    expect(found.totalVariance).toBeCloseTo(7 / 3, 14);
    expect(found.standardError).toBeCloseTo(Math.sqrt(7 / 3), 14);
    expect(found.relativeIncrease).toBeCloseTo(4 / 3, 14);
    // 2/(4/7)^2.
    expect(found.degreesOfFreedom).toBeCloseTo(49 / 8, 12);
    expect(found.missingInformation).toBeCloseTo((4 / 3 + 2 / (73 / 8)) / (7 / 3), 13);
    expect(found.t).toBeCloseTo(2 / Math.sqrt(7 / 3), 14);
  });

  it('with 10 degrees of freedom in the complete data joins 49/8 and 330/91 harmonically', () => {
    const found = estimable(poolEstimates(data, { completeDegreesOfFreedom: 10 }));
    expect(found.degreesOfFreedom).toBeCloseTo(1 / (8 / 49 + 91 / 330), 12);
  });

  it('has the limits and the p value of Student t', () => {
    const found = estimable(poolEstimates(data, { confidenceLevel: 0.5 }));
    // Quantile 0.75 at 6.125 degrees of freedom and twice the upper tail beyond 1.309307, from R's qt and pt.
    expect(found.upper).toBeCloseTo(2 + 0.7166362 * Math.sqrt(7 / 3), 5);
    expect(found.lower).toBeCloseTo(2 - 0.7166362 * Math.sqrt(7 / 3), 5);
    expect(found.pValue).toBeCloseTo(0.2374004, 6);
    const negative = estimable(poolEstimates({ ...data, estimates: [-1, -2, -3] }));
    expect(negative.pValue).toBeCloseTo(found.pValue, 14);
    expect(negative.t).toBeCloseTo(-found.t, 14);
  });
});

it('takes the complete data at their word where all sets agree', () => {
  const data = { estimates: [2, 2], variances: [0.5, 1.5] };
  const found = estimable(poolEstimates(data));
  expect(found).toMatchObject({ betweenVariance: 0, totalVariance: 1, relativeIncrease: 0 });
  expect(found).toMatchObject({ degreesOfFreedom: Number.POSITIVE_INFINITY, missingInformation: 0 });
  expect(found.upper).toBeCloseTo(2 + 1.959963984540054, 12);
  expect(found.pValue).toBeCloseTo(0.04550026, 7);
  const few = estimable(poolEstimates(data, { completeDegreesOfFreedom: 9 }));
  expect(few.degreesOfFreedom).toBeCloseTo(90 / 12, 12);
});

it('is not estimable from one set', () => {
  const code = { kind: 'notEstimable', code: 'tooFewImputations' };
  expect(poolEstimates({ estimates: [1], variances: [1] })).toMatchObject(code);
  expect(poolEstimates({ estimates: [], variances: [] })).toMatchObject(code);
});

it('refuses mistakes', () => {
  const run =
    (over: object, options = {}) =>
    () =>
      poolEstimates({ estimates: [1, 2], variances: [1, 1], ...over }, options);
  expectMistake(run({ variances: [1] }), 'unequalLengths', 'variances');
  expectMistake(run({ estimates: [1, Number.NaN] }), 'notFinite', 'estimates', 1);
  expectMistake(run({ variances: [Number.NaN, 1] }), 'notFinite', 'variances', 0);
  expectMistake(run({ variances: [1, 0] }), 'outOfRange', 'variances', 1);
  expectMistake(run({}, { completeDegreesOfFreedom: 0 }), 'outOfRange', 'completeDegreesOfFreedom');
  expectMistake(run({}, { completeDegreesOfFreedom: Number.NaN }), 'outOfRange', 'completeDegreesOfFreedom');
  expectMistake(run({}, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
});
