import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateMantelHaenszel,
  estimateOddsRatio,
  estimateRiskRatio,
  type StratifiedArms,
  testBreslowDay,
  testCochranMantelHaenszel,
  testStratumHeterogeneity,
} from '@/lib/statistics';
import { estimable } from '../estimable';

type Row = { readonly a: number; readonly b: number; readonly c: number; readonly d: number };
const cell = fc.integer({ min: 1, max: 60 });
const row = fc.record({ a: cell, b: cell, c: cell, d: cell });
const strata = fc.array(row, { minLength: 2, maxLength: 6 });

function columns(rows: readonly Row[]): StratifiedArms {
  return {
    firstEvents: rows.map(({ a }) => a),
    firstN: rows.map(({ a, b }) => a + b),
    secondEvents: rows.map(({ c }) => c),
    secondN: rows.map(({ c, d }) => c + d),
  };
}

const MEASURES = ['oddsRatio', 'riskRatio', 'riskDifference'] as const;

it('one stratum is its own table; copies of it change the estimate by nothing', () => {
  fc.assert(
    fc.property(row, fc.integer({ min: 1, max: 5 }), (table, copies) => {
      const rows = columns(Array.from({ length: copies }, () => table));
      const first = { events: table.a, n: table.a + table.b };
      const second = { events: table.c, n: table.c + table.d };
      const odds = estimable(estimateMantelHaenszel(rows));
      const woolf = estimable(estimateOddsRatio(first, second, { limits: 'woolf' }));
      expect(odds.estimate / woolf.ratio).toBeCloseTo(1, 10);
      const risks = estimable(estimateMantelHaenszel(rows, { measure: 'riskRatio' }));
      const katz = estimable(estimateRiskRatio(first, second, { limits: 'katz' }));
      expect(risks.estimate / katz.ratio).toBeCloseTo(1, 10);
      if (copies === 1) expect(risks.upper / katz.upper).toBeCloseTo(1, 9);
      const even = estimable(testBreslowDay(columns([table, table])));
      expect(even.chiSquare).toBeCloseTo(0, 8);
    }),
  );
});

it('strata may stand in any order; arms that change places turn ratios over and differences round', () => {
  fc.assert(
    fc.property(strata, (rows) => {
      const turned = columns(rows.toReversed());
      const swapped = columns(rows.map(({ a, b, c, d }) => ({ a: c, b: d, c: a, d: b })));
      for (const measure of MEASURES) {
        const here = estimable(estimateMantelHaenszel(columns(rows), { measure }));
        const there = estimable(estimateMantelHaenszel(swapped, { measure }));
        const again = estimable(estimateMantelHaenszel(turned, { measure }));
        expect(again.estimate).toBeCloseTo(here.estimate, 10);
        expect(there.standardError).toBeCloseTo(here.standardError, 10);
        if (measure === 'riskDifference') expect(there.estimate).toBeCloseTo(-here.estimate, 12);
        else expect(there.estimate * here.estimate).toBeCloseTo(1, 10);
        const spread = estimable(testStratumHeterogeneity(columns(rows), { measure }));
        expect(estimable(testStratumHeterogeneity(swapped, { measure })).q).toBeCloseTo(spread.q, 8);
        expect(spread.iSquared).toBeLessThan(1);
      }
      const test = estimable(testCochranMantelHaenszel(columns(rows)));
      expect(estimable(testCochranMantelHaenszel(swapped)).chiSquare).toBeCloseTo(test.chiSquare, 9);
      const day = estimable(testBreslowDay(columns(rows)));
      expect(estimable(testBreslowDay(swapped)).chiSquare).toBeCloseTo(day.chiSquare, 7);
      expect(day.taroneChiSquare).toBeLessThanOrEqual(day.chiSquare);
    }),
  );
});
