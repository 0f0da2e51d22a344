import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { comparableStrata, type StratifiedArms, type Stratum, sumOver } from './strata-of-arms';

export type StratifiedMeasure = 'oddsRatio' | 'riskRatio' | 'riskDifference';

export type MantelHaenszel = {
  readonly kind: 'estimated';
  readonly measure: StratifiedMeasure;
  /** Strata with cases in both arms. */
  readonly strata: number;
  readonly estimate: number;
  /** Of the log for ratios, of the difference itself otherwise. */
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidenceLevel: number;
};

/**
 * One odds ratio, risk ratio or risk difference common to all strata, first arm against second.
 *
 * Estimand: the measure within strata, held to be the same in each.
 * Formula, per stratum a, b events and non-events of the first arm, c, d of the second, n their sum. Odds ratio
 * sum(a d/n)/sum(b c/n) (Mantel & Haenszel, JNCI 1959;22:719) with the variance of its log of Robins, Breslow & Greenland
 * (Biometrics 1986;42:311). Risk ratio sum(a n2/n)/sum(c n1/n) with variance of Greenland & Robins (Biometrics
 * 1985;41:55); risk difference sum((a n2 - c n1)/n)/sum(n1 n2/n) with variance of Sato (Biometrics 1989;45:1323, letter).
 * All variances serve few large and many sparse strata alike. No correction is added to
 * empty cells; strata without cases in an arm are left out.
 * Not estimable: no stratum with cases in both arms; for ratios, a numerator or denominator of zero.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange.
 */
export function estimateMantelHaenszel(
  data: StratifiedArms,
  options: { readonly measure?: StratifiedMeasure; readonly confidenceLevel?: number } = {},
): MantelHaenszel | NotEstimable {
  const { measure = 'oddsRatio', confidenceLevel = 0.95 } = options;
  const strata = comparableStrata(data);
  checkConfidenceLevel(confidenceLevel);
  if (strata.length === 0) return notEstimable('noStrata');
  const { estimate, variance } = MEASURES[measure](strata);
  if (measure !== 'riskDifference' && !(estimate > 0 && estimate < Number.POSITIVE_INFINITY)) {
    return notEstimable('emptyCell');
  }
  const standardError = Math.sqrt(variance);
  const margin = normalUpperQuantile((1 - confidenceLevel) / 2) * standardError;
  const limits =
    measure === 'riskDifference'
      ? { lower: estimate - margin, upper: estimate + margin }
      : { lower: estimate / Math.exp(margin), upper: estimate * Math.exp(margin) };
  return {
    kind: 'estimated',
    measure,
    strata: strata.length,
    estimate,
    standardError,
    ...limits,
    confidenceLevel,
  };
}

type Pooled = { readonly estimate: number; readonly variance: number };

const MEASURES: Readonly<Record<StratifiedMeasure, (strata: readonly Stratum[]) => Pooled>> = {
  oddsRatio(strata) {
    const concordant = sumOver(strata, ({ a, d, n }) => (a * d) / n);
    const discordant = sumOver(strata, ({ b, c, n }) => (b * c) / n);
    const own = sumOver(strata, ({ a, d, n }) => (((a + d) / n) * a * d) / n);
    const mixed = sumOver(
      strata,
      ({ a, b, c, d, n }) => (((a + d) / n) * b * c) / n + (((b + c) / n) * a * d) / n,
    );
    const other = sumOver(strata, ({ b, c, n }) => (((b + c) / n) * b * c) / n);
    return {
      estimate: concordant / discordant,
      variance:
        own / (2 * concordant * concordant) +
        mixed / (2 * concordant * discordant) +
        other / (2 * discordant * discordant),
    };
  },
  riskRatio(strata) {
    const first = sumOver(strata, ({ a, c, d, n }) => (a * (c + d)) / n);
    const second = sumOver(strata, ({ a, b, c, n }) => (c * (a + b)) / n);
    const spread = sumOver(
      strata,
      ({ a, b, c, d, n }) => ((a + b) * (c + d) * (a + c) - a * c * n) / (n * n),
    );
    return { estimate: first / second, variance: spread / (first * second) };
  },
  riskDifference(strata) {
    const weight = sumOver(strata, ({ a, b, c, d, n }) => ((a + b) * (c + d)) / n);
    const estimate = sumOver(strata, ({ a, b, c, d, n }) => (a * (c + d) - c * (a + b)) / n) / weight;
    const slope = sumOver(strata, ({ a, b, c, d, n }) => {
      const [first, second] = [(a + b) / n, (c + d) / n];
      return c * first * first - a * second * second + (first * second * (c + d - a - b)) / 2;
    });
    const level = sumOver(strata, ({ a, b, c, d, n }) => (a * d + c * b) / n) / 2;
    return { estimate, variance: (estimate * slope + level) / (weight * weight) };
  },
};
