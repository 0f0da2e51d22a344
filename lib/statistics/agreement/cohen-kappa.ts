import { type NotEstimable, notEstimable } from '../absence';
import { checkTable } from '../check-counts';
import { type Column, checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile, normalUpperTail } from '../special/normal';

/** Credit for a near miss: none, or falling with the distance between the categories or with its square. */
export type KappaWeights = 'none' | 'linear' | 'quadratic';

export type CohenKappa = {
  readonly kind: 'estimated';
  readonly n: number;
  readonly kappa: number;
  /** Weighted share of agreement seen, and expected from the raters' own category shares. */
  readonly observedAgreement: number;
  readonly expectedAgreement: number;
  readonly standardError: number;
  /** Large-sample limits, not cut at 1. */
  readonly lower: number;
  readonly upper: number;
  readonly confidenceLevel: number;
  /** Test of no agreement beyond chance, with the standard error under that hypothesis. */
  readonly test:
    | {
        readonly kind: 'tested';
        readonly z: number;
        readonly pValue: number;
        readonly standardErrorUnderChance: number;
      }
    | NotEstimable;
};

/**
 * Agreement of two raters beyond chance: (observed - expected)/(1 - expected).
 *
 * Estimand: Cohen's kappa for cases rated once by each of two raters in k categories; with weights, ordered categories
 * 1 - |i - j|/(k - 1) (linear) or 1 - (i - j)^2/(k - 1)^2 (quadratic).
 * Formula: Cohen, Educ Psychol Meas 1960;20:37 and Psychol Bull 1968;70:213; standard errors of Fleiss, Cohen & Everitt,
 * Psychol Bull 1969;72:323: in general (limits) and under chance (test).
 * Shapes: table[i][j] counts the cases that the first rater put in category i and the second in j; square, k >= 2.
 * Not estimable: no cases; both raters used one and the same category only. The test is not estimable when one rater
 * used a single category.
 * @throws StatisticsError notFinite, negative, notInteger, unequalLengths, outOfRange (too few or not square).
 */
export function estimateCohenKappa(
  table: readonly Column[],
  options: { readonly weights?: KappaWeights; readonly confidenceLevel?: number } = {},
): CohenKappa | NotEstimable {
  const { weights = 'none', confidenceLevel = 0.95 } = options;
  const { rows: k } = checkTable('table', table, 2, true);
  checkConfidenceLevel(confidenceLevel);
  const { n, first, second } = margins(table, k);
  if (n === 0) return notEstimable('noRows');
  // Judged on whole numbers: shares that add to 1 only nearly would leave a denominator of rounding errors.
  if (first.some((count, i) => count === n && second[i] === n)) return notEstimable('oneCategory');
  const weight = (i: number, j: number): number => agreementWeight(weights, Math.abs(i - j), k);
  let observed = 0;
  let expected = 0;
  const rowMean = new Float64Array(k);
  const columnMean = new Float64Array(k);
  for (let i = 0; i < k; i += 1) {
    for (let j = 0; j < k; j += 1) {
      observed += (weight(i, j) * table[i][j]) / n;
      expected += weight(i, j) * (first[i] / n) * (second[j] / n);
      rowMean[i] += (weight(i, j) * second[j]) / n;
      columnMean[j] += (weight(i, j) * first[i]) / n;
    }
  }
  const kappa = (observed - expected) / (1 - expected);
  let spread = 0;
  let spreadUnderChance = 0;
  for (let i = 0; i < k; i += 1) {
    for (let j = 0; j < k; j += 1) {
      const means = rowMean[i] + columnMean[j];
      spread +=
        (table[i][j] / n) * (weight(i, j) - means * (1 - kappa) - kappa + expected * (1 - kappa)) ** 2;
      spreadUnderChance += (first[i] / n) * (second[j] / n) * (weight(i, j) - means + expected) ** 2;
    }
  }
  const scale = Math.sqrt(n) * (1 - expected);
  const standardError = Math.sqrt(spread) / scale;
  const standardErrorUnderChance = Math.sqrt(spreadUnderChance) / scale;
  const margin = normalUpperQuantile((1 - confidenceLevel) / 2) * standardError;
  const oneSided = [first, second].some((rater) => rater.includes(n));
  const z = kappa / standardErrorUnderChance;
  return {
    kind: 'estimated',
    n,
    kappa,
    observedAgreement: observed,
    expectedAgreement: expected,
    standardError,
    lower: kappa - margin,
    upper: kappa + margin,
    confidenceLevel,
    test: oneSided
      ? notEstimable('raterWithoutVariation')
      : { kind: 'tested', z, pValue: 2 * normalUpperTail(Math.abs(z)), standardErrorUnderChance },
  };
}

function agreementWeight(weights: KappaWeights, distance: number, k: number): number {
  if (weights === 'none') return distance === 0 ? 1 : 0;
  const share = distance / (k - 1);
  return weights === 'linear' ? 1 - share : 1 - share * share;
}

function margins(
  table: readonly Column[],
  k: number,
): { readonly n: number; readonly first: number[]; readonly second: number[] } {
  const first = new Array<number>(k).fill(0);
  const second = new Array<number>(k).fill(0);
  let n = 0;
  for (let i = 0; i < k; i += 1) {
    for (let j = 0; j < k; j += 1) {
      first[i] += table[i][j];
      second[j] += table[i][j];
      n += table[i][j];
    }
  }
  return { n, first, second };
}
