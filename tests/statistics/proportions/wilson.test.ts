import { expect, it } from 'vitest';
import { estimateWilsonInterval } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

it('solves the score equation: at each limit the distance is z standard errors of that limit', () => {
  const interval = estimateWilsonInterval(15, 148);
  if (interval.kind !== 'estimated') throw new Error('expected an interval');
  expect(interval.proportion).toBe(15 / 148);
  for (const limit of [interval.lower, interval.upper]) {
    const z = (15 / 148 - limit) / Math.sqrt((limit * (1 - limit)) / 148);
    expect(Math.abs(z)).toBeCloseTo(1.959963984540054, 12);
  }
});

it('gives zero events an upper limit above zero: z^2 / (n + z^2)', () => {
  const zz = 1.959963984540054 ** 2;
  expect(estimateWilsonInterval(0, 250)).toMatchObject({ proportion: 0, lower: 0 });
  const none = estimateWilsonInterval(0, 250);
  const all = estimateWilsonInterval(250, 250);
  if (none.kind !== 'estimated' || all.kind !== 'estimated') throw new Error('expected intervals');
  expect(none.upper).toBeCloseTo(zz / (250 + zz), 15);
  expect(all).toMatchObject({ proportion: 1, upper: 1 });
  expect(all.lower).toBeCloseTo(250 / (250 + zz), 15);
});

it('has nothing to say about no cases', () => {
  expect(estimateWilsonInterval(0, 0)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
});

it('refuses counts that are none and levels that are none', () => {
  expectMistake(() => estimateWilsonInterval(5, 4), 'outOfRange', 'events');
  expectMistake(() => estimateWilsonInterval(-1, 4), 'negative', 'events');
  expectMistake(() => estimateWilsonInterval(1.5, 4), 'notInteger', 'events');
  expectMistake(() => estimateWilsonInterval(1, Number.NaN), 'notFinite', 'n');
  for (const confidenceLevel of [0, 1, 95, Number.NaN]) {
    expectMistake(() => estimateWilsonInterval(1, 4, { confidenceLevel }), 'outOfRange', 'confidenceLevel');
  }
});
