import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type ColumnToImpute, imputeByChainedEquations, poolEstimates } from '@/lib/statistics';

const pooled = fc.array(
  fc.record({
    estimate: fc.double({ min: -5, max: 5, noNaN: true }),
    variance: fc.double({ min: 0.01, max: 4, noNaN: true }),
  }),
  { minLength: 2, maxLength: 20 },
);

it('pooling forgets the order of the sets, lies among them, and is never surer than they are', () => {
  fc.assert(
    fc.property(pooled, fc.double({ min: 2, max: 500, noNaN: true }), (sets, completeDegreesOfFreedom) => {
      const data = {
        estimates: sets.map(({ estimate }) => estimate),
        variances: sets.map(({ variance }) => variance),
      };
      const found = poolEstimates(data, { completeDegreesOfFreedom });
      const turned = poolEstimates(
        { estimates: data.estimates.toReversed(), variances: data.variances.toReversed() },
        { completeDegreesOfFreedom },
      );
      if (found.kind === 'notEstimable' || turned.kind === 'notEstimable') throw new Error('two sets');
      expect(turned.estimate).toBeCloseTo(found.estimate, 10);
      expect(turned.totalVariance).toBeCloseTo(found.totalVariance, 10);
      expect(found.estimate).toBeGreaterThanOrEqual(Math.min(...data.estimates) - 1e-9);
      expect(found.totalVariance).toBeGreaterThanOrEqual(found.withinVariance);
      expect(found.degreesOfFreedom).toBeLessThanOrEqual(completeDegreesOfFreedom);
      expect(found.lower <= found.estimate && found.estimate <= found.upper).toBe(true);
      const free = poolEstimates(data);
      if (free.kind === 'notEstimable') throw new Error('two sets');
      expect(free.degreesOfFreedom).toBeGreaterThanOrEqual(found.degreesOfFreedom - 1e-9);
    }),
  );
});

it('imputed sets keep what was observed and put in what was seen elsewhere', () => {
  const gap = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { freq: 4 });
  const rows = fc.array(
    fc.record({
      first: fc.integer({ min: -5, max: 5 }),
      level: gap(fc.integer({ min: 0, max: 40 })),
      mark: gap(fc.integer({ min: 0, max: 1 })),
      kind: gap(fc.integer({ min: 0, max: 3 })),
    }),
    { minLength: 3, maxLength: 25 },
  );
  fc.assert(
    fc.property(rows, fc.nat(), (list, seed) => {
      const columns: ColumnToImpute[] = [
        { kind: 'complete', values: list.map(({ first }) => first) },
        { kind: 'numeric', values: list.map(({ level }) => level) },
        { kind: 'binary', values: list.map(({ mark }) => mark) },
        { kind: 'categories', values: list.map(({ kind }) => kind) },
      ];
      const found = imputeByChainedEquations(columns, { imputations: 2, seed, iterations: 2 });
      const empty = columns.some(({ values }) => Array.from(values).every((value) => value === null));
      expect(found.kind).toBe(empty ? 'notEstimable' : 'imputed');
      if (found.kind === 'notEstimable') return;
      for (const set of found.sets) {
        for (const [j, { values, kind }] of columns.entries()) {
          const seen = new Set(Array.from(values).filter((value) => value !== null));
          const most = Math.max(...seen);
          for (const [i, value] of set[j].entries()) {
            const given = values[i];
            if (given !== null) expect(value).toBe(given);
            else if (kind === 'numeric') expect(seen.has(value)).toBe(true);
            else expect(Number.isInteger(value) && value >= 0 && value <= Math.max(most, 1)).toBe(true);
          }
        }
      }
    }),
    { numRuns: 50 },
  );
});
