import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateWilsonInterval } from '@/lib/statistics';

const counts = fc
  .integer({ min: 1, max: 100_000 })
  .chain((n) => fc.record({ n: fc.constant(n), events: fc.integer({ min: 0, max: n }) }));

function interval(events: number, n: number, confidenceLevel = 0.95): { lower: number; upper: number } {
  const result = estimateWilsonInterval(events, n, { confidenceLevel });
  if (result.kind !== 'estimated') throw new Error(result.reason);
  return result;
}

it('holds the proportion, within 0 and 1', () => {
  fc.assert(
    fc.property(counts, ({ events, n }) => {
      const { lower, upper } = interval(events, n);
      expect(lower).toBeGreaterThanOrEqual(0);
      expect(lower).toBeLessThanOrEqual(events / n);
      expect(upper).toBeGreaterThanOrEqual(events / n);
      expect(upper).toBeLessThanOrEqual(1);
      expect(upper).toBeGreaterThan(lower);
    }),
  );
});

it('mirrors when events and non-events change places', () => {
  fc.assert(
    fc.property(counts, ({ events, n }) => {
      const here = interval(events, n);
      const there = interval(n - events, n);
      expect(here.lower).toBeCloseTo(1 - there.upper, 13);
      expect(here.upper).toBeCloseTo(1 - there.lower, 13);
    }),
  );
});

it('widens with the level and narrows with the number of cases', () => {
  fc.assert(
    fc.property(counts, ({ events, n }) => {
      const usual = interval(events, n);
      const wider = interval(events, n, 0.99);
      const narrower = interval(10 * events, 10 * n);
      expect(wider.upper - wider.lower).toBeGreaterThan(usual.upper - usual.lower);
      expect(narrower.upper - narrower.lower).toBeLessThan(usual.upper - usual.lower);
    }),
  );
});
