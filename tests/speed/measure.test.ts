import { describe, expect, it } from 'vitest';
import { GROUPS, LONGEST_DAYS, makeCohort } from './cohort';
import { largestDifference, type Measured, measureRow, median } from './measure';
import { ROWS } from './rows';
import { tableOf } from './table';

const cohort = makeCohort(3000);

describe('the benchmark', () => {
  it('draws the same cohort every time, with every group, outcome and whole day in range', () => {
    expect(makeCohort(3000)).toEqual(cohort);
    expect(new Set(cohort.group).size).toBe(GROUPS);
    expect(new Set(cohort.status)).toEqual(new Set([0, 1, 2]));
    expect(cohort.event).toEqual(cohort.status.map((status) => (status === 1 ? 1 : 0)));
    expect(Math.min(...cohort.timeDays)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...cohort.timeDays)).toBeLessThanOrEqual(LONGEST_DAYS);
    expect(cohort.timeDays.every(Number.isInteger)).toBe(true);
  });

  it.each(ROWS)('has numbers to compare for $name', ({ start }) => {
    const { numbers } = start(cohort);
    expect(numbers().filter(Number.isFinite).length).toBeGreaterThan(0);
  });

  it('measures without R what can be measured without it', async () => {
    const { r, libraryMs, bareMs } = await measureRow(ROWS[0], cohort, undefined, 1);
    expect(r).toBeUndefined();
    expect([libraryMs, bareMs].every((ms) => ms > 0)).toBe(true);
  });

  it('takes the middle time, and the mean of the two in the middle', () => {
    expect(median([5, 1, 3])).toBe(3);
    expect(median([4, 1, 3, 10])).toBe(3.5);
  });

  it('finds the largest relative difference, passing over what the library does not estimate', () => {
    expect(largestDifference([1, 2.5, 0], Float64Array.of(1, 2, 0))).toBe(0.25);
    expect(largestDifference([Number.NaN, 2], Float64Array.of(9, 2))).toBe(0);
    expect(largestDifference([1, 2], Float64Array.of(1, Number.NaN))).toBe(Number.POSITIVE_INFINITY);
    expect(largestDifference([1], Float64Array.of(1, 2))).toBe(Number.POSITIVE_INFINITY);
    expect(largestDifference([1e-20], Float64Array.of(0))).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('the table', () => {
  const base = { n: 10, libraryMs: 10, bareMs: 2, row: ROWS[0] };
  const verdictOf = (target: Measured['row']['target'], r: Measured['r']): string => {
    const line = tableOf([{ ...base, name: 'row', r, row: { ...ROWS[0], target } }]).split('\n')[2];
    return line.split('|')[7].trim();
  };

  it('says whether both targets are met, at the limit too', () => {
    const r = { ms: 1000, difference: 0 };
    expect(verdictOf({ timesFasterThanR: 100, timesBare: 5 }, r)).toBe('yes');
    expect(verdictOf({ timesFasterThanR: 101, timesBare: 5 }, r)).toBe('no');
    expect(verdictOf({ timesFasterThanR: 100, timesBare: 4.9 }, r)).toBe('no');
  });

  it('gives no verdict on what was not measured or has no target', () => {
    expect(verdictOf({ timesFasterThanR: 100 }, undefined)).toBe('-');
    expect(verdictOf({}, { ms: 1, difference: 0 })).toBe('-');
    expect(verdictOf({ timesFasterThanR: 100, timesBare: 4 }, undefined)).toBe('no');
  });
});
