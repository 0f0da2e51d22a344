import { expect, it } from 'vitest';
import { z } from 'zod';
import { estimateCohenKappa, estimateFleissKappa } from '@/lib/statistics';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

it.each(keptCases('cohen_kappa'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(keptCases('fleiss_kappa'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it('prints kappa and z of the example of 10 subjects and 14 raters that goes with Fleiss, Psychol Bull 1971;76:378', () => {
  const published = loadReference(
    'pub-fleiss',
    z.object({
      data: z.object({ counts: z.array(z.array(z.number())) }),
      printed: z.object({ values: z.object({ kappa: z.number(), z: z.number() }) }),
    }),
  );
  const found = estimateFleissKappa(published.data.counts);
  if (found.kind !== 'estimated') throw new Error(found.reason);
  expect(found.kappa).toBeCloseTo(published.printed.values.kappa, 12);
  expect(found.z).toBeCloseTo(published.printed.values.z, 10);
});

it('agrees with vcd::Kappa on quadratic weights of a 3 x 3 table', () => {
  const { data, expected } = loadReference(
    'kappa-3x3',
    z.object({
      data: z.object({ table: z.array(z.array(z.number())) }),
      expected: z.object({ quadratic: z.object({ kappa: z.number() }) }),
    }),
  );
  const found = estimateCohenKappa(data.table, { weights: 'quadratic' });
  expect(found).toMatchObject({ kind: 'estimated' });
  if (found.kind === 'estimated') expect(found.kappa).toBeCloseTo(expected.quadratic.kappa, 10);
});
