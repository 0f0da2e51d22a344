import { describe, expect, it } from 'vitest';
import { deriveEwma, deriveRiskAdjustedEwma } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const DESIGN = { target: 10, standardDeviation: 2, newestShare: 0.5, limitWidth: 3 };
/** What the variance of one value comes to in the average with share 1/2, in the end: (1/2)/(3/2). */
const FULL = 3 * 2 * Math.sqrt(1 / 3);

describe('a moving average', () => {
  const chart = deriveEwma([12, 8, 30], DESIGN);

  it('starts at the target and halves the distance to each value', () => {
    expect([...chart.average]).toEqual([11, 9.5, 19.75]);
  });

  it('has limits that widen by root(1 - 1/4), root(1 - 1/16), root(1 - 1/64)', () => {
    const factors = [3 / 4, 15 / 16, 63 / 64].map(Math.sqrt);
    factors.forEach((factor, i) => {
      expect(chart.upper[i]).toBeCloseTo(10 + FULL * factor, 13);
      expect(chart.lower[i]).toBeCloseTo(10 - FULL * factor, 13);
    });
    expect(chart.asymptoticUpper).toBeCloseTo(10 + FULL, 13);
    expect(chart.asymptoticLower).toBeCloseTo(10 - FULL, 13);
  });

  it('signals at the first value whose average lies outside, on either side', () => {
    expect(chart.firstSignal).toEqual({ kind: 'signal', atCase: 3 });
    expect(deriveEwma([8, 12, -10], DESIGN).firstSignal).toEqual({ kind: 'signal', atCase: 3 });
    expect(deriveEwma([12, 8], DESIGN).firstSignal).toEqual({ kind: 'quiet' });
  });

  it('does not signal on the limit itself', () => {
    // With share 1 the average is the value, and the limit 10 + 3 x 2 is exact.
    const all = { ...DESIGN, newestShare: 1 };
    expect(deriveEwma([16, 4], all).firstSignal).toEqual({ kind: 'quiet' });
    expect(deriveEwma([16, 3.999], all).firstSignal).toEqual({ kind: 'signal', atCase: 2 });
  });

  it('of nothing is empty and quiet', () => {
    const empty = deriveEwma([], DESIGN);
    expect(empty.average).toHaveLength(0);
    expect(empty.firstSignal).toEqual({ kind: 'quiet' });
  });

  it('refuses missing values and settings without a meaning', () => {
    expectMistake(() => deriveEwma([1, Number.NaN], DESIGN), 'notFinite', 'values', 1);
    expectMistake(() => deriveEwma([1], { ...DESIGN, target: Number.NaN }), 'notFinite', 'target');
    for (const value of [0, -1])
      expectMistake(
        () => deriveEwma([1], { ...DESIGN, standardDeviation: value }),
        'outOfRange',
        'standardDeviation',
      );
    for (const value of [0, 1.01, Number.NaN])
      expectMistake(() => deriveEwma([1], { ...DESIGN, newestShare: value }), 'outOfRange', 'newestShare');
    expectMistake(() => deriveEwma([1], { ...DESIGN, limitWidth: 0 }), 'outOfRange', 'limitWidth');
    const endless = { ...DESIGN, limitWidth: Number.POSITIVE_INFINITY };
    expectMistake(() => deriveEwma([1], endless), 'notFinite', 'limitWidth');
  });
});

describe('moving averages of observed and expected events', () => {
  const design = { newestShare: 0.5, limitWidth: 1 };
  const outcomes = { event: [1, 0], probability: [0.5, 0.1] };

  it('both start at the mean risk and move by half', () => {
    const chart = estimable(deriveRiskAdjustedEwma(outcomes, design));
    expect(chart.observed[0]).toBeCloseTo(0.65, 14);
    expect(chart.observed[1]).toBeCloseTo(0.325, 14);
    expect(chart.expected[0]).toBeCloseTo(0.4, 14);
    expect(chart.expected[1]).toBeCloseTo(0.25, 14);
  });

  it('the variance adds a quarter of p(1 - p) to a quarter of what it was', () => {
    const chart = estimable(deriveRiskAdjustedEwma(outcomes, design));
    expect(chart.standardDeviation[0]).toBeCloseTo(0.25, 14);
    expect(chart.standardDeviation[1]).toBeCloseTo(Math.sqrt(0.09 / 4 + 0.0625 / 4), 14);
    expect(chart.lower[0]).toBeCloseTo(0.15, 14);
    expect(chart.upper[0]).toBeCloseTo(0.65, 14);
    expect(chart.upper[1]).toBeCloseTo(0.25 + Math.sqrt(0.09 / 4 + 0.0625 / 4), 14);
  });

  it('signals strictly outside, above or below', () => {
    const narrow = { newestShare: 0.5, limitWidth: 0.9, start: 0.5 };
    const wide = { ...narrow, limitWidth: 1 };
    const one = (event: number) => ({ event: [event], probability: [0.5] });
    for (const event of [0, 1]) {
      expect(estimable(deriveRiskAdjustedEwma(one(event), narrow)).firstSignal).toEqual({
        kind: 'signal',
        atCase: 1,
      });
      expect(estimable(deriveRiskAdjustedEwma(one(event), wide)).firstSignal).toEqual({ kind: 'quiet' });
    }
  });

  it('has limits that stop at 0 and 1', () => {
    const chart = estimable(
      deriveRiskAdjustedEwma(outcomes, { newestShare: 0.5, limitWidth: 2, start: 0.5 }),
    );
    expect([chart.lower[0], chart.upper[0]]).toEqual([0, 1]);
    expect(chart.lower[1]).toBe(0);
    expect(chart.upper[1]).toBeCloseTo(0.3 + 2 * Math.sqrt(0.09 / 4 + 0.0625 / 4), 14);
  });

  it('starts where it is told to', () => {
    const chart = estimable(deriveRiskAdjustedEwma(outcomes, { ...design, start: 0 }));
    expect([chart.observed[0], chart.expected[0]]).toEqual([0.5, 0.25]);
  });

  it('of nothing is not estimable', () => {
    expect(deriveRiskAdjustedEwma({ event: [], probability: [] }, design)).toMatchObject({
      kind: 'notEstimable',
      code: 'noRows',
    });
  });

  it('refuses what is no outcome, no probability or no setting', () => {
    const of = (event: number[], probability: number[], more = {}) =>
      deriveRiskAdjustedEwma({ event, probability }, { ...design, ...more });
    expectMistake(() => of([1], [0.5, 0.1]), 'unequalLengths', 'probability');
    expectMistake(() => of([0, 2], [0.5, 0.1]), 'unknownCode', 'event', 1);
    expectMistake(() => of([0, 1], [0.5, 1.1]), 'outOfRange', 'probability', 1);
    expectMistake(() => of([0], [-0.1]), 'outOfRange', 'probability', 0);
    expectMistake(() => of([0], [Number.NaN]), 'notFinite', 'probability', 0);
    expectMistake(() => of([0], [0.1], { newestShare: 0 }), 'outOfRange', 'newestShare');
    expectMistake(() => of([0], [0.1], { limitWidth: -1 }), 'outOfRange', 'limitWidth');
    for (const start of [-0.01, 1.01, Number.NaN])
      expectMistake(() => of([0], [0.1], { start }), 'outOfRange', 'start');
  });
});
