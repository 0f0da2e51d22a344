import { describe, expect, it } from 'vitest';
import { estimateNelsonAalen } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { sixCases } from './six-cases';

const rounded = (column: Float64Array): number[] => Array.from(column, (value) => Number(value.toFixed(12)));
const exactly = (...values: number[]): number[] => values.map((value) => Number(value.toFixed(12)));

describe('by hand', () => {
  it('adds d/n with variance d/n^2', () => {
    const curve = estimateNelsonAalen(sixCases);
    expect(Array.from(curve.timeDays)).toEqual([1, 3, 5, 6]);
    expect(Array.from(curve.atRisk)).toEqual([6, 5, 2, 1]);
    expect(Array.from(curve.events)).toEqual([1, 2, 0, 1]);
    expect(Array.from(curve.censored)).toEqual([0, 1, 1, 0]);
    expect([curve.n, curve.eventTotal, curve.intervalFrom, curve.confidenceLevel]).toEqual([6, 4, 0, 0.95]);
    expect(rounded(curve.cumulativeHazard)).toEqual(exactly(1 / 6, 17 / 30, 17 / 30, 47 / 30));
    const [first, second] = [1 / 36, 1 / 36 + 2 / 25];
    expect(rounded(curve.standardError)).toEqual(
      exactly(...[first, second, second, second + 1].map(Math.sqrt)),
    );
    expect(curve.survival[1]).toBeCloseTo(Math.exp(-17 / 30), 15);
  });

  it('with the binomial variance: 5/(5 x 36), then 6/(4 x 25), and nothing for the last case', () => {
    const { standardError, cumulativeHazard } = estimateNelsonAalen(sixCases, { variance: 'binomial' });
    const second = 1 / 36 + 6 / 100;
    expect(rounded(standardError)).toEqual(exactly(...[1 / 36, second, second, second].map(Math.sqrt)));
    expect(cumulativeHazard[3]).toBeCloseTo(47 / 30, 14);
  });

  it('with ties one by one: 1/5 + 1/4 on day 3', () => {
    const curve = estimateNelsonAalen(sixCases, { ties: 'one-by-one' });
    expect(curve.cumulativeHazard[1]).toBeCloseTo(1 / 6 + 1 / 5 + 1 / 4, 15);
    expect(curve.standardError[1]).toBeCloseTo(Math.sqrt(1 / 36 + 1 / 25 + 1 / 16), 15);
    expect(curve.survival[1]).toBeCloseTo(Math.exp(-37 / 60), 15);
    const binomial = estimateNelsonAalen(sixCases, { ties: 'one-by-one', variance: 'binomial' });
    expect(binomial.standardError).toEqual(curve.standardError);
  });

  it('has limits on the logarithm, or plain and cut at zero', () => {
    const z = 1.959963984540054;
    const h = 17 / 30;
    const se = Math.sqrt(1 / 36 + 2 / 25);
    const onLog = estimateNelsonAalen(sixCases);
    expect(onLog.lower[1]).toBeCloseTo(h * Math.exp((-z * se) / h), 13);
    expect(onLog.upper[1]).toBeCloseTo(h * Math.exp((z * se) / h), 13);
    const plain = estimateNelsonAalen(sixCases, { limits: 'plain' });
    expect(plain.lower[1]).toBe(0);
    expect(plain.upper[1]).toBeCloseTo(h + z * se, 13);
    const narrow = estimateNelsonAalen(sixCases, { limits: 'plain', confidenceLevel: 0.5 });
    expect(narrow.lower[1]).toBeCloseTo(h - 0.6744897501960817 * se, 13);
    expect(narrow.confidenceLevel).toBe(0.5);
  });

  it('counts with delayed entry only who has entered before', () => {
    // Day 2: case 0 alone; case 1 enters on that day. Day 4: cases 1 and 2.
    const curve = estimateNelsonAalen({ timeDays: [2, 4, 5], event: [1, 1, 0], entryDays: [0, 2, 1] });
    expect(Array.from(curve.atRisk)).toEqual([2, 2, 1]);
    expect(rounded(curve.cumulativeHazard)).toEqual(exactly(1 / 2, 1, 1));
  });
});

describe('edges', () => {
  it('without events there is nothing to quote an interval for', () => {
    const curve = estimateNelsonAalen({ timeDays: [1, 2], event: [0, 0] });
    expect(curve.intervalFrom).toBe(2);
    expect([...curve.cumulativeHazard, ...curve.lower, ...curve.upper]).toEqual([0, 0, 0, 0, 0, 0]);
    expect(Array.from(curve.survival)).toEqual([1, 1]);
  });

  it('before the first event limits lie on zero', () => {
    const curve = estimateNelsonAalen({ timeDays: [1, 2], event: [0, 1] });
    expect(curve.intervalFrom).toBe(1);
    expect([curve.lower[0], curve.upper[0]]).toEqual([0, 0]);
    expect(curve.upper[1]).toBeGreaterThan(1);
  });

  it('without rows has no times', () => {
    expect(estimateNelsonAalen({ timeDays: [], event: [] })).toMatchObject({ n: 0, eventTotal: 0 });
  });

  it('refuses mistakes', () => {
    expectMistake(() => estimateNelsonAalen({ timeDays: [1, -1], event: [1, 1] }), 'negative', 'timeDays', 1);
    expectMistake(() => estimateNelsonAalen({ timeDays: [1], event: [2] }), 'unknownCode', 'event', 0);
    expectMistake(
      () => estimateNelsonAalen(sixCases, { confidenceLevel: 1 }),
      'outOfRange',
      'confidenceLevel',
    );
  });
});
