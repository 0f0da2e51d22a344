import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkTimes } from '../check-input';
import { StatisticsError } from '../errors';
import type { CumulativeIncidence } from './cumulative-incidence';
import { countBefore, countThrough } from './equal-times';
import type { EstimatedInterval } from './survival-at';

export type IncidencePoint = {
  readonly kind: 'estimated';
  readonly timeDays: number;
  readonly incidence: number;
  /** True after the last case has left: the last value is carried. */
  readonly beyondFollowUp: boolean;
  readonly interval: EstimatedInterval | NotEstimable;
};

/**
 * The cumulative incidence of one cause read at fixed times (days, any order).
 *
 * F includes the events at t; after the last follow-up the last value is carried and marked. Before the first event
 * of the cause, and once F is 1, the interval is not estimable; without cases nothing is.
 * A time asked for is equal to a time of the estimate within 2^-26.
 * @throws StatisticsError notFinite, negative (argument `times`), unknownCode (argument `cause`).
 */
export function incidenceAt(
  estimate: CumulativeIncidence,
  cause: number,
  times: Column,
): (IncidencePoint | NotEstimable)[] {
  checkTimes('times', times);
  const curve = estimate.causes.find((candidate) => candidate.cause === cause);
  if (!curve) {
    const message = `cause is ${cause}; the causes of this estimate are 1 to ${estimate.causes.length}.`;
    throw new StatisticsError('unknownCode', 'cause', undefined, message);
  }
  return Array.from(times, (timeDays) => {
    if (estimate.n === 0) return notEstimable('noRows');
    const i = countThrough(estimate.timeDays, timeDays) - 1;
    const interval: EstimatedInterval | NotEstimable =
      i < curve.intervalFrom
        ? notEstimable('noEventYet')
        : i >= curve.intervalTo
          ? notEstimable('incidenceAtOne')
          : {
              kind: 'estimated',
              standardError: curve.standardError[i],
              lower: curve.lower[i],
              upper: curve.upper[i],
            };
    const beyondFollowUp = countBefore(estimate.timeDays, timeDays) === estimate.timeDays.length;
    return {
      kind: 'estimated',
      timeDays,
      incidence: i < 0 ? 0 : curve.incidence[i],
      beyondFollowUp,
      interval,
    };
  });
}
