import fc from 'fast-check';
import { expect, it } from 'vitest';
import { adjustPValues, type MultiplicityMethod } from '@/lib/statistics';

const METHODS: readonly MultiplicityMethod[] = [
  'bonferroni',
  'holm',
  'hochberg',
  'hommel',
  'benjaminiHochberg',
  'benjaminiYekutieli',
];
const family = fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 7 });
const pValuesOf = (thousandths: number[]): number[] => thousandths.map((value) => value / 1000);

/** The adjusted value by closed testing: the largest p value of all intersections that hold the hypothesis. */
function closure(pValues: number[], intersection: (sorted: number[]) => number): number[] {
  const adjusted = pValues.map(() => 0);
  for (let set = 1; set < 2 ** pValues.length; set += 1) {
    const members = pValues.map((_, i) => i).filter((i) => (set >> i) & 1);
    const value = Math.min(1, intersection(members.map((i) => pValues[i]).sort((a, b) => a - b)));
    for (const i of members) adjusted[i] = Math.max(adjusted[i], value);
  }
  return adjusted;
}

function expectClose(got: Float64Array, want: readonly number[]): void {
  for (const [i, value] of want.entries()) expect(got[i]).toBeCloseTo(value, 12);
}

it('Holm is the closed test by Bonferroni, Hommel the closed test by Simes', () => {
  fc.assert(
    fc.property(family, (thousandths) => {
      const pValues = pValuesOf(thousandths);
      const bonferroni = (sorted: number[]): number => sorted.length * sorted[0];
      const simes = (sorted: number[]): number =>
        Math.min(...sorted.map((p, i) => (sorted.length * p) / (i + 1)));
      expectClose(adjustPValues(pValues, 'holm'), closure(pValues, bonferroni));
      expectClose(adjustPValues(pValues, 'hommel'), closure(pValues, simes));
    }),
  );
});

it('follows the rows wherever they stand, keeps their order by size, and never goes below the raw value', () => {
  fc.assert(
    fc.property(family, fc.constantFrom(...METHODS), (thousandths, method) => {
      const pValues = pValuesOf(thousandths);
      const adjusted = adjustPValues(pValues, method);
      expectClose(adjustPValues(pValues.toReversed(), method), Array.from(adjusted).reverse());
      for (const [i, p] of pValues.entries()) {
        expect(adjusted[i]).toBeGreaterThanOrEqual(p);
        expect(adjusted[i]).toBeLessThanOrEqual(1);
        for (const [j, other] of pValues.entries()) {
          if (p <= other) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]);
        }
      }
    }),
  );
});

it('is ever less strict from Bonferroni over Holm, Hochberg and Hommel to Benjamini-Hochberg', () => {
  fc.assert(
    fc.property(family, (thousandths) => {
      const pValues = pValuesOf(thousandths);
      const chain = METHODS.slice(0, 5).map((method) => adjustPValues(pValues, method));
      for (let step = 1; step < chain.length; step += 1) {
        for (const i of pValues.keys())
          expect(chain[step][i]).toBeLessThanOrEqual(chain[step - 1][i] + 1e-12);
      }
    }),
  );
});
