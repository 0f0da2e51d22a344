import { describe, expect, it } from 'vitest';
import { deriveGeometricChart } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const half = (tailProbability: number) => ({ baselineRate: 0.5, tailProbability });
const none = (cases: number): number[] => Array.from({ length: cases }, () => 0);

describe('gaps between events', () => {
  it('count the cases up to and including the next event; what follows the last is open', () => {
    const chart = deriveGeometricChart([0, 0, 1, 1, 0, 1, 0, 0], half(0.1));
    expect([...chart.gap]).toEqual([3, 1, 2]);
    expect([...chart.endedAt]).toEqual([3, 4, 6]);
    expect(chart.casesSinceEvent).toBe(2);
  });

  it('do not exist without events', () => {
    const chart = deriveGeometricChart(none(3), half(0.1));
    expect([chart.gap.length, chart.signals.length, chart.casesSinceEvent]).toEqual([0, 0, 3]);
    expect(deriveGeometricChart([], half(0.1)).casesSinceEvent).toBe(0);
  });

  it('are too long from the smallest g with (1/2)^(g - 1) <= tail on: 4 at 1/8, 5 just below', () => {
    expect(deriveGeometricChart([], half(1 / 8)).upperLimit).toBe(4);
    expect(deriveGeometricChart([], half(1 / 8 - 1e-9)).upperLimit).toBe(5);
  });

  it('are too short up to the largest g with 1 - (1 - p)^g <= tail: at rate 1/10, 2 at 0.19, 1 just below, none below 0.1', () => {
    const limit = (tailProbability: number): number =>
      deriveGeometricChart([], { baselineRate: 0.1, tailProbability }).lowerLimit;
    expect([limit(0.19), limit(0.19 - 1e-9), limit(0.1), limit(0.1 - 1e-9)]).toEqual([2, 1, 1, 0]);
  });

  it('signal a rise at the lower limit and a fall at the upper one', () => {
    // At rate 1/10 and tail 0.19: lower limit 2; 0.9^(g - 1) <= 0.19 from g = 17 on.
    const design = { baselineRate: 0.1, tailProbability: 0.19 };
    const series = [2, 3, 16, 17].flatMap((gap) => [...none(gap - 1), 1]);
    const chart = deriveGeometricChart(series, design);
    expect([chart.lowerLimit, chart.upperLimit]).toEqual([2, 17]);
    expect(chart.signals).toEqual([
      { row: 0, direction: 'rise' },
      { row: 3, direction: 'fall' },
    ]);
  });

  it('that are still open signal when the next case must make them too long', () => {
    const design = { baselineRate: 0.1, tailProbability: 0.19 };
    expect(deriveGeometricChart([1, ...none(15)], design).openGapSignals).toBe(false);
    expect(deriveGeometricChart([1, ...none(16)], design).openGapSignals).toBe(true);
  });

  it('need outcomes, a rate between 0 and 1 and a tail below one half', () => {
    expectMistake(() => deriveGeometricChart([0, 3], half(0.1)), 'unknownCode', 'event', 1);
    for (const baselineRate of [0, 1])
      expectMistake(
        () => deriveGeometricChart([], { baselineRate, tailProbability: 0.1 }),
        'outOfRange',
        'baselineRate',
      );
    for (const tail of [0, 0.5, Number.NaN])
      expectMistake(() => deriveGeometricChart([], half(tail)), 'outOfRange', 'tailProbability');
  });
});
