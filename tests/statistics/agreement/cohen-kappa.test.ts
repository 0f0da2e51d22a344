import { describe, expect, it } from 'vitest';
import { type CohenKappa, estimateCohenKappa, type KappaWeights } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

function kappaOf(table: number[][], weights: KappaWeights = 'none'): CohenKappa {
  const found = estimateCohenKappa(table, { weights });
  if (found.kind !== 'estimated') throw new Error(found.reason);
  return found;
}

it('is (0.7 - 0.5)/(1 - 0.5) by hand for 20 and 15 agreements among 50', () => {
  const { kappa, observedAgreement, expectedAgreement, test } = kappaOf([
    [20, 5],
    [10, 15],
  ]);
  // Shares 0.5, 0.5 and 0.6, 0.4: expected 0.3 + 0.2.
  expect(observedAgreement).toBeCloseTo(0.7, 15);
  expect(expectedAgreement).toBeCloseTo(0.5, 15);
  expect(kappa).toBeCloseTo(0.4, 14);
  // Under chance: variance (pe + pe^2 - sum p q (p + q))/(n (1 - pe)^2) = (0.5 + 0.25 - 0.3 x 1.1 - 0.2 x 0.9)/12.5.
  if (test.kind !== 'tested') throw new Error(test.reason);
  expect(test.standardErrorUnderChance).toBeCloseTo(Math.sqrt(0.24 / 12.5), 14);
  expect(test.z).toBeCloseTo(0.4 / Math.sqrt(0.24 / 12.5), 13);
  // Two-sided: z squared is 25/3, and erfc(root(25/6)) by mpmath at 30 digits.
  expect(test.pValue).toBeCloseTo(0.00389241712278, 13);
});

it('credits near misses when the categories have an order', () => {
  const table = [
    [4, 1, 0],
    [1, 3, 1],
    [0, 1, 4],
  ];
  // Nine of fifteen agree outright; four miss by one step, credited 1/2 or 3/4. Margins 1/3 each.
  expect(kappaOf(table).kappa).toBeCloseTo((11 / 15 - 1 / 3) / (2 / 3), 14);
  expect(kappaOf(table, 'linear').observedAgreement).toBeCloseTo((11 + 4 / 2) / 15, 14);
  expect(kappaOf(table, 'linear').expectedAgreement).toBeCloseTo((3 + 4 / 2) / 9, 14);
  expect(kappaOf(table, 'quadratic').observedAgreement).toBeCloseTo((11 + 4 * 0.75) / 15, 14);
});

it('has no width left when all agree', () => {
  expect(
    kappaOf([
      [7, 0],
      [0, 3],
    ]),
  ).toMatchObject({ kappa: 1, standardError: 0, lower: 1, upper: 1 });
});

describe('not estimable', () => {
  it('without cases, or with one category used', () => {
    const table = [
      [0, 0],
      [0, 0],
    ];
    expect(estimateCohenKappa(table)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
    table[1][1] = 9;
    expect(estimateCohenKappa(table)).toMatchObject({ kind: 'notEstimable', code: 'oneCategory' });
  });

  it('as a test when one rater never varies: kappa is 0 whatever the other does', () => {
    const firstRater = [
      [3, 2],
      [0, 0],
    ];
    const secondRater = [
      [3, 0],
      [2, 0],
    ];
    for (const table of [firstRater, secondRater]) {
      const { kappa, test } = kappaOf(table);
      expect(kappa).toBeCloseTo(0, 15);
      expect(test).toMatchObject({ kind: 'notEstimable', code: 'raterWithoutVariation' });
    }
  });
});

it('refuses tables that are none', () => {
  expectMistake(() => estimateCohenKappa([[1]]), 'outOfRange', 'table');
  expectMistake(() => estimateCohenKappa([[1, 2], [3]]), 'unequalLengths', 'table', 1);
  const wide = [
    [1, 2, 3],
    [4, 5, 6],
  ];
  expectMistake(() => estimateCohenKappa(wide), 'outOfRange', 'table');
  const broken = [
    [1, 2],
    [3, -1],
  ];
  expectMistake(() => estimateCohenKappa(broken), 'negative', 'table[1]', 1);
  broken[1][1] = 0.5;
  expectMistake(() => estimateCohenKappa(broken), 'notInteger', 'table[1]', 1);
  broken[1][1] = Number.NaN;
  expectMistake(() => estimateCohenKappa(broken), 'notFinite', 'table[1]', 1);
  const good = [
    [1, 2],
    [3, 4],
  ];
  expectMistake(() => estimateCohenKappa(good, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
});
