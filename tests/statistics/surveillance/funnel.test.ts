import { describe, expect, it } from 'vitest';
import {
  deriveFunnelLimits,
  deriveFunnelPoints,
  deriveRatioFunnelLimits,
  deriveWilsonFunnelLimits,
  estimateOverdispersion,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

describe('a limit of a funnel', () => {
  it('with 2 cases at 1/2: P(R <= 1) = 3/4, so 0.7 lies 1/10 below the count of 1', () => {
    const line = deriveFunnelLimits([2], 0.5, 0.7);
    expect([...line.quantileCount]).toEqual([1]);
    expect(line.limit[0]).toBeCloseTo((1 - (0.75 - 0.7) / 0.5) / 2, 14);
    expect(line.uncutLimit[0]).toBe(line.limit[0]);
  });

  it('stands on the count whose probability is the one asked for', () => {
    const line = deriveFunnelLimits([2, 1], 0.5, 0.75);
    expect([...line.quantileCount]).toEqual([1, 1]);
    expect(line.limit[0]).toBeCloseTo(0.5, 14);
    expect(line.limit[1]).toBeCloseTo(0.5, 14);
  });

  it('is cut at 0, and says what it was before', () => {
    const line = deriveFunnelLimits([2], 0.5, 0.1);
    expect([line.quantileCount[0], line.limit[0]]).toEqual([0, 0]);
    expect(line.uncutLimit[0]).toBeCloseTo(-(0.25 - 0.1) / 0.25 / 2, 14);
  });

  it('has a normal neighbour, cut to 0 and 1, wider by root phi', () => {
    const z = 1.959963984540054;
    expect(deriveFunnelLimits([100], 0.2, 0.975).normal[0]).toBeCloseTo(0.2 + z * 0.04, 12);
    expect(deriveFunnelLimits([100], 0.2, 0.975, { overdispersion: 4 }).normal[0]).toBeCloseTo(
      0.2 + z * 0.08,
      12,
    );
    expect(deriveFunnelLimits([1], 0.2, 0.025).normal[0]).toBe(0);
    expect(deriveFunnelLimits([1], 0.8, 0.975).normal[0]).toBe(1);
  });

  it('for observed over expected: with log 2 expected P(R = 0) = 1/2 and P(R <= 1) = (1 + log 2)/2', () => {
    const mean = Math.log(2);
    const line = deriveRatioFunnelLimits([mean, mean], 0.6);
    expect([...line.quantileCount]).toEqual([1, 1]);
    const share = ((1 + mean) / 2 - 0.6) / (mean / 2);
    expect(line.limit[0]).toBeCloseTo((1 - share) / mean, 13);
    const low = deriveRatioFunnelLimits([mean], 0.4);
    expect([low.quantileCount[0], low.limit[0]]).toEqual([0, 0]);
    expect(low.uncutLimit[0]).toBeCloseTo(-(0.5 - 0.4) / 0.5 / mean, 13);
  });

  it('by Wilson around the target: the interval of 5 in 50, also where target x n is no count', () => {
    const z = 1.959963984540054;
    const { lower, upper } = deriveWilsonFunnelLimits([50, 5], 0.1);
    const root = z * Math.sqrt((z * z) / 4 + (5 * 45) / 50);
    expect(upper[0]).toBeCloseTo((5 + (z * z) / 2 + root) / (50 + z * z), 13);
    expect(lower[0]).toBeCloseTo((5 + (z * z) / 2 - root) / (50 + z * z), 13);
    const half = z * Math.sqrt((z * z) / 4 + (0.5 * 4.5) / 5);
    expect(lower[1]).toBeCloseTo((0.5 + (z * z) / 2 - half) / (5 + z * z), 13);
    const wide = deriveWilsonFunnelLimits([50], 0.1, { confidenceLevel: 0.99 });
    expect(wide.upper[0]).toBeGreaterThan(upper[0]);
  });

  it('refuses units without cases, targets and probabilities at the ends', () => {
    expectMistake(() => deriveFunnelLimits([3, 0], 0.5, 0.5), 'outOfRange', 'n', 1);
    expectMistake(() => deriveFunnelLimits([3, 1.5], 0.5, 0.5), 'notInteger', 'n', 1);
    expectMistake(() => deriveFunnelLimits([-1], 0.5, 0.5), 'negative', 'n', 0);
    for (const end of [0, 1, Number.NaN]) {
      expectMistake(() => deriveFunnelLimits([3], end, 0.5), 'outOfRange', 'target');
      expectMistake(() => deriveFunnelLimits([3], 0.5, end), 'outOfRange', 'probability');
      expectMistake(() => deriveRatioFunnelLimits([3], end), 'outOfRange', 'probability');
      expectMistake(() => deriveWilsonFunnelLimits([3], end), 'outOfRange', 'target');
    }
    const wide = (overdispersion: number) => deriveFunnelLimits([3], 0.5, 0.5, { overdispersion });
    expect(wide(1).limit).toHaveLength(1);
    expectMistake(() => wide(0.99), 'outOfRange', 'overdispersion');
    expectMistake(() => wide(Number.NaN), 'notFinite', 'overdispersion');
    expectMistake(() => deriveRatioFunnelLimits([1, 0], 0.5), 'outOfRange', 'expected', 1);
    expectMistake(() => deriveRatioFunnelLimits([Number.NaN], 0.5), 'notFinite', 'expected', 0);
    expectMistake(() => deriveWilsonFunnelLimits([0], 0.5), 'outOfRange', 'n', 0);
    expectMistake(
      () => deriveWilsonFunnelLimits([1], 0.5, { confidenceLevel: 1 }),
      'outOfRange',
      'confidenceLevel',
    );
  });
});

describe('a unit in a funnel', () => {
  it('of 1 event in 2 cases at 1/4 has tails 15/16 and 7/16 and mid tail 1/4', () => {
    const points = deriveFunnelPoints({ events: [1, 0], n: [2, 2] }, 0.25);
    expect([...points.rate]).toEqual([0.5, 0]);
    expect(points.lowerTail[0]).toBeCloseTo(15 / 16, 14);
    expect(points.upperTail[0]).toBeCloseTo(7 / 16, 14);
    expect(points.midUpperTail[0]).toBeCloseTo(1 / 16 + 3 / 16, 14);
    expect(points.lowerTail[1]).toBeCloseTo(9 / 16, 14);
    expect(points.upperTail[1]).toBe(1);
    expect(points.z[0]).toBeCloseTo(0.25 / Math.sqrt(0.1875 / 2), 13);
  });

  it('adds to phi, the mean of z squared, which may be used from 10 units on', () => {
    const units = { events: [1, 0], n: [2, 2] };
    const found = estimable(estimateOverdispersion(units, 0.25));
    expect(found.phi).toBeCloseTo(0.0625 / (0.1875 / 2), 13);
    expect([found.units, found.usable]).toEqual([2, false]);
    const many = (count: number) => ({
      events: Array.from({ length: count }, () => 1),
      n: Array.from({ length: count }, () => 2),
    });
    expect(estimable(estimateOverdispersion(many(9), 0.5))).toMatchObject({ phi: 0, usable: false });
    expect(estimable(estimateOverdispersion(many(10), 0.5))).toMatchObject({ phi: 0, usable: true });
    expect(estimateOverdispersion({ events: [], n: [] }, 0.5)).toMatchObject({ code: 'noRows' });
  });

  it('is refused with more events than cases, without cases, or beside a column of another length', () => {
    for (const of of [deriveFunnelPoints, estimateOverdispersion]) {
      expectMistake(() => of({ events: [1, 3], n: [2, 2] }, 0.5), 'outOfRange', 'events', 1);
      expectMistake(() => of({ events: [0], n: [0] }, 0.5), 'outOfRange', 'n', 0);
      expectMistake(() => of({ events: [0], n: [1, 1] }, 0.5), 'unequalLengths', 'n');
      expectMistake(() => of({ events: [0.5], n: [1] }, 0.5), 'notInteger', 'events', 0);
      expectMistake(() => of({ events: [0], n: [1] }, 1), 'outOfRange', 'target');
    }
  });
});
