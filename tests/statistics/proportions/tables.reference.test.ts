import { expect, it } from 'vitest';
import { z } from 'zod';
import { testFisherExactTable, testPearsonChiSquare, testProportionTrend } from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

const numbers = z.array(z.number());

it.each(keptCases('fisher_rxc'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(keptCases('cochran_armitage'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it('prints the trend of malformations with alcohol of Agresti, data of Graubard & Korn, Biometrics 1987;43:471', () => {
  const published = loadReference(
    'pub-agresti-ca',
    z.object({
      data: z.object({ x: numbers, n: numbers, score: numbers }),
      printed: z.object({ values: z.object({ chisq: z.number(), p: z.number() }) }),
    }),
  );
  const { x: events, n, score: scores } = published.data;
  const trend = estimable(testProportionTrend({ events, n, scores }));
  expect(Number(trend.chiSquare.toFixed(2))).toBe(published.printed.values.chisq);
  expect(Number(trend.pValue.toFixed(3))).toBe(published.printed.values.p);
});

it('agrees with fisher.test and chisq.test of R on larger tables', () => {
  const { cases } = loadReference(
    'larger-tables',
    z.object({
      cases: z.array(
        z.object({
          table: z.array(numbers),
          fisher: z.number(),
          chiSquare: z.number(),
          df: z.number(),
          pChiSquare: z.number(),
        }),
      ),
    }),
  );
  expect(cases.length).toBeGreaterThan(5);
  for (const { table, fisher, chiSquare, df, pChiSquare } of cases) {
    // fisher.test joins equal paths with a tolerance of its own, about 1e-7 of a probability.
    expect(Math.abs(estimable(testFisherExactTable(table)).pValue / fisher - 1)).toBeLessThan(2e-7);
    const pearson = estimable(testPearsonChiSquare(table));
    expect(pearson.degreesOfFreedom).toBe(df);
    expect(Math.abs(pearson.chiSquare / chiSquare - 1)).toBeLessThan(1e-12);
    expect(Math.abs(pearson.pValue / pChiSquare - 1)).toBeLessThan(1e-10);
  }
});
