import { expect, it } from 'vitest';
import { z } from 'zod';
import { estimatePoissonRate, estimateRateRatio, testPoissonRate, testRateRatio } from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

it.each(keptCases('poisson_rate'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(keptCases('poisson_rate_ratio'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it('prints the limits of Garwood, Biometrika 1936;28:437', () => {
  const { data, printed } = loadReference(
    'pub-garwood',
    z.object({
      data: z.object({ x: z.array(z.number()) }),
      printed: z.object({ values: z.record(z.string(), z.number()) }),
    }),
  );
  for (const x of data.x) {
    const { lower, upper } = estimable(estimatePoissonRate(x, 1));
    expect([Number(lower.toFixed(2)), Number(upper.toFixed(2))]).toEqual([
      printed.values[`lo${x}`],
      printed.values[`up${x}`],
    ]);
  }
});

it('agrees with poisson.test of R against many rates, on both sides of the mean', () => {
  const { against, ratios } = loadReference(
    'poisson-tests',
    z.object({
      against: z.array(
        z.object({
          x: z.number(),
          time: z.number(),
          rate: z.number(),
          p: z.number(),
          less: z.number(),
          greater: z.number(),
        }),
      ),
      ratios: z.array(
        z.object({
          x: z.tuple([z.number(), z.number()]),
          time: z.tuple([z.number(), z.number()]),
          p: z.number(),
          lower: z.number(),
          upper: z.union([z.number(), z.literal('Inf')]),
        }),
      ),
    }),
  );
  const close = (got: number, want: number): void =>
    expect(Math.abs(got - want)).toBeLessThanOrEqual(1e-10 * want);
  for (const { x, time, rate, p, less, greater } of against) {
    const test = estimable(testPoissonRate(x, time, rate));
    close(test.pValue, p);
    close(test.pLess, less);
    close(test.pGreater, greater);
  }
  for (const { x, time, p, lower, upper } of ratios) {
    const [first, second] = [0, 1].map((i) => ({ events: x[i], personTime: time[i] }));
    close(estimable(testRateRatio(first, second)).pValue, p);
    const found = estimable(estimateRateRatio(first, second));
    close(found.lower, lower);
    if (upper === 'Inf') expect(found.upper).toBe(Number.POSITIVE_INFINITY);
    else close(found.upper, upper);
  }
  expect(against.length + ratios.length).toBeGreaterThan(30);
});

it('tells the method of printed totals: plain limits of the count, rounded (Steinbeck et al, Eur Heart J 2018;39:4020)', () => {
  const { totals } = loadReference(
    'literature-interval-methods',
    z.object({ totals: z.object({ rows: z.array(z.tuple([z.number(), z.number(), z.number()])) }) }),
  );
  expect(totals.rows).toHaveLength(5);
  for (const [x, lower, upper] of totals.rows) {
    const found = estimable(estimatePoissonRate(x, 1, { limits: 'wald' }));
    expect([Math.round(found.lower), Math.round(found.upper)]).toEqual([lower, upper]);
  }
});
