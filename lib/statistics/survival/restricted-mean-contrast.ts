import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { StatisticsError } from '../errors';
import { chiSquareUpperTail } from '../special/chi-square';
import { normalUpperQuantile } from '../special/normal';
import type { RestrictedMean } from './restricted-mean';

export type Contrast = {
  readonly kind: 'estimated';
  readonly estimate: number;
  /** On the scale of the difference, or of the logarithm of the ratio. */
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly z: number;
  /** Two-sided. */
  readonly pValue: number;
};

export type RestrictedMeanContrast = {
  /** Mean of second minus first, in days. */
  readonly difference: Contrast | NotEstimable;
  /** Mean of second over first. */
  readonly ratio: Contrast | NotEstimable;
  /** Days lost in second over first. */
  readonly lostRatio: Contrast | NotEstimable;
};

/**
 * The difference and the ratios of two restricted means, of independent groups and to one horizon.
 *
 * Estimand: what second has more (or, by ratio, how many times as much) than first of event-free time in the
 * horizon.
 * Formula: variances add; ratios on the logarithm, whose variance is variance/mean^2 (delta method; Royston &
 * Parmar, Stat Med 2011;30:2409; Uno et al., J Clin Oncol 2014;32:2380). A group without an event before the horizon
 * adds no variance: the interval is then too narrow.
 * Not estimable: neither group has a variance; a mean of zero (ratio), no days lost in a group (ratio of days lost).
 * @throws StatisticsError outOfRange for different horizons or a confidence level not between 0 and 1.
 */
export function estimateRestrictedMeanContrast(
  first: RestrictedMean,
  second: RestrictedMean,
  options: { readonly confidenceLevel?: number } = {},
): RestrictedMeanContrast {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  if (first.horizonDays !== second.horizonDays) {
    const message = `second has the horizon ${second.horizonDays} but first ${first.horizonDays}; compare over one.`;
    throw new StatisticsError('outOfRange', 'second', undefined, message);
  }
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  return {
    difference: contrast(second.meanDays - first.meanDays, first.variance + second.variance, z),
    ratio: ratioOf(first.meanDays, second.meanDays, first, second, z, 'curveAtZero'),
    lostRatio: ratioOf(first.lostDays, second.lostDays, first, second, z, 'noTimeLost'),
  };
}

function contrast(estimate: number, variance: number, z: number): Contrast | NotEstimable {
  if (variance === 0) return notEstimable('noEventYet');
  const standardError = Math.sqrt(variance);
  const score = estimate / standardError;
  return {
    kind: 'estimated',
    estimate,
    standardError,
    lower: estimate - z * standardError,
    upper: estimate + z * standardError,
    z: score,
    pValue: chiSquareUpperTail(score * score, 1),
  };
}

function ratioOf(
  below: number,
  above: number,
  first: RestrictedMean,
  second: RestrictedMean,
  z: number,
  absence: 'curveAtZero' | 'noTimeLost',
): Contrast | NotEstimable {
  if (below <= 0 || above <= 0) return notEstimable(absence);
  const log = contrast(
    Math.log(above / below),
    first.variance / below ** 2 + second.variance / above ** 2,
    z,
  );
  if (log.kind === 'notEstimable') return log;
  return { ...log, estimate: above / below, lower: Math.exp(log.lower), upper: Math.exp(log.upper) };
}
