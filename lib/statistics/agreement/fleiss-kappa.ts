import { type NotEstimable, notEstimable } from '../absence';
import { checkTable } from '../check-counts';
import type { Column } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperTail } from '../special/normal';

export type FleissKappa = {
  readonly kind: 'estimated';
  readonly subjects: number;
  readonly raters: number;
  readonly kappa: number;
  /** Mean share of agreeing pairs of ratings of a subject, and the share expected from the category shares. */
  readonly observedAgreement: number;
  readonly expectedAgreement: number;
  /** Standard error when there is no agreement beyond chance; it serves the test, not an interval. */
  readonly standardErrorUnderChance: number;
  readonly z: number;
  readonly pValue: number;
  /** One per category: this category against all others. Not estimable for a category that nobody used. */
  readonly categories: readonly ({ readonly kind: 'estimated'; readonly kappa: number } | NotEstimable)[];
};

/**
 * Agreement of several raters beyond chance.
 *
 * Estimand: Fleiss' kappa for N subjects, each rated by the same number m of raters (not necessarily the same persons).
 * Formula: Fleiss, Psychol Bull 1971;76:378; per category 1 - sum x(m - x)/(N m (m - 1) p q); standard error under
 * chance of Fleiss, Nee & Landis, Psychol Bull 1979;86:974, which replaces that of 1971; two-sided normal test.
 * Shapes: counts[i][j] raters put subject i into category j; every row has the same sum m >= 2; k >= 2 categories.
 * Not estimable: all ratings in one category.
 * @throws StatisticsError notFinite, negative, notInteger, unequalLengths (columns, or raters per subject), outOfRange.
 */
export function estimateFleissKappa(counts: readonly Column[]): FleissKappa | NotEstimable {
  const { rows: subjects, columns: k } = checkTable('counts', counts, 1);
  if (k < 2) {
    const message = `counts has ${k} category; agreement needs at least 2.`;
    throw new StatisticsError('outOfRange', 'counts', undefined, message);
  }
  const raters = checkRaters(counts);
  const ratings = subjects * raters;
  const totals = new Float64Array(k);
  let disagreeing = 0;
  const disagreeingIn = new Float64Array(k);
  for (const row of counts) {
    for (let j = 0; j < k; j += 1) {
      totals[j] += row[j];
      disagreeingIn[j] += row[j] * (raters - row[j]);
      disagreeing += row[j] * (raters - row[j]);
    }
  }
  if (totals.includes(ratings)) return notEstimable('oneCategory');
  const observedAgreement = 1 - disagreeing / (ratings * (raters - 1));
  let expectedAgreement = 0;
  let spread = 0;
  let skew = 0;
  const share = totals.map((total) => total / ratings);
  for (const p of share) {
    expectedAgreement += p * p;
    spread += p * (1 - p);
    skew += p * (1 - p) * (1 - 2 * p);
  }
  const kappa = (observedAgreement - expectedAgreement) / (1 - expectedAgreement);
  const standardErrorUnderChance =
    Math.sqrt(2 * (spread * spread - skew)) / (spread * Math.sqrt(ratings * (raters - 1)));
  const z = kappa / standardErrorUnderChance;
  return {
    kind: 'estimated',
    subjects,
    raters,
    kappa,
    observedAgreement,
    expectedAgreement,
    standardErrorUnderChance,
    z,
    pValue: 2 * normalUpperTail(Math.abs(z)),
    categories: Array.from(share, (p, j) =>
      totals[j] === 0
        ? notEstimable('categoryNotUsed')
        : {
            kind: 'estimated' as const,
            kappa: 1 - disagreeingIn[j] / (ratings * (raters - 1) * p * (1 - p)),
          },
    ),
  };
}

function checkRaters(counts: readonly Column[]): number {
  const sum = (row: Column): number => Array.from(row).reduce((total, count) => total + count, 0);
  const raters = sum(counts[0]);
  if (raters < 2) {
    const message = `counts[0] holds ${raters} ratings; agreement needs at least 2 per subject.`;
    throw new StatisticsError('outOfRange', 'counts', 0, message);
  }
  for (const [i, row] of counts.entries()) {
    if (sum(row) !== raters) {
      const message = `counts[${i}] holds ${sum(row)} ratings but counts[0] holds ${raters}; every subject needs the same number.`;
      throw new StatisticsError('unequalLengths', 'counts', i, message);
    }
  }
  return raters;
}
