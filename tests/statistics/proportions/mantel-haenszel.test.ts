import { describe, expect, it } from 'vitest';
import {
  estimateMantelHaenszel,
  testBreslowDay,
  testCochranMantelHaenszel,
  testStratumHeterogeneity,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

/** Two strata of twenty: 6 of 10 against 3 of 10, and 4 of 10 against 2 of 10. */
const data = { firstEvents: [6, 4], firstN: [10, 10], secondEvents: [3, 2], secondN: [10, 10] };

describe('one measure for all strata, by hand', () => {
  it('odds ratio (6 x 7 + 4 x 8)/(4 x 3 + 6 x 2)', () => {
    const found = estimateMantelHaenszel(data);
    if (found.kind !== 'estimated') throw new Error(found.reason);
    expect(found.estimate).toBeCloseTo(74 / 24, 14);
    // P = 13/20, 12/20; Q = 7/20, 8/20; R = 42/20, 32/20 (sum 3.7); S = 12/20, 12/20 (sum 1.2).
    const variance =
      (0.65 * 2.1 + 0.6 * 1.6) / (2 * 3.7 ** 2) +
      (0.65 * 0.6 + 0.35 * 2.1 + 0.6 * 0.6 + 0.4 * 1.6) / (2 * 3.7 * 1.2) +
      (0.35 * 0.6 + 0.4 * 0.6) / (2 * 1.2 ** 2);
    expect(found.standardError).toBeCloseTo(Math.sqrt(variance), 14);
    expect(Math.log(found.upper / found.lower)).toBeCloseTo(2 * 1.959963984540054 * found.standardError, 12);
    expect(found.strata).toBe(2);
  });

  it('risk ratio (6 + 4)/(3 + 2), risk difference the mean of 0.3 and 0.2', () => {
    expect(estimateMantelHaenszel(data, { measure: 'riskRatio' })).toMatchObject({ estimate: 2 });
    const difference = estimateMantelHaenszel(data, { measure: 'riskDifference' });
    if (difference.kind !== 'estimated') throw new Error(difference.reason);
    expect(difference.estimate).toBeCloseTo(0.25, 15);
    // Slope per stratum (c - a)/4 with equal arms: -3/4, -2/4; level (a d + b c)/40: 54/40, 44/40; weight 10.
    const variance = (0.25 * -1.25 + 54 / 40 + 44 / 40) / 100;
    expect(difference.standardError).toBeCloseTo(Math.sqrt(variance), 14);
  });
});

it('tests the summed distance from expectation: 10 - 7.5 over its variance', () => {
  // Expected 4.5 and 3; variances 100 x 9 x 11/(400 x 19) and 100 x 6 x 14/(400 x 19).
  const variance = (9 * 11 + 6 * 14) / (4 * 19);
  const plain = testCochranMantelHaenszel(data);
  const corrected = testCochranMantelHaenszel(data, { continuityCorrection: true });
  if (plain.kind !== 'tested' || corrected.kind !== 'tested') throw new Error('not tested');
  expect(plain.chiSquare).toBeCloseTo(2.5 ** 2 / variance, 13);
  expect(corrected.chiSquare).toBeCloseTo(2 ** 2 / variance, 13);
  expect(plain.degreesOfFreedom).toBe(1);
});

describe('differences between strata', () => {
  it('are weighed by the inverse variance of each', () => {
    const pooled = Math.log(74 / 24);
    const first = (Math.log((6 * 7) / (4 * 3)) - pooled) ** 2 / (1 / 6 + 1 / 4 + 1 / 3 + 1 / 7);
    const second = (Math.log((4 * 8) / (6 * 2)) - pooled) ** 2 / (1 / 4 + 1 / 6 + 1 / 2 + 1 / 8);
    const test = testStratumHeterogeneity(data);
    expect(test).toMatchObject({ kind: 'tested', degreesOfFreedom: 1, iSquared: 0 });
    if (test.kind === 'tested') expect(test.q).toBeCloseTo(first + second, 13);
  });

  it('are none by Breslow and Day when the strata have one odds ratio', () => {
    // Odds 1:1 and 1:2 in one stratum, 2:1 and 1:1 in the other: the ratio is 2 in both.
    const even = { firstEvents: [6, 8], firstN: [12, 12], secondEvents: [4, 6], secondN: [12, 12] };
    const test = testBreslowDay(even);
    if (test.kind !== 'tested') throw new Error(test.reason);
    expect(test.chiSquare).toBeCloseTo(0, 12);
    expect(test.pValue).toBeCloseTo(1, 6);
    const apart = testStratumHeterogeneity(even, { measure: 'oddsRatio' });
    if (apart.kind === 'tested') expect(apart.q).toBeCloseTo(0, 12);
  });

  it('leave out strata that hold no comparison or one outcome', () => {
    const more = {
      firstEvents: [6, 4, 3, 0, 5],
      firstN: [10, 10, 3, 4, 5],
      secondEvents: [3, 2, 0, 0, 7],
      secondN: [10, 10, 0, 6, 7],
    };
    expect(testStratumHeterogeneity(more)).toMatchObject({ degreesOfFreedom: 1 });
    expect(testBreslowDay(more)).toMatchObject({ degreesOfFreedom: 1 });
    const [few, all] = [testCochranMantelHaenszel(data), testCochranMantelHaenszel(more)];
    if (few.kind !== 'tested' || all.kind !== 'tested') throw new Error('not tested');
    expect(all.chiSquare).toBeCloseTo(few.chiSquare, 13);
  });
});

describe('not estimable', () => {
  it('without a stratum that holds a comparison', () => {
    const none = { firstEvents: [3], firstN: [5], secondEvents: [0], secondN: [0] };
    expect(estimateMantelHaenszel(none)).toMatchObject({ kind: 'notEstimable', code: 'noStrata' });
    expect(testCochranMantelHaenszel(none)).toMatchObject({ code: 'noStrata' });
    expect(testBreslowDay(none)).toMatchObject({ code: 'noStrata' });
    expect(testStratumHeterogeneity(none)).toMatchObject({ code: 'noStrata' });
    const still = { firstEvents: [0], firstN: [5], secondEvents: [0], secondN: [4] };
    expect(testCochranMantelHaenszel(still)).toMatchObject({ code: 'noStrata' });
  });

  it('as a ratio when one side never has events', () => {
    const one = { firstEvents: [3, 2], firstN: [5, 5], secondEvents: [0, 0], secondN: [4, 4] };
    for (const measure of ['oddsRatio', 'riskRatio'] as const) {
      expect(estimateMantelHaenszel(one, { measure })).toMatchObject({ code: 'emptyCell' });
    }
    const swapped = { firstEvents: [0, 0], firstN: [4, 4], secondEvents: [3, 2], secondN: [5, 5] };
    expect(estimateMantelHaenszel(swapped)).toMatchObject({ code: 'emptyCell' });
    expect(testBreslowDay(swapped)).toMatchObject({ code: 'emptyCell' });
    expect(estimateMantelHaenszel(one, { measure: 'riskDifference' })).toMatchObject({ kind: 'estimated' });
  });

  it('as a difference between strata when there is but one', () => {
    const one = { firstEvents: [3], firstN: [5], secondEvents: [1], secondN: [4] };
    expect(testBreslowDay(one)).toMatchObject({ code: 'oneStratum' });
    expect(testStratumHeterogeneity(one)).toMatchObject({ code: 'oneStratum' });
  });
});

it('names the stratum of a mistake', () => {
  const many = { ...data, firstEvents: [6, 11] };
  expectMistake(() => estimateMantelHaenszel(many), 'outOfRange', 'firstEvents', 1);
  expectMistake(() => testBreslowDay({ ...data, secondN: [10] }), 'unequalLengths', 'secondN');
  const negative = { ...data, secondEvents: [-1, 2] };
  expectMistake(() => testCochranMantelHaenszel(negative), 'negative', 'secondEvents', 0);
  const broken = { ...data, firstN: [10, 10.5] };
  expectMistake(() => testStratumHeterogeneity(broken), 'notInteger', 'firstN', 1);
  expectMistake(() => estimateMantelHaenszel(data, { confidenceLevel: 0 }), 'outOfRange', 'confidenceLevel');
});
