import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  type ArmCount,
  estimateOddsRatio,
  estimateRiskDifference,
  estimateRiskRatio,
  testFisherExact,
  testFisherExactTable,
  testPearsonChiSquare,
} from '@/lib/statistics';
import { estimable } from '../estimable';

const arms = fc
  .integer({ min: 1, max: 60 })
  .chain((n) => fc.record({ n: fc.constant(n), events: fc.integer({ min: 0, max: n }) }));
const levels = fc.constantFrom(0.8, 0.9, 0.95, 0.99);
const others = ({ events, n }: ArmCount): ArmCount => ({ events: n - events, n });
const table = (first: ArmCount, second: ArmCount): number[][] =>
  [first, second].map(({ events, n }) => [events, n - events]);

const DIFFERENCES = [
  'newcombe',
  'newcombeCorrected',
  'miettinenNurminen',
  'mee',
  'agrestiCaffo',
  'wald',
] as const;

it('difference: turned round by the arms and by the outcome, around the value, wider at a higher level', () => {
  fc.assert(
    fc.property(
      arms,
      arms,
      levels,
      fc.constantFrom(...DIFFERENCES),
      (first, second, confidenceLevel, limits) => {
        const here = estimable(estimateRiskDifference(first, second, { limits, confidenceLevel }));
        const arm = estimable(estimateRiskDifference(second, first, { limits, confidenceLevel }));
        const outcome = estimable(
          estimateRiskDifference(others(first), others(second), { limits, confidenceLevel }),
        );
        for (const there of [arm, outcome]) {
          expect(there.lower).toBeCloseTo(-here.upper, 11);
          expect(there.upper).toBeCloseTo(-here.lower, 11);
        }
        if (limits !== 'agrestiCaffo') {
          expect(here.lower).toBeLessThanOrEqual(here.difference + 1e-12);
          expect(here.upper).toBeGreaterThanOrEqual(here.difference - 1e-12);
        }
        if (limits !== 'agrestiCaffo' && limits !== 'wald') {
          expect(here.lower).toBeGreaterThanOrEqual(-1 - 1e-12);
          expect(here.upper).toBeLessThanOrEqual(1 + 1e-12);
        }
        const wide = estimable(estimateRiskDifference(first, second, { limits, confidenceLevel: 0.999 }));
        expect(wide.lower).toBeLessThanOrEqual(here.lower + 1e-12);
        expect(wide.upper).toBeGreaterThanOrEqual(here.upper - 1e-12);
      },
    ),
  );
});

it('score limits of the difference exclude 0, and of the ratio 1, just when the chi-square passes z^2', () => {
  fc.assert(
    fc.property(arms, arms, (first, second) => {
      const test = testPearsonChiSquare(table(first, second));
      fc.pre(test.kind === 'tested' && Math.abs(test.chiSquare - 3.841458820694124) > 1e-6);
      fc.pre(first.events + second.events > 0);
      const rejected = test.chiSquare > 3.841458820694124;
      const difference = estimable(estimateRiskDifference(first, second, { limits: 'mee' }));
      expect(difference.lower > 0 || difference.upper < 0).toBe(rejected);
      const ratio = estimable(estimateRiskRatio(first, second));
      expect(ratio.lower > 1 || ratio.upper < 1).toBe(rejected);
    }),
  );
});

it('ratios: inverted by the arms, around the value; the odds ratio inverted by the outcome too', () => {
  fc.assert(
    fc.property(arms, arms, levels, (first, second, confidenceLevel) => {
      fc.pre(first.events > 0 && second.events > 0);
      for (const limits of ['koopman', 'miettinenNurminen', 'katz'] as const) {
        const here = estimable(estimateRiskRatio(first, second, { limits, confidenceLevel }));
        const there = estimable(estimateRiskRatio(second, first, { limits, confidenceLevel }));
        expect(here.lower * there.upper).toBeCloseTo(1, 8);
        expect(here.lower).toBeLessThanOrEqual(here.ratio * (1 + 1e-9));
        expect(here.upper).toBeGreaterThanOrEqual(here.ratio * (1 - 1e-9));
      }
      fc.pre(first.events < first.n && second.events < second.n);
      for (const limits of ['conditional', 'woolf', 'haldaneAnscombe'] as const) {
        const here = estimable(estimateOddsRatio(first, second, { limits, confidenceLevel }));
        const arm = estimable(estimateOddsRatio(second, first, { limits, confidenceLevel }));
        const outcome = estimable(
          estimateOddsRatio(others(first), others(second), { limits, confidenceLevel }),
        );
        for (const there of [arm, outcome]) {
          expect(here.ratio * there.ratio).toBeCloseTo(1, 8);
          expect(here.lower * there.upper).toBeCloseTo(1, 8);
        }
        expect(here.lower).toBeLessThan(here.ratio);
        expect(here.upper).toBeGreaterThan(here.ratio);
      }
    }),
  );
});

it("Fisher: the r x c count gives the two-arm test; one-sided p values are the conditional limits' tails", () => {
  fc.assert(
    fc.property(arms, arms, (first, second) => {
      const here = estimable(testFisherExact(first, second));
      const there = estimable(testFisherExact(second, first));
      expect(there.pValue).toBeCloseTo(here.pValue, 11);
      expect(there.pLess).toBeCloseTo(here.pGreater, 11);
      expect(estimable(testFisherExactTable(table(first, second))).pValue).toBeCloseTo(here.pValue, 10);
      fc.pre(here.pLess < 0.4 && here.pLess > 1e-6);
      // At a level that leaves just pLess in the tail, the upper limit of the odds ratio is 1.
      const ratio = estimateOddsRatio(first, second, { confidenceLevel: 1 - 2 * here.pLess });
      if (ratio.kind === 'estimated') expect(ratio.upper).toBeCloseTo(1, 7);
    }),
  );
});
