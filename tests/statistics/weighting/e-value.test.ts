import { describe, expect, it } from 'vitest';
import { estimateEValue } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

describe('by hand', () => {
  it('is RR + root(RR (RR - 1)): 2 + root 2 for a doubled or halved risk', () => {
    expect(estimateEValue({ estimate: 2 }).eValue).toBeCloseTo(2 + Math.SQRT2, 14);
    expect(estimateEValue({ estimate: 0.5 }).eValue).toBeCloseTo(2 + Math.SQRT2, 14);
    expect(estimateEValue({ estimate: 1 }).eValue).toBe(1);
  });

  it('takes the limit nearer 1: the lower above 1, the upper below, and is 1 when 1 lies between', () => {
    const of = (lower: number, estimate: number, upper: number): unknown =>
      estimateEValue({ estimate, lower, upper }).eValueOfLimit;
    expect(of(2, 3, 4)).toBeCloseTo(2 + Math.SQRT2, 14);
    expect(of(0.25, 0.4, 0.5)).toBeCloseTo(2 + Math.SQRT2, 14);
    expect(of(0.5, 1.2, 4)).toBe(1);
    expect(of(1, 1, 1)).toBe(1);
  });

  it('turns ratios of common outcomes into risk ratios first', () => {
    const odds = estimateEValue({ estimate: 4, lower: 1, upper: 9 }, { measure: 'oddsRatioCommon' });
    expect(odds).toMatchObject({ riskRatio: 2, limits: { lower: 1, upper: 3 } });
    // HR 4: (1 - 1/4)/(1 - root(1/2)).
    const hazards = estimateEValue({ estimate: 4 }, { measure: 'hazardRatioCommon' });
    expect(hazards.riskRatio).toBeCloseTo(0.75 / (1 - Math.SQRT1_2), 14);
  });

  it('takes ratios of rare outcomes for risk ratios', () => {
    for (const measure of ['riskRatio', 'oddsRatioRare', 'hazardRatioRare'] as const)
      expect(estimateEValue({ estimate: 4 }, { measure }).riskRatio).toBe(4);
  });

  it('has none of the limits when there are no limits', () => {
    const found = estimateEValue({ estimate: 2 });
    expect(found.limits).toMatchObject({ kind: 'notEstimable', code: 'noLimits' });
    expect(found.eValueOfLimit).toMatchObject({ kind: 'notEstimable', code: 'noLimits' });
  });
});

it('refuses mistakes', () => {
  expectMistake(() => estimateEValue({ estimate: 0 }), 'outOfRange', 'estimate');
  expectMistake(() => estimateEValue({ estimate: Number.NaN }), 'notFinite', 'estimate');
  expectMistake(() => estimateEValue({ estimate: 2, lower: 1 }), 'notFinite', 'upper');
  expectMistake(() => estimateEValue({ estimate: 2, upper: 3 }), 'notFinite', 'lower');
  expectMistake(() => estimateEValue({ estimate: 2, lower: -1, upper: 3 }), 'outOfRange', 'lower');
  expectMistake(() => estimateEValue({ estimate: 2, lower: 2.5, upper: 3 }), 'outOfRange', 'lower');
  expectMistake(() => estimateEValue({ estimate: 2, lower: 1, upper: 1.5 }), 'outOfRange', 'upper');
  const infinite = { estimate: 2, lower: 1, upper: Number.POSITIVE_INFINITY };
  expectMistake(() => estimateEValue(infinite), 'notFinite', 'upper');
});
