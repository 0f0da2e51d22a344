import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  deriveCusumAlarmChance,
  deriveCusumDetectableChange,
  deriveDetectableRise,
  deriveRateDraws,
  testAlarmCount,
} from '@/lib/statistics';
import { estimable } from '../estimable';

/** P(X >= from) of a binomial count, term by term. */
function upperTail(from: number, n: number, p: number): number {
  let term = (1 - p) ** n;
  let sum = from === 0 ? term : 0;
  for (let x = 1; x <= n; x += 1) {
    term *= ((n - x + 1) / x) * (p / (1 - p));
    if (x >= from) sum += term;
  }
  return sum;
}

it('the critical count is the smallest rare enough, and the rate gives just the power', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 200 }),
      fc.double({ min: 0.005, max: 0.5, noNaN: true }),
      fc.constantFrom(0.5, 0.8, 0.95),
      fc.constantFrom(0.01, 0.05),
      (n, baselineRate, power, significanceLevel) => {
        const found = deriveDetectableRise({ n, baselineRate, power, significanceLevel });
        if (found.kind === 'notEstimable') {
          expect(baselineRate ** n).toBeGreaterThan(significanceLevel * (1 - 1e-9));
          return;
        }
        const { criticalEvents, attainedLevel, rate, riskRatio } = found;
        expect(attainedLevel).toBeLessThanOrEqual(significanceLevel * (1 + 1e-9));
        expect(upperTail(criticalEvents, n, baselineRate)).toBeCloseTo(attainedLevel, 10);
        expect(upperTail(criticalEvents - 1, n, baselineRate)).toBeGreaterThan(significanceLevel - 1e-9);
        expect(upperTail(criticalEvents, n, rate)).toBeCloseTo(power, 8);
        expect(riskRatio).toBeGreaterThan(1);
      },
    ),
  );
});

it('a CUSUM finds the change it names, and with more cases a smaller one', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.05, max: 0.4, noNaN: true }), { minLength: 1, maxLength: 4 }),
      fc.integer({ min: 15, max: 40 }),
      (probability, cases) => {
        const chart = { oddsRatio: 2, threshold: 2.5 };
        const options = { cells: 30, power: 0.7 };
        const found = deriveCusumDetectableChange({ probability }, chart, cases, options);
        fc.pre(found.kind === 'derived');
        const { trueOddsRatio, falseAlarmChance } = estimable(found);
        const at = { ...chart, trueOddsRatio };
        const { chance } = estimable(deriveCusumAlarmChance({ probability }, at, cases, { cells: 30 }));
        expect(chance).toBeCloseTo(0.7, 5);
        expect(falseAlarmChance).toBeLessThan(0.7);
        const later = deriveCusumDetectableChange({ probability }, chart, cases + 5, options);
        if (later.kind === 'derived') expect(later.trueOddsRatio).toBeLessThan(trueOddsRatio * 1.0001);
      },
    ),
    { numRuns: 20 },
  );
});

it('the interval of alarms widens with the level, holds the mean and scales with cases over run length', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 100_000 }),
      fc.double({ min: 20, max: 5000, noNaN: true }),
      (cases, runLength) => {
        const of = (confidenceLevel: number) =>
          estimable(testAlarmCount(1, cases, runLength, { confidenceLevel }));
        const wide = of(0.99);
        const narrow = of(0.9);
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower);
        expect(wide.upper).toBeGreaterThanOrEqual(narrow.upper);
        expect(wide.lower).toBeLessThanOrEqual(wide.expected);
        expect(wide.upper).toBeGreaterThan(wide.expected - 1);
        expect(wide.asExpected).toBe(wide.lower <= 1 && 1 <= wide.upper);
      },
    ),
  );
});

it('draws of a rate rise, mirror when the outcome is turned, and average to the posterior mean', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 60 }).chain((n) => fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n))),
      ([events, n]) => {
        const draws = deriveRateDraws(events, n, 200);
        const turned = deriveRateDraws(n - events, n, 200);
        draws.forEach((draw, i) => {
          if (i > 0) expect(draw).toBeGreaterThan(draws[i - 1]);
          expect(turned[199 - i]).toBeCloseTo(1 - draw, 9);
        });
        const mean = draws.reduce((sum, draw) => sum + draw, 0) / 200;
        expect(Math.abs(mean - (events + 0.5) / (n + 1))).toBeLessThan(0.005);
      },
    ),
    { numRuns: 40 },
  );
});
