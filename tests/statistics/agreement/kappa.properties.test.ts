import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  type CohenKappa,
  estimateCohenKappa,
  estimateFleissKappa,
  type KappaWeights,
} from '@/lib/statistics';

const size = fc.integer({ min: 2, max: 5 });
const tables = size.chain((k) =>
  fc.array(fc.array(fc.integer({ min: 0, max: 30 }), { minLength: k, maxLength: k }), {
    minLength: k,
    maxLength: k,
  }),
);
const weightings = fc.constantFrom<KappaWeights>('none', 'linear', 'quadratic');

function kappaOf(table: number[][], weights: KappaWeights): CohenKappa {
  const found = estimateCohenKappa(table, { weights });
  fc.pre(found.kind === 'estimated');
  return found;
}

it('Cohen: the raters may change places, the order of the categories may be turned round', () => {
  fc.assert(
    fc.property(tables, weightings, (table, weights) => {
      const { kappa, standardError } = kappaOf(table, weights);
      const turned = kappaOf(table.map((row) => row.toReversed()).reverse(), weights);
      const swapped = kappaOf(
        table.map((_, i) => table.map((row) => row[i])),
        weights,
      );
      for (const other of [turned, swapped]) {
        expect(other.kappa).toBeCloseTo(kappa, 10);
        expect(other.standardError).toBeCloseTo(standardError, 10);
      }
      expect(kappa).toBeLessThanOrEqual(1);
    }),
  );
});

it('Cohen: with two categories weights change nothing; ten times the cases divide the error by root ten', () => {
  fc.assert(
    fc.property(tables, weightings, (table, weights) => {
      const found = kappaOf(table, weights);
      const tenfold = kappaOf(
        table.map((row) => row.map((count) => 10 * count)),
        weights,
      );
      expect(tenfold.kappa).toBeCloseTo(found.kappa, 10);
      expect(tenfold.standardError * Math.sqrt(10)).toBeCloseTo(found.standardError, 9);
      if (table.length === 2) expect(found.kappa).toBeCloseTo(kappaOf(table, 'none').kappa, 10);
    }),
  );
});

const ratings = fc.tuple(size, fc.integer({ min: 2, max: 6 })).chain(([k, raters]) =>
  fc
    .array(fc.array(fc.integer({ min: 0, max: k - 1 }), { minLength: raters, maxLength: raters }), {
      minLength: 1,
      maxLength: 12,
    })
    .map((subjects) =>
      subjects.map((chosen) => Array.from({ length: k }, (_, j) => chosen.filter((c) => c === j).length)),
    ),
);

it('Fleiss: subjects and categories may stand in any order; the whole is the weighted mean of the categories', () => {
  fc.assert(
    fc.property(ratings, (counts) => {
      const found = estimateFleissKappa(counts);
      fc.pre(found.kind === 'estimated');
      const turned = estimateFleissKappa(counts.map((row) => row.toReversed()).reverse());
      if (found.kind !== 'estimated' || turned.kind !== 'estimated') throw new Error('lost by turning');
      expect(turned.kappa).toBeCloseTo(found.kappa, 10);
      expect(turned.z).toBeCloseTo(found.z, 8);
      let [sum, weight] = [0, 0];
      for (const [j, category] of found.categories.entries()) {
        if (category.kind !== 'estimated') continue;
        const p = counts.reduce((total, row) => total + row[j], 0) / (found.subjects * found.raters);
        sum += p * (1 - p) * category.kappa;
        weight += p * (1 - p);
      }
      expect(sum / weight).toBeCloseTo(found.kappa, 10);
      expect(found.kappa).toBeLessThanOrEqual(1);
    }),
  );
});
