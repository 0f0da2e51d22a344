import { describe, expect, it } from 'vitest';
import { estimatePoissonRate, estimateRateRatio, testPoissonRate, testRateRatio } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const Z = 1.959963984540054;
const arm = (events: number, personTime: number) => ({ events, personTime });

describe('a rate', () => {
  it('without events in 100: at most -log(0.025)/100, at least 0', () => {
    const found = estimable(estimatePoissonRate(0, 100));
    expect(found).toMatchObject({ rate: 0, lower: 0, limits: 'exact' });
    expect(found.upper).toBeCloseTo(-Math.log(0.025) / 100, 14);
  });

  it('with one event: exp(-m) = 0.975 below, (1 + m) exp(-m) = 0.025 above', () => {
    const found = estimable(estimatePoissonRate(1, 1));
    expect(found.lower).toBeCloseTo(-Math.log(0.975), 14);
    expect((1 + found.upper) * Math.exp(-found.upper)).toBeCloseTo(0.025, 14);
  });

  it('by Byar: 4 (1 - 1/36 - z/6)^3 and 5 (1 - 1/45 + z/(3 root 5))^3', () => {
    const found = estimable(estimatePoissonRate(4, 2, { limits: 'byar' }));
    expect(found.lower).toBeCloseTo((4 * (1 - 1 / 36 - Z / 6) ** 3) / 2, 13);
    expect(found.upper).toBeCloseTo((5 * (1 - 1 / 45 + Z / (3 * Math.sqrt(5))) ** 3) / 2, 13);
    expect(estimatePoissonRate(0, 2, { limits: 'byar' })).toMatchObject({ lower: 0 });
    // At 99.9 % the cube of one event is negative: a rate is not.
    expect(estimatePoissonRate(1, 2, { limits: 'byar', confidenceLevel: 0.999 })).toMatchObject({ lower: 0 });
  });

  it('plain: 9 -+ 3 z', () => {
    const found = estimable(estimatePoissonRate(9, 10, { limits: 'wald' }));
    expect(found.lower).toBeCloseTo((9 - 3 * Z) / 10, 14);
    expect(found.upper).toBeCloseTo((9 + 3 * Z) / 10, 14);
  });
});

describe('a rate against a given one', () => {
  it('sums the counts no more likely: 2 events where 1 is expected, so 2 and more', () => {
    const found = estimable(testPoissonRate(2, 10, 0.1));
    expect(found.pValue).toBeCloseTo(1 - 2 / Math.E, 14);
    expect(found.pGreater).toBeCloseTo(1 - 2 / Math.E, 14);
    expect(found.pLess).toBeCloseTo(2.5 / Math.E, 14);
  });

  it('looks on both sides: none where 2 are expected, so none and from 4 on', () => {
    const found = estimable(testPoissonRate(0, 1, 2));
    expect(found.pValue).toBeCloseTo(Math.exp(-2) + 1 - Math.exp(-2) * (1 + 2 + 2 + 4 / 3), 14);
  });

  it('has nothing against ties: none where 1 is expected is as likely as 1', () => {
    expect(estimable(testPoissonRate(0, 1, 1)).pValue).toBeCloseTo(1, 14);
    expect(estimable(testPoissonRate(3, 1, 3)).pValue).toBe(1);
  });

  it('at rate 0 allows no event', () => {
    expect(testPoissonRate(0, 5, 0)).toEqual({ kind: 'tested', pValue: 1, pLess: 1, pGreater: 1 });
    expect(testPoissonRate(1, 5, 0)).toEqual({ kind: 'tested', pValue: 0, pLess: 1, pGreater: 0 });
  });
});

describe('two rates', () => {
  it('3 events against none in equal times: the share is at least 0.025^(1/3)', () => {
    const found = estimable(estimateRateRatio(arm(3, 50), arm(0, 50)));
    const share = 0.025 ** (1 / 3);
    expect(found).toMatchObject({ ratio: Number.POSITIVE_INFINITY, upper: Number.POSITIVE_INFINITY });
    expect(found.lower).toBeCloseTo(share / (1 - share), 13);
    const test = estimable(testRateRatio(arm(3, 50), arm(0, 50)));
    expect(test.pValue).toBeCloseTo(2 / 8, 14);
    expect(test.pGreater).toBeCloseTo(1 / 8, 14);
    expect(test.pLess).toBe(1);
    const turned = estimable(estimateRateRatio(arm(0, 50), arm(3, 50)));
    expect(turned).toMatchObject({ ratio: 0, lower: 0 });
    expect(turned.upper * found.lower).toBeCloseTo(1, 12);
  });

  it('divides by the times: 2 in 10 against 1 in 20 is 4, a share of 1/3 expected', () => {
    const found = estimable(estimateRateRatio(arm(2, 10), arm(1, 20), { limits: 'wald' }));
    const factor = Math.exp(Z * Math.sqrt(1.5));
    expect(found.ratio).toBeCloseTo(4, 14);
    expect(found.lower).toBeCloseTo(4 / factor, 13);
    expect(found.upper).toBeCloseTo(4 * factor, 11);
    // Of three events with chance 1/3 each: 0 8/27, 1 12/27, 2 6/27, 3 1/27.
    const test = estimable(testRateRatio(arm(2, 10), arm(1, 20)));
    expect(test.pValue).toBeCloseTo(7 / 27, 14);
    expect(estimable(testRateRatio(arm(0, 10), arm(3, 20))).pValue).toBeCloseTo(15 / 27, 14);
  });
});

it('needs time, for ratios an event, for plain ratios two', () => {
  expect(estimatePoissonRate(0, 0)).toMatchObject({ kind: 'notEstimable', code: 'noPersonTime' });
  expect(testPoissonRate(0, 0, 1)).toMatchObject({ kind: 'notEstimable', code: 'noPersonTime' });
  for (const run of [estimateRateRatio, testRateRatio]) {
    expect(run(arm(1, 0), arm(1, 2))).toMatchObject({ code: 'noPersonTime' });
    expect(run(arm(1, 2), arm(1, 0))).toMatchObject({ code: 'noPersonTime' });
    expect(run(arm(0, 1), arm(0, 2))).toMatchObject({ code: 'noEvents' });
  }
  expect(estimateRateRatio(arm(0, 1), arm(5, 2), { limits: 'wald' })).toMatchObject({ code: 'emptyCell' });
  expect(estimateRateRatio(arm(5, 1), arm(0, 2), { limits: 'wald' })).toMatchObject({ code: 'emptyCell' });
});

it('names mistakes', () => {
  expectMistake(() => estimatePoissonRate(1.5, 2), 'notInteger', 'events');
  expectMistake(() => estimatePoissonRate(1, -2), 'negative', 'personTime');
  expectMistake(() => estimatePoissonRate(1, Number.NaN), 'notFinite', 'personTime');
  expectMistake(() => estimatePoissonRate(1, 2, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
  expectMistake(() => testPoissonRate(-1, 2, 1), 'negative', 'events');
  expectMistake(() => testPoissonRate(1, -2, 1), 'negative', 'personTime');
  expectMistake(() => testPoissonRate(1, 2, -1), 'negative', 'rate');
  expectMistake(() => testPoissonRate(1, 2, Number.POSITIVE_INFINITY), 'notFinite', 'rate');
  expectMistake(() => testPoissonRate(5, 2, 0.6e15), 'outOfRange', 'rate');
  for (const run of [estimateRateRatio, testRateRatio]) {
    expectMistake(() => run(arm(-1, 1), arm(1, 1)), 'negative', 'first.events');
    expectMistake(() => run(arm(1, -1), arm(1, 1)), 'negative', 'first.personTime');
    expectMistake(() => run(arm(1, 1), arm(0.5, 1)), 'notInteger', 'second.events');
    expectMistake(() => run(arm(1, 1), arm(1, Number.NaN)), 'notFinite', 'second.personTime');
  }
  expectMistake(
    () => estimateRateRatio(arm(1, 1), arm(1, 1), { confidenceLevel: 0 }),
    'outOfRange',
    'confidenceLevel',
  );
});
