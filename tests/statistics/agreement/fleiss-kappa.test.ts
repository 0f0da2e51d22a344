import { expect, it } from 'vitest';
import { estimateFleissKappa } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

it('compares agreeing pairs with those expected, by hand', () => {
  // Three raters, two categories: pairs agree 1, 1/3, 1/3; shares 5/9 and 4/9.
  const found = estimateFleissKappa([
    [3, 0],
    [1, 2],
    [1, 2],
  ]);
  if (found.kind !== 'estimated') throw new Error(found.reason);
  const expected = (5 / 9) ** 2 + (4 / 9) ** 2;
  expect(found).toMatchObject({ subjects: 3, raters: 3 });
  expect(found.observedAgreement).toBeCloseTo(5 / 9, 15);
  expect(found.expectedAgreement).toBeCloseTo(expected, 15);
  expect(found.kappa).toBeCloseTo((5 / 9 - expected) / (1 - expected), 14);
  // With two categories each has the kappa of the whole, and the error is root(2/(N m (m - 1))).
  expect(found.standardErrorUnderChance).toBeCloseTo(Math.sqrt(2 / 18), 14);
  for (const category of found.categories) {
    if (category.kind !== 'estimated') throw new Error(category.reason);
    expect(category.kappa).toBeCloseTo(found.kappa, 14);
  }
});

it('says so when one category took all ratings, or a category none', () => {
  expect(estimateFleissKappa([[2, 0]])).toMatchObject({ kind: 'notEstimable', code: 'oneCategory' });
  const found = estimateFleissKappa([
    [2, 0, 0],
    [1, 1, 0],
  ]);
  if (found.kind !== 'estimated') throw new Error(found.reason);
  expect(found.categories[2]).toMatchObject({ kind: 'notEstimable', code: 'categoryNotUsed' });
});

it('refuses unequal numbers of raters, single raters and single categories', () => {
  const uneven = [
    [2, 0],
    [1, 2],
  ];
  expectMistake(() => estimateFleissKappa(uneven), 'unequalLengths', 'counts', 1);
  expectMistake(() => estimateFleissKappa([[1, 0]]), 'outOfRange', 'counts', 0);
  expectMistake(() => estimateFleissKappa([[3]]), 'outOfRange', 'counts');
  expectMistake(() => estimateFleissKappa([]), 'outOfRange', 'counts');
  expectMistake(() => estimateFleissKappa([[1.5, 0.5]]), 'notInteger', 'counts[0]', 0);
});
