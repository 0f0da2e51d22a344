import { describe, expect, it } from 'vitest';
import {
  deriveBernoulliCusum,
  deriveObservedMinusExpected,
  deriveRiskAdjustedCusum,
  deriveTabularCusum,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

describe('a risk-adjusted sum', () => {
  const rise = { oddsRatio: 3, threshold: 1 };

  it('adds log(RA/(1 + (RA - 1)p)) for an event and log(1/(1 + (RA - 1)p)) for none', () => {
    const { weight } = deriveRiskAdjustedCusum({ event: [1, 0], probability: [0.5, 0.25] }, rise);
    expect(weight[0]).toBeCloseTo(Math.log(3 / 2), 14);
    expect(weight[1]).toBeCloseTo(Math.log(1 / 1.5), 14);
  });

  it('weighs against an odds ratio in control other than 1', () => {
    const { weight } = deriveRiskAdjustedCusum(
      { event: [1, 0], probability: [0.5, 0.5] },
      { ...rise, baselineOddsRatio: 2 },
    );
    expect(weight[0]).toBeCloseTo(Math.log((1.5 * 3) / (2 * 2)), 14);
    expect(weight[1]).toBeCloseTo(Math.log(1.5 / 2), 14);
  });

  it('never falls below 0, and goes on through a signal beside the sum that starts again', () => {
    // With p = 1/2 and RA = 3 an event adds log 1.5, none takes off log 2.
    const up = Math.log(1.5);
    const chart = deriveRiskAdjustedCusum(
      { event: [0, 1, 1, 1, 0], probability: [0.5, 0.5, 0.5, 0.5, 0.5] },
      { oddsRatio: 3, threshold: 2 * up - 1e-12 },
    );
    const rounded = (path: Float64Array): number[] => [...path].map((value) => Number(value.toFixed(12)));
    const of = (...values: number[]): number[] => values.map((value) => Number(value.toFixed(12)));
    expect(rounded(chart.sum)).toEqual(of(0, up, 2 * up, 3 * up, 3 * up - Math.log(2)));
    expect(rounded(chart.sumWithReset)).toEqual(of(0, up, 2 * up, up, 0));
    expect(chart.firstSignal).toEqual({ kind: 'signal', atCase: 3 });
    expect(chart.signals).toEqual([3]);
  });

  it('signals when the threshold is just reached', () => {
    const outcomes = { event: [1, 1], probability: [0.5, 0.5] };
    const [first] = deriveRiskAdjustedCusum(outcomes, rise).weight;
    const reached = deriveRiskAdjustedCusum(outcomes, { oddsRatio: 3, threshold: first });
    expect(reached.firstSignal).toEqual({ kind: 'signal', atCase: 1 });
    expect(reached.signals).toEqual([1, 2]);
    const above = deriveRiskAdjustedCusum(outcomes, { oddsRatio: 3, threshold: first + 1e-9 });
    expect(above.firstSignal).toEqual({ kind: 'signal', atCase: 2 });
    expect(above.signals).toEqual([2]);
  });

  it('for a fall rises with each case without an event', () => {
    const chart = deriveRiskAdjustedCusum(
      { event: [0, 0, 1], probability: [0.5, 0.5, 0.5] },
      { oddsRatio: 1 / 3, threshold: 5 },
    );
    expect(chart.sum[0]).toBeCloseTo(Math.log(1.5), 14);
    expect(chart.sum[1]).toBeCloseTo(2 * Math.log(1.5), 14);
    expect(chart.sum[2]).toBeCloseTo(2 * Math.log(1.5) - Math.log(2), 14);
    expect(chart.firstSignal).toEqual({ kind: 'quiet' });
    expect(chart.signals).toEqual([]);
  });

  it('takes certain outcomes: risk 0 adds log RA, risk 1 adds nothing', () => {
    const { weight } = deriveRiskAdjustedCusum({ event: [1, 0, 1], probability: [0, 0, 1] }, rise);
    expect(weight[0]).toBeCloseTo(Math.log(3), 14);
    expect(weight[1]).toBe(0);
    expect(weight[2]).toBe(0);
  });

  it('refuses rows and settings without a meaning', () => {
    const of = (event: number[], probability: number[], more = {}) =>
      deriveRiskAdjustedCusum({ event, probability }, { ...rise, ...more });
    expectMistake(() => of([1], []), 'unequalLengths', 'probability');
    expectMistake(() => of([0.5], [0.5]), 'unknownCode', 'event', 0);
    expectMistake(() => of([0], [2]), 'outOfRange', 'probability', 0);
    expectMistake(() => of([0], [0.1], { oddsRatio: 0 }), 'outOfRange', 'oddsRatio');
    expectMistake(() => of([0], [0.1], { oddsRatio: 1 }), 'outOfRange', 'oddsRatio');
    expectMistake(() => of([0], [0.1], { baselineOddsRatio: 3 }), 'outOfRange', 'oddsRatio');
    expectMistake(() => of([0], [0.1], { baselineOddsRatio: 0 }), 'outOfRange', 'baselineOddsRatio');
    expectMistake(() => of([0], [0.1], { threshold: 0 }), 'outOfRange', 'threshold');
    expectMistake(() => of([0], [0.1], { threshold: Number.NaN }), 'notFinite', 'threshold');
  });
});

describe('observed beside expected', () => {
  it('adds up outcomes, risks and p(1 - p)', () => {
    const sums = deriveObservedMinusExpected({ event: [1, 0, 1], probability: [0.5, 0.25, 0.5] });
    expect([...sums.observed]).toEqual([1, 1, 2]);
    expect([...sums.expected]).toEqual([0.5, 0.75, 1.25]);
    expect([...sums.observedMinusExpected]).toEqual([0.5, 0.25, 0.75]);
    expect([...sums.vlad]).toEqual([-0.5, -0.25, -0.75]);
    expect([...sums.standardDeviation].map((sd) => sd ** 2).map((v) => Number(v.toFixed(12)))).toEqual([
      0.25, 0.4375, 0.6875,
    ]);
  });

  it('refuses a probability that is none', () => {
    expectMistake(
      () => deriveObservedMinusExpected({ event: [0, 0], probability: [0.1, -0.1] }),
      'outOfRange',
      'probability',
      1,
    );
  });
});

describe('a sum of outcomes with one rate', () => {
  const design = { baselineRate: 0.25, shiftedRate: 0.5, threshold: 1 };

  it('adds log 2 for an event and log(2/3) for none', () => {
    const chart = deriveBernoulliCusum([1, 0, 1, 1], design);
    expect(chart.weightOfEvent).toBeCloseTo(Math.log(2), 14);
    expect(chart.weightOfNone).toBeCloseTo(Math.log(2 / 3), 14);
    expect(chart.sum[1]).toBeCloseTo(Math.log(4 / 3), 14);
    expect(chart.sum[2]).toBeCloseTo(Math.log(8 / 3), 14);
    expect(chart.sum[3]).toBeCloseTo(Math.log(16 / 3), 14);
    expect(chart.firstSignal).toEqual({ kind: 'signal', atCase: 4 });
    expect(chart.signals).toEqual([4]);
  });

  it('watches for a fall when the shifted rate is the smaller', () => {
    const chart = deriveBernoulliCusum([0, 0], { baselineRate: 0.5, shiftedRate: 0.25, threshold: 1 });
    expect(chart.sum[1]).toBeCloseTo(2 * Math.log(1.5), 14);
  });

  it('refuses rates at the ends, equal rates and other outcomes', () => {
    const of = (event: number[], more = {}) => deriveBernoulliCusum(event, { ...design, ...more });
    expectMistake(() => of([2]), 'unknownCode', 'event', 0);
    expectMistake(() => of([1], { baselineRate: 0 }), 'outOfRange', 'baselineRate');
    expectMistake(() => of([1], { shiftedRate: 1 }), 'outOfRange', 'shiftedRate');
    expectMistake(() => of([1], { shiftedRate: 0.25 }), 'outOfRange', 'shiftedRate');
    expectMistake(() => of([1], { threshold: -1 }), 'outOfRange', 'threshold');
  });
});

describe('a tabular sum', () => {
  const design = { target: 10, slack: 1, threshold: 3 };

  it('gathers what lies beyond the slack, on each side', () => {
    const chart = deriveTabularCusum([13, 12, 9, 5, 8], design);
    expect([...chart.high]).toEqual([2, 3, 1, 0, 0]);
    expect([...chart.low]).toEqual([0, 0, 0, 4, 5]);
    expect(chart.firstLow).toEqual({ kind: 'signal', atCase: 4 });
  });

  it('signals above the threshold, not on it', () => {
    expect(deriveTabularCusum([13, 12], design).firstHigh).toEqual({ kind: 'quiet' });
    expect(deriveTabularCusum([13, 12.5], design).firstHigh).toEqual({ kind: 'signal', atCase: 2 });
    expect(deriveTabularCusum([7, 8], design).firstLow).toEqual({ kind: 'quiet' });
  });

  it('takes a slack of 0 and refuses one below', () => {
    expect([...deriveTabularCusum([11, 12], { ...design, slack: 0 }).high]).toEqual([1, 3]);
    expectMistake(() => deriveTabularCusum([1], { ...design, slack: -0.1 }), 'negative', 'slack');
    expectMistake(() => deriveTabularCusum([1], { ...design, slack: Number.NaN }), 'notFinite', 'slack');
    expectMistake(() => deriveTabularCusum([1], { ...design, threshold: 0 }), 'outOfRange', 'threshold');
    expectMistake(() => deriveTabularCusum([1], { ...design, target: Number.NaN }), 'notFinite', 'target');
    expectMistake(() => deriveTabularCusum([Number.NaN], design), 'notFinite', 'values', 0);
  });
});
