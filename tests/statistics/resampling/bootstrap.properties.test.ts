import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  deriveBootstrapLimits,
  estimateByBootstrap,
  estimateKaplanMeier,
  estimateSurvivalByBootstrap,
  survivalAt,
} from '@/lib/statistics';

const values = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 2, maxLength: 12 });
const seed = fc.nat();

it('limits enclose the middle of the replicates and widen with the level', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: -99, max: 99 }), { minLength: 19, maxLength: 60 }),
      (replicates) => {
        const of = (confidenceLevel: number) =>
          deriveBootstrapLimits({ estimate: 0, replicates }, { confidenceLevel });
        const [narrow, wide] = [of(0.5), of(0.9)];
        if (narrow.kind === 'notEstimable' || wide.kind === 'notEstimable') return;
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower);
        expect(wide.upper).toBeGreaterThanOrEqual(narrow.upper);
        expect(narrow.lower).toBeLessThanOrEqual(narrow.upper);
        expect(wide.lower).toBeGreaterThanOrEqual(Math.min(...replicates));
      },
    ),
  );
});

it('follow the scale of the statistic, and are repeated by the seed', () => {
  fc.assert(
    fc.property(values, seed, (column, number) => {
      const run = (scale: number, shift: number) =>
        estimateByBootstrap(
          { rows: column.length },
          (rows) => scale * (rows.reduce((sum, row) => sum + column[row], 0) / rows.length) + shift,
          { seed: number, replicates: 39, limits: 'bca', confidenceLevel: 0.6 },
        );
      const [one, again, other] = [run(1, 0), run(1, 0), run(4, 3)];
      expect(again).toEqual(one);
      if (one.kind === 'notEstimable' || other.kind === 'notEstimable') throw new Error('has values');
      expect(other.estimate).toBeCloseTo(4 * one.estimate + 3, 10);
      expect(other.mean).toBeCloseTo(4 * one.mean + 3, 10);
      expect(other.standardError).toBeCloseTo(4 * one.standardError, 10);
    }),
    { numRuns: 60 },
  );
});

it('clusters of one row each are rows, and one stratum is none', () => {
  fc.assert(
    fc.property(values, seed, (column, number) => {
      const mean = (rows: Int32Array): number =>
        rows.reduce((sum, row) => sum + column[row], 0) / rows.length;
      const options = { seed: number, replicates: 20, confidenceLevel: 0.5 };
      const plain = estimateByBootstrap({ rows: column.length }, mean, options);
      const dressed = estimateByBootstrap(
        {
          rows: column.length,
          strata: column.map(() => 3),
          cluster: column.map((_, i) => 100 - i),
        },
        mean,
        options,
      );
      expect(dressed).toEqual(plain);
    }),
    { numRuns: 40 },
  );
});

it('survival values are those of the curve, and replicates stay between 0 and 1 and fall with time', () => {
  const rows = fc.array(
    fc.record({ time: fc.integer({ min: 0, max: 15 }), event: fc.integer({ min: 0, max: 1 }) }),
    { minLength: 2, maxLength: 60 },
  );
  fc.assert(
    fc.property(rows, seed, (list, number) => {
      const data = { timeDays: list.map(({ time }) => time), event: list.map(({ event }) => event) };
      const times = [2, 7, 15];
      const curve = survivalAt(estimateKaplanMeier(data), times);
      const found = estimateSurvivalByBootstrap(data, times, { seed: number, replicates: 25 });
      for (const [k, one] of found.entries()) {
        const point = curve[k];
        if (one.kind === 'notEstimable' || point.kind === 'notEstimable') throw new Error('has rows');
        expect(one.survival).toBeCloseTo(point.survival, 12);
        const before = found[Math.max(0, k - 1)];
        if (before.kind === 'notEstimable') throw new Error('has rows');
        for (const [b, value] of one.replicates.entries()) {
          expect(value >= 0 && value <= before.replicates[b]).toBe(true);
        }
      }
    }),
    { numRuns: 60 },
  );
});
