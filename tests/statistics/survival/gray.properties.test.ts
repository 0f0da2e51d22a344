import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type GrayTest, testGray } from '@/lib/statistics';
import { type FollowUp, followUp, reversed } from './follow-up';

const columnsOf = ({ timeDays, status, group, strata }: FollowUp, stratified: boolean) =>
  stratified ? { timeDays, status, group, strata } : { timeDays, status, group };

/** The same absence, or the same test to rounding. */
function expectSame(a: ReturnType<typeof testGray>, b: ReturnType<typeof testGray>): void {
  expect(a.kind).toBe(b.kind);
  if (a.kind === 'notEstimable' || b.kind === 'notEstimable') expect(a).toEqual(b);
  if (a.kind === 'notEstimable' || b.kind === 'notEstimable') return;
  expect(a.degreesOfFreedom).toBe(b.degreesOfFreedom);
  expect(Math.abs(a.chiSquare - b.chiSquare)).toBeLessThanOrEqual(1e-7 * (1 + b.chiSquare));
}

it('does not depend on the order of the rows, nor on the unit or the gaps of time', () => {
  fc.assert(
    fc.property(followUp(2), fc.boolean(), (data, stratified) => {
      const test = testGray(columnsOf(data, stratified));
      expectSame(testGray(columnsOf(reversed(data), stratified)), test);
      const stretched = { ...data, timeDays: data.timeDays.map((day) => day ** 2 + day / 7) };
      expect(testGray(columnsOf(stretched, stratified))).toEqual(test);
    }),
  );
});

it('does not depend on which group is called what, nor on how other causes are told apart', () => {
  fc.assert(
    fc.property(followUp(2), fc.boolean(), (data, stratified) => {
      const test = testGray(columnsOf(data, stratified), { groupCount: 3 });
      const turned = { ...data, group: data.group.map((g) => (g + 1) % 3) };
      expectSame(testGray(columnsOf(turned, stratified), { groupCount: 3 }), test);
      const split = { ...data, status: data.status.map((code, i) => (code === 2 ? 2 + (i % 2) : code)) };
      expect(testGray(columnsOf(split, stratified), { groupCount: 3 })).toEqual(test);
    }),
  );
});

const sumsToZero = ({ score, covariance }: GrayTest): void => {
  const size = score.length;
  expect(score.reduce((sum, value) => sum + value, 0)).toBeCloseTo(0, 9);
  for (let g = 0; g < size; g += 1) {
    const row = covariance.subarray(g * size, (g + 1) * size);
    const largest = Math.max(1, ...covariance.map(Math.abs));
    expect(row.reduce((sum, value) => sum + value, 0) / largest).toBeCloseTo(0, 9);
  }
};

it('has scores and rows of the covariance that sum to zero, and a p value in [0, 1]', () => {
  fc.assert(
    fc.property(followUp(2), fc.boolean(), fc.constantFrom(0, 1), (data, stratified, rho) => {
      const test = testGray(columnsOf(data, stratified), { rho });
      if (test.kind === 'notEstimable') return;
      sumsToZero(test);
      expect(test.pValue).toBeGreaterThanOrEqual(0);
      expect(test.pValue).toBeLessThanOrEqual(1);
    }),
  );
});

it('finds nothing between a group and its copy', () => {
  fc.assert(
    fc.property(followUp(2), (data) => {
      const twice = (column: readonly number[]): number[] => [...column, ...column];
      const group = [...data.group.map(() => 0), ...data.group.map(() => 1)];
      const test = testGray({ timeDays: twice(data.timeDays), status: twice(data.status), group });
      if (test.kind === 'tested') expect(test.chiSquare).toBeCloseTo(0, 12);
    }),
  );
});
