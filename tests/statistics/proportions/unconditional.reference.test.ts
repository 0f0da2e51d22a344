import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { testBarnard, testBoschloo } from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

it.each(keptCases('barnard_boschloo'))('$id ($referenceKind)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

const pair = z.tuple([z.number(), z.number()]);
const published = loadReference(
  'pub-barnard-boschloo',
  z.object({
    params: z.object({ kind: z.array(z.string()) }),
    data: z.object({ rows: z.array(z.tuple([pair, pair])) }),
    printed: z.object({ p: z.array(z.number()), stat: z.array(z.number().nullable()) }),
  }),
);

describe('the R packages Barnard and Exact, as quoted in the tests of scipy', () => {
  const rows = published.data.rows.map((table, i) => ({
    table,
    kind: published.params.kind[i],
    p: published.printed.p[i],
    stat: published.printed.stat[i],
  }));

  it.each(rows)('$kind of $table', ({ table: [[a, b], [c, d]], kind, p, stat }) => {
    // Columns are the arms: a of a + c against b of b + d.
    const first = { events: a, n: a + c };
    const second = { events: b, n: b + d };
    if (kind.startsWith('boschloo')) {
      // Printed in six to eight decimals.
      expect(Math.abs(estimable(testBoschloo(first, second)).pValue - p)).toBeLessThan(5e-7);
      return;
    }
    const variance = kind.startsWith('barnard_pooled') ? 'pooled' : 'unpooled';
    const found = estimable(testBarnard(first, second, { variance }));
    expect(found.statistic).toBeCloseTo(stat ?? Number.NaN, 11);
    expect(Math.abs(found.pValue / p - 1)).toBeLessThan(1e-9);
  });

  it('are ten', () => {
    expect(rows).toHaveLength(10);
  });
});
