import { expect, it } from 'vitest';
import { testBarnard, testBoschloo } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const arm = (events: number, n: number) => ({ events, n });

it('Barnard, 3 of 3 against none of 3: only this table and its mirror, 2 p^3 (1 - p)^3 at most 1/32', () => {
  const pooled = estimable(testBarnard(arm(3, 3), arm(0, 3)));
  expect(pooled.statistic).toBeCloseTo(Math.sqrt(6), 14);
  expect(pooled.pValue).toBeCloseTo(1 / 32, 14);
  const unpooled = estimable(testBarnard(arm(0, 3), arm(3, 3), { variance: 'unpooled' }));
  expect(unpooled.statistic).toBe(Number.NEGATIVE_INFINITY);
  expect(unpooled.pValue).toBeCloseTo(1 / 32, 14);
});

it('Barnard, 1 of 1 against none of 2: with T^2 = 3, (1, 0) and (0, 2) reach it', () => {
  // p (1 - p)^2 + (1 - p) p^2 = p (1 - p).
  const found = estimable(testBarnard(arm(1, 1), arm(0, 2)));
  expect(found.statistic).toBeCloseTo(Math.sqrt(3), 14);
  expect(found.pValue).toBeCloseTo(1 / 4, 14);
});

it('Barnard has nothing against equal proportions, whatever pi', () => {
  expect(testBarnard(arm(2, 4), arm(3, 6))).toEqual({ kind: 'tested', statistic: 0, pValue: 1 });
  expect(testBarnard(arm(0, 4), arm(0, 6))).toEqual({ kind: 'tested', statistic: 0, pValue: 1 });
});

it('Barnard takes in what is tied: 7 of 12 against 2 of 13 has partners in the last bit', () => {
  // Without a tolerance for rounding the tied table drops out and 0.02975 remains.
  expect(estimable(testBarnard(arm(7, 12), arm(2, 13))).pValue).toBeCloseTo(0.0297732837751, 12);
});

it('Boschloo, 1 of 1 against none of 1: p (1 - p), at most 1/4; the other side is certain', () => {
  const found = estimable(testBoschloo(arm(1, 1), arm(0, 1)));
  expect(found.pGreater).toBeCloseTo(1 / 4, 14);
  expect(found.pLess).toBe(1);
  expect(found.pValue).toBeCloseTo(1 / 2, 14);
  const turned = estimable(testBoschloo(arm(0, 1), arm(1, 1)));
  expect(turned.pLess).toBeCloseTo(1 / 4, 14);
});

it('needs cases in both arms, and counts', () => {
  for (const run of [testBarnard, testBoschloo]) {
    expect(run(arm(0, 0), arm(1, 2))).toMatchObject({ kind: 'notEstimable', code: 'emptyArm' });
    expect(run(arm(1, 2), arm(0, 0))).toMatchObject({ kind: 'notEstimable', code: 'emptyArm' });
    expectMistake(() => run(arm(3, 2), arm(0, 1)), 'outOfRange', 'first.events');
    expectMistake(() => run(arm(1, 2), arm(0.5, 1)), 'notInteger', 'second.events');
  }
});
