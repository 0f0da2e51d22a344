import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimatePoissonRate, estimateRateRatio, testPoissonRate, testRateRatio } from '@/lib/statistics';
import { estimable } from '../estimable';

const events = fc.integer({ min: 0, max: 40 });
const times = fc.double({ min: 0.01, max: 1000, noNaN: true });
const levels = fc.constantFrom(0.5, 0.9, 0.95, 0.99);
const arms = fc.record({ events, personTime: times });

/** Poisson probabilities of 0 to 300, each from the one before. */
function poisson(mean: number): number[] {
  const terms = [Math.exp(-mean)];
  for (let x = 1; x <= 300; x += 1) terms.push((terms[x - 1] * mean) / x);
  return terms;
}
const sum = (values: number[]): number => values.reduce((total, value) => total + value, 0);

it('exact limits leave just the tail wanted; all scale with the time and hold the rate', () => {
  fc.assert(
    fc.property(events, times, levels, (x, personTime, confidenceLevel) => {
      const tail = (1 - confidenceLevel) / 2;
      const exact = estimable(estimatePoissonRate(x, 1, { confidenceLevel }));
      expect(sum(poisson(exact.upper).slice(0, x + 1)) / tail).toBeCloseTo(1, 9);
      if (x > 0) expect((1 - sum(poisson(exact.lower).slice(0, x))) / tail).toBeCloseTo(1, 8);
      for (const limits of ['exact', 'byar', 'wald'] as const) {
        const one = estimable(estimatePoissonRate(x, 1, { limits, confidenceLevel }));
        const scaled = estimable(estimatePoissonRate(x, personTime, { limits, confidenceLevel }));
        expect(scaled.lower * personTime).toBeCloseTo(one.lower, 9);
        expect(scaled.upper * personTime).toBeCloseTo(one.upper, 9);
        expect(one.lower).toBeLessThanOrEqual(x);
        expect(one.upper).toBeGreaterThanOrEqual(x);
      }
    }),
  );
});

it('the test sums every count that is no more likely, and rejects where the exact limits exclude one-sidedly', () => {
  fc.assert(
    fc.property(events, fc.double({ min: 0.01, max: 60, noNaN: true }), (x, mean) => {
      const terms = poisson(mean);
      const found = estimable(testPoissonRate(x, 1, mean));
      expect(found.pValue).toBeCloseTo(sum(terms.filter((term) => term <= terms[x] * (1 + 1e-7))), 9);
      expect(found.pLess).toBeCloseTo(sum(terms.slice(0, x + 1)), 10);
      expect(found.pLess + found.pGreater).toBeCloseTo(1 + terms[x], 10);
      const { lower, upper } = estimable(estimatePoissonRate(x, 1));
      fc.pre(Math.abs(mean - lower) > 1e-6 && Math.abs(mean - upper) > 1e-6);
      expect(found.pGreater < 0.025).toBe(mean < lower);
      expect(found.pLess < 0.025).toBe(mean > upper);
    }),
  );
});

it('ratios invert when the groups change places, scale with the time, and agree with the test', () => {
  fc.assert(
    fc.property(arms, arms, levels, (first, second, confidenceLevel) => {
      fc.pre(first.events + second.events > 0);
      const here = estimable(estimateRateRatio(first, second, { confidenceLevel }));
      const there = estimable(estimateRateRatio(second, first, { confidenceLevel }));
      if (first.events > 0) expect(here.lower * there.upper).toBeCloseTo(1, 8);
      const test = estimable(testRateRatio(first, second));
      const turned = estimable(testRateRatio(second, first));
      expect(turned.pValue).toBeCloseTo(test.pValue, 9);
      expect(turned.pLess).toBeCloseTo(test.pGreater, 9);
      expect(test.pValue).toBeGreaterThanOrEqual(Math.min(test.pLess, test.pGreater) - 1e-12);
      const tail = (1 - confidenceLevel) / 2;
      fc.pre(Math.abs(test.pGreater - tail) > 1e-9 && Math.abs(test.pLess - tail) > 1e-9);
      expect(here.lower > 1).toBe(test.pGreater < tail);
      expect(here.upper < 1).toBe(test.pLess < tail);
    }),
  );
});
