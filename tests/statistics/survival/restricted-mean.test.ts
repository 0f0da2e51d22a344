import { describe, expect, it } from 'vitest';
import {
  estimateKaplanMeier,
  estimateRestrictedMean,
  estimateRestrictedMeanContrast,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';
import { fourCases, sixCases } from './six-cases';

const Z = 1.959963984540054;
const curve = estimateKaplanMeier(sixCases);
const meanTo = (horizon: number) => estimated(estimateRestrictedMean(curve, horizon));

describe('the mean by hand', () => {
  it('to day 5: 1 + 2 x 5/6 + 2 x 1/2', () => {
    const mean = meanTo(5);
    expect(mean.meanDays).toBeCloseTo(11 / 3, 14);
    expect(mean.lostDays).toBeCloseTo(4 / 3, 14);
    expect(mean.horizonDays).toBe(5);
    // Areas from day 1 and day 3 on: 8/3 and 1.
    expect(mean.variance).toBeCloseTo((8 / 3) ** 2 / 30 + 2 / 15, 14);
    const interval = estimated(mean.interval);
    expect(interval.standardError).toBeCloseTo(Math.sqrt(10 / 27), 14);
    expect(interval.lower).toBeCloseTo(11 / 3 - Z * Math.sqrt(10 / 27), 13);
    expect(interval.upper).toBeCloseTo(11 / 3 + Z * Math.sqrt(10 / 27), 13);
  });

  it('an event on the horizon does not count', () => {
    const mean = meanTo(3);
    expect(mean.meanDays).toBeCloseTo(1 + 10 / 6, 14);
    expect(mean.variance).toBeCloseTo((10 / 6) ** 2 / 30, 14);
    // Nor does one that arithmetic put a hair before it.
    const blurred = estimateKaplanMeier({ ...sixCases, timeDays: [3, 1, 5, 3, 6, 3].map((t) => t * 0.1) });
    expect(estimated(estimateRestrictedMean(blurred, 0.3)).variance).toBeCloseTo(mean.variance / 100, 14);
  });

  it('beyond the last time when the curve has reached zero', () => {
    expect(meanTo(10).meanDays).toBeCloseTo(25 / 6, 14);
    expect(meanTo(10).variance).toBeCloseTo((19 / 6) ** 2 / 30 + (1.5 ** 2 * 2) / 15, 14);
  });

  it('follows the confidence of the curve', () => {
    const wide = estimateKaplanMeier(sixCases, { confidenceLevel: 0.5 });
    const interval = estimated(estimated(estimateRestrictedMean(wide, 5)).interval);
    expect(interval.upper - interval.lower).toBeCloseTo(2 * 0.6744897501960817 * Math.sqrt(10 / 27), 13);
  });
});

describe('the mean where there is none', () => {
  it('without cases, or when the curve ends too early', () => {
    const empty = estimateKaplanMeier({ timeDays: [], event: [] });
    expect(estimateRestrictedMean(empty, 5)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
    const open = estimateKaplanMeier(fourCases);
    expect(estimateRestrictedMean(open, 5).kind).toBe('estimated');
    expect(estimateRestrictedMean(open, 5.1)).toMatchObject({ code: 'horizonBeyondFollowUp' });
  });

  it('has no interval before the first event, nor when one case was all', () => {
    expect(meanTo(0.5)).toMatchObject({ meanDays: 0.5, lostDays: 0, variance: 0 });
    expect(meanTo(0.5).interval).toMatchObject({ kind: 'notEstimable', code: 'noEventYet' });
    const one = estimated(estimateRestrictedMean(estimateKaplanMeier({ timeDays: [2], event: [1] }), 5));
    expect(one.meanDays).toBe(2);
    expect(one.interval).toMatchObject({ kind: 'notEstimable', code: 'curveAtZero' });
  });

  it('refuses horizons that are none', () => {
    for (const horizon of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expectMistake(() => estimateRestrictedMean(curve, horizon), 'outOfRange', 'horizonDays');
  });
});

describe('the contrast by hand', () => {
  const first = meanTo(4);
  const second = estimated(estimateRestrictedMean(estimateKaplanMeier(fourCases), 4));
  const contrast = estimateRestrictedMeanContrast(first, second);
  const [m1, v1, m2, v2] = [19 / 6, 41 / 216, 7 / 2, 3 / 16];

  it('difference of second minus first: 7/2 - 19/6', () => {
    const difference = estimated(contrast.difference);
    const error = Math.sqrt(v1 + v2);
    expect(difference.estimate).toBeCloseTo(1 / 3, 14);
    expect(difference.standardError).toBeCloseTo(error, 14);
    expect(difference.lower).toBeCloseTo(1 / 3 - Z * error, 13);
    expect(difference.upper).toBeCloseTo(1 / 3 + Z * error, 13);
    expect(difference.z).toBeCloseTo(1 / 3 / error, 13);
    expect(difference.pValue).toBeCloseTo(0.58736, 5);
  });

  it('ratio of second over first, limits on the logarithm', () => {
    const ratio = estimated(contrast.ratio);
    const error = Math.sqrt(v1 / m1 ** 2 + v2 / m2 ** 2);
    expect(ratio.estimate).toBeCloseTo(21 / 19, 14);
    expect(ratio.standardError).toBeCloseTo(error, 14);
    expect(ratio.lower).toBeCloseTo((21 / 19) * Math.exp(-Z * error), 13);
    expect(ratio.upper).toBeCloseTo((21 / 19) * Math.exp(Z * error), 13);
    expect(ratio.z).toBeCloseTo(Math.log(21 / 19) / error, 13);
  });

  it('ratio of days lost: 1/2 over 5/6', () => {
    const lost = estimated(contrast.lostRatio);
    expect(lost.estimate).toBeCloseTo(0.6, 14);
    expect(lost.standardError).toBeCloseTo(Math.sqrt(v1 / (5 / 6) ** 2 + v2 / 0.25), 13);
  });

  it('with another confidence', () => {
    const narrow = estimated(
      estimateRestrictedMeanContrast(first, second, { confidenceLevel: 0.5 }).difference,
    );
    expect(narrow.upper).toBeCloseTo(1 / 3 + 0.6744897501960817 * Math.sqrt(v1 + v2), 13);
  });
});

describe('the contrast where there is none', () => {
  const early = meanTo(0.5);

  it('without an event in either group', () => {
    const contrast = estimateRestrictedMeanContrast(early, early);
    expect(contrast.difference).toMatchObject({ kind: 'notEstimable', code: 'noEventYet' });
    expect(contrast.ratio).toMatchObject({ code: 'noEventYet' });
    expect(contrast.lostRatio).toMatchObject({ code: 'noTimeLost' });
  });

  it('with a mean of zero', () => {
    const none = estimated(
      estimateRestrictedMean(estimateKaplanMeier({ timeDays: [0, 0], event: [1, 1] }), 5),
    );
    expect(none).toMatchObject({ meanDays: 0, lostDays: 5 });
    expect(estimateRestrictedMeanContrast(meanTo(5), none).ratio).toMatchObject({ code: 'curveAtZero' });
  });

  it('refuses two horizons', () => {
    expectMistake(() => estimateRestrictedMeanContrast(meanTo(4), meanTo(5)), 'outOfRange', 'second');
    const options = { confidenceLevel: 2 };
    expectMistake(
      () => estimateRestrictedMeanContrast(early, early, options),
      'outOfRange',
      'confidenceLevel',
    );
  });
});
