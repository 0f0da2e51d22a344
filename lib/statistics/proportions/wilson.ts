import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';

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
 * A proportion with its score interval, without continuity correction.
 *
 * Estimand: the probability of the event in one case, cases independent.
 * Formula: (x + z^2/2 -+ z sqrt(z^2/4 + x(n - x)/n)) / (n + z^2) (Wilson, JASA 1927;22:209; Newcombe, Stat Med
 * 1998;17:857, method 3), z the exact normal quantile. The lower limit is exactly 0 without events, the upper
 * exactly 1 when every case has one: zero events keep an upper limit above zero.
 * Units: counts of cases; limits are fractions of 1. With n = 0 nothing is estimable.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (events > n, or the confidence level).
 */
export function estimateWilsonInterval(
  events: number,
  n: number,
  options: { readonly confidenceLevel?: number } = {},
): WilsonInterval | NotEstimable {
  const { confidenceLevel = 0.95 } = options;
  checkCount('events', events);
  checkCount('n', n);
  checkConfidenceLevel(confidenceLevel);
  if (events > n) {
    throw new StatisticsError(
      'outOfRange',
      'events',
      undefined,
      `events is ${events} but n is ${n}; events are counted among the n cases.`,
    );
  }
  if (n === 0) return notEstimable('noRows');
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  // The smaller root is product over larger root: no cancellation, and exactly 0 without events.
  const larger =
    (events + (z * z) / 2 + z * Math.sqrt((z * z) / 4 + (events * (n - events)) / n)) / (n + z * z);
  const lower = (events * (events / n)) / (n + z * z) / larger;
  const upper = events === n ? 1 : larger;
  return { kind: 'estimated', events, n, proportion: events / n, lower, upper, confidenceLevel };
}

function checkCount(name: string, value: number): void {
  const where = [name, undefined] as const;
  if (!Number.isFinite(value)) {
    throw new StatisticsError('notFinite', ...where, `${name} is ${value}; give a number of cases.`);
  }
  if (value < 0)
    throw new StatisticsError('negative', ...where, `${name} is ${value}; a count is zero or more.`);
  if (!Number.isInteger(value)) {
    throw new StatisticsError('notInteger', ...where, `${name} is ${value}; give a whole number of cases.`);
  }
}
