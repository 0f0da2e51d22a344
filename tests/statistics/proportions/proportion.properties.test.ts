import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateProportion, estimateZeroEventLimits, type ProportionLimits } from '@/lib/statistics';
import { estimable } from '../estimable';

const counts = fc
  .integer({ min: 1, max: 300 })
  .chain((n) => fc.record({ n: fc.constant(n), events: fc.integer({ min: 0, max: n }) }));
const levels = fc.constantFrom(0.5, 0.8, 0.95, 0.999);
const METHODS: readonly ProportionLimits[] = [
  'wilson',
  'wilsonCorrected',
  'clopperPearson',
  'midP',
  'jeffreys',
  'agrestiCoull',
  'wald',
];

/** P(X >= x) by adding up every term, from the end that is not too rare for a double. */
function upperTail(x: number, n: number, p: number): number {
  let sum = 0;
  let term = p < 0.5 ? (1 - p) ** n : p ** n;
  for (let step = 0; step <= n; step += 1) {
    const k = p < 0.5 ? step : n - step;
    if (k >= x) sum += term;
    term *= p < 0.5 ? ((n - k) / (k + 1)) * (p / (1 - p)) : (k / (n - k + 1)) * ((1 - p) / p);
  }
  return sum;
}

it('mirror images for events and non-events, around the proportion, wider at a higher level', () => {
  fc.assert(
    fc.property(counts, levels, fc.constantFrom(...METHODS), ({ events, n }, confidenceLevel, limits) => {
      const here = estimable(estimateProportion(events, n, { limits, confidenceLevel }));
      const there = estimable(estimateProportion(n - events, n, { limits, confidenceLevel }));
      expect(here.lower).toBeCloseTo(1 - there.upper, 12);
      expect(here.upper).toBeCloseTo(1 - there.lower, 12);
      // Agresti and Coull, and Jeffreys at low levels, centre elsewhere.
      if (limits !== 'agrestiCoull' && limits !== 'jeffreys') {
        expect(here.lower).toBeLessThanOrEqual(events / n);
        expect(here.upper).toBeGreaterThanOrEqual(events / n);
      }
      // Nor is theirs at one level within theirs at another.
      if (limits === 'agrestiCoull') return;
      const wide = estimable(estimateProportion(events, n, { limits, confidenceLevel: 0.9999 }));
      expect(wide.lower).toBeLessThanOrEqual(here.lower + 1e-12);
      expect(wide.upper).toBeGreaterThanOrEqual(here.upper - 1e-12);
    }),
  );
});

it('exact limits leave just the tail wanted; mid-P and Jeffreys lie within them', () => {
  fc.assert(
    fc.property(counts, levels, ({ events, n }, confidenceLevel) => {
      const exact = estimable(estimateProportion(events, n, { limits: 'clopperPearson', confidenceLevel }));
      const tail = (1 - confidenceLevel) / 2;
      if (events > 0) expect(upperTail(events, n, exact.lower) / tail).toBeCloseTo(1, 9);
      if (events < n) expect(upperTail(n - events, n, 1 - exact.upper) / tail).toBeCloseTo(1, 9);
      const half = estimable(estimateProportion(events, n, { limits: 'midP', confidenceLevel }));
      if (events > 0) {
        const mid = (upperTail(events, n, half.lower) + upperTail(events + 1, n, half.lower)) / 2;
        expect(mid / tail).toBeCloseTo(1, 9);
      }
      for (const limits of ['midP', 'jeffreys'] as const) {
        const inner = estimable(estimateProportion(events, n, { limits, confidenceLevel }));
        expect(inner.lower).toBeGreaterThanOrEqual(exact.lower - 1e-12);
        expect(inner.upper).toBeLessThanOrEqual(exact.upper + 1e-12);
      }
    }),
  );
});

it('zero events: every limit falls with n; the exact ones agree with Clopper and Pearson', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 5000 }), levels, (n, confidenceLevel) => {
      const here = estimable(estimateZeroEventLimits(n, { confidenceLevel }));
      const more = estimable(estimateZeroEventLimits(n + 1, { confidenceLevel }));
      for (const key of ['exactOneSided', 'exactTwoSidedUpper', 'poissonOneSided', 'wilsonUpper'] as const) {
        expect(more[key]).toBeLessThan(here[key]);
      }
      expect(here.exactOneSided).toBeLessThan(here.exactTwoSidedUpper);
      expect(here.exactOneSided).toBeLessThan(here.poissonOneSided);
      const exact = estimable(estimateProportion(0, n, { limits: 'clopperPearson', confidenceLevel }));
      expect(here.exactTwoSidedUpper / exact.upper).toBeCloseTo(1, 11);
    }),
  );
});
