import { type NotEstimable, notEstimable } from '../absence';
import { chiSquareUpperTail } from '../special/chi-square';
import { estimateMantelHaenszel, type StratifiedMeasure } from './mantel-haenszel';
import { comparableStrata, type StratifiedArms, type Stratum } from './strata-of-arms';

export type StratumHeterogeneity = {
  readonly kind: 'tested';
  readonly measure: StratifiedMeasure;
  readonly q: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
  /** Share of Q above its expectation without heterogeneity, 0 to 1. */
  readonly iSquared: number;
};

/**
 * Do the strata differ in their odds ratio, risk ratio or risk difference? Cochran's Q about the Mantel-Haenszel value.
 *
 * Estimand: the hypothesis that the measure is the same in every stratum.
 * Formula: Q = sum w (y - pooled)^2, y the stratum's log ratio or difference, w its inverse variance, pooled the
 * Mantel-Haenszel estimate; chi-square with strata - 1 degrees of freedom (Cochran, Biometrics 1954;10:101);
 * I2 = max(0, (Q - df)/Q) (Higgins & Thompson, Stat Med 2002;21:1539). In a stratum with an empty cell 1/2 is added to
 * all four, for Q only; strata without cases in an arm, or of one outcome, are left out.
 * Not estimable: as estimateMantelHaenszel; fewer than two strata left.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange.
 */
export function testStratumHeterogeneity(
  data: StratifiedArms,
  options: { readonly measure?: StratifiedMeasure } = {},
): StratumHeterogeneity | NotEstimable {
  const { measure = 'oddsRatio' } = options;
  const pooled = estimateMantelHaenszel(data, { measure });
  if (pooled.kind === 'notEstimable') return pooled;
  const strata = comparableStrata(data).filter(({ a, b, c, d }) => a + c > 0 && b + d > 0);
  if (strata.length < 2) return notEstimable('oneStratum');
  const centre = measure === 'riskDifference' ? pooled.estimate : Math.log(pooled.estimate);
  let q = 0;
  for (const stratum of strata) {
    const { value, variance } = VALUES[measure](withoutEmptyCells(stratum));
    q += (value - centre) ** 2 / variance;
  }
  const degreesOfFreedom = strata.length - 1;
  return {
    kind: 'tested',
    measure,
    q,
    degreesOfFreedom,
    pValue: chiSquareUpperTail(q, degreesOfFreedom),
    iSquared: q > degreesOfFreedom ? (q - degreesOfFreedom) / q : 0,
  };
}

type Value = { readonly value: number; readonly variance: number };

const VALUES: Readonly<Record<StratifiedMeasure, (stratum: Stratum) => Value>> = {
  oddsRatio: ({ a, b, c, d }) => ({
    value: Math.log(a / b) - Math.log(c / d),
    variance: 1 / a + 1 / b + 1 / c + 1 / d,
  }),
  riskRatio: ({ a, b, c, d }) => ({
    value: Math.log(a / (a + b)) - Math.log(c / (c + d)),
    variance: b / a / (a + b) + d / c / (c + d),
  }),
  riskDifference: ({ a, b, c, d }) => ({
    value: a / (a + b) - c / (c + d),
    variance: (a * b) / (a + b) ** 3 + (c * d) / (c + d) ** 3,
  }),
};

function withoutEmptyCells({ a, b, c, d, n }: Stratum): Stratum {
  if (a > 0 && b > 0 && c > 0 && d > 0) return { a, b, c, d, n };
  return { a: a + 0.5, b: b + 0.5, c: c + 0.5, d: d + 0.5, n: n + 2 };
}
