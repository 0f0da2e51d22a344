import { expect, it } from 'vitest';
import { z } from 'zod';
import { adjustPValues } from '@/lib/statistics';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

it.each(keptCases('multiplicity'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it('rejects as many as Benjamini & Hochberg, JRSS B 1995;57:289 print: 4 against 3 by Bonferroni', () => {
  const published = loadReference(
    'pub-bh1995',
    z.object({
      data: z.object({ p: z.array(z.number()) }),
      printed: z.object({ values: z.object({ rejBH: z.number(), rejBonf: z.number() }) }),
    }),
  );
  const rejected = (values: Float64Array): number => values.filter((value) => value <= 0.05).length;
  const { p } = published.data;
  expect(rejected(adjustPValues(p, 'benjaminiHochberg'))).toBe(published.printed.values.rejBH);
  expect(rejected(adjustPValues(p, 'bonferroni'))).toBe(published.printed.values.rejBonf);
});
