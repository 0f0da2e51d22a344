import { type NotEstimable, notEstimable } from '../absence';
import { checkEventsAmong } from '../check-counts';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { wilsonLimits } from './wilson-limits';

export type WilsonInterval = {
  readonly kind: 'estimated';
  readonly events: number;
  readonly n: number;
  readonly proportion: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidenceLevel: number;
};

/**
 * A proportion with its score interval, without continuity correction unless asked for.
 *
 * Estimand: the probability of the event in one case, cases independent.
 * Formula: (x + z^2/2 -+ z sqrt(z^2/4 + x(n - x)/n)) / (n + z^2) (Wilson, JASA 1927;22:209; Newcombe, Stat Med
 * 1998;17:857, method 3), z the exact normal quantile; with `continuityCorrection` method 4 of the same paper. The lower
 * limit is exactly 0 without events, the upper exactly 1 when every case has one: zero events keep an upper limit above
 * zero.
 * Units: counts of cases; limits are fractions of 1. With n = 0 nothing is estimable.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (events > n, or the confidence level).
 */
export function estimateWilsonInterval(
  events: number,
  n: number,
  options: { readonly confidenceLevel?: number; readonly continuityCorrection?: boolean } = {},
): WilsonInterval | NotEstimable {
  const { confidenceLevel = 0.95, continuityCorrection = false } = options;
  checkEventsAmong('events', events, 'n', n);
  checkConfidenceLevel(confidenceLevel);
  if (n === 0) return notEstimable('noRows');
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const limits = wilsonLimits(events, n, z, continuityCorrection);
  return { kind: 'estimated', events, n, proportion: events / n, ...limits, confidenceLevel };
}
