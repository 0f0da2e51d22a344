import { checkEventsAmong } from '../check-counts';
import { betaQuantile } from '../special/beta';
import { checkWholeFrom } from './check-chart';

/**
 * Equally likely values of a constant baseline rate, given the events of the baseline.
 *
 * Estimand: the posterior distribution of the rate with Jeffreys' prior, which is beta with events + 1/2 and n - events + 1/2
 * (Brown, Cai & DasGupta, Stat Sci 2001;16:101).
 * Formula: its quantiles at (i - 1/2)/count, i = 1..count: the middles of equal slices, ascending; no chance is involved.
 * For deriveRunLengthUncertainty, one draw per value. A baseline without cases gives the prior.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (events > n, count below 1).
 */
export function deriveRateDraws(events: number, n: number, count: number): Float64Array {
  checkEventsAmong('events', events, 'n', n);
  checkWholeFrom('count', count, 1);
  return Float64Array.from({ length: count }, (_, i) =>
    betaQuantile((i + 0.5) / count, events + 0.5, n - events + 0.5),
  );
}
