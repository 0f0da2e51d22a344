import { type NotEstimable, notEstimable } from '../absence';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import { countBefore } from './equal-times';
import type { KaplanMeierCurve } from './kaplan-meier';
import type { EstimatedInterval } from './survival-at';

export type RestrictedMean = {
  readonly kind: 'estimated';
  readonly horizonDays: number;
  /** Mean days free of the event within the horizon. */
  readonly meanDays: number;
  /** The horizon less the mean: days lost to the event. */
  readonly lostDays: number;
  /** Of the mean, in days squared; 0 when no event came before the horizon. */
  readonly variance: number;
  /** Limits are not cut to the horizon. */
  readonly interval: EstimatedInterval | NotEstimable;
};

/**
 * The restricted mean survival time: mean days free of the event during the first `horizonDays`.
 *
 * Estimand: E min(T, horizon), the area under S to the horizon.
 * Formula: area under the Kaplan-Meier curve; variance the sum over event times before the horizon of (area from
 * there to the horizon)^2 d/(n(n - d)), nothing where n = d (Klein & Moeschberger 2003, equation 4.5.2, from
 * memory); limits symmetric, at the confidence level of the curve.
 * Ties, risk set, delayed entry: as the curve was made. An event on the horizon does not count.
 * Not estimable: no cases; a curve that ends before the horizon above zero, for it would have to be guessed on.
 * The interval is not when no event came before the horizon.
 * Units: days. @throws StatisticsError outOfRange unless the horizon is a number above 0.
 */
export function estimateRestrictedMean(
  curve: KaplanMeierCurve,
  horizonDays: number,
): RestrictedMean | NotEstimable {
  if (!(horizonDays > 0 && horizonDays < Number.POSITIVE_INFINITY)) {
    const message = `horizonDays is ${horizonDays}; give a number of days above 0.`;
    throw new StatisticsError('outOfRange', 'horizonDays', undefined, message);
  }
  const { timeDays, survival, atRisk, events, n } = curve;
  if (n === 0) return notEstimable('noRows');
  const before = countBefore(timeDays, horizonDays);
  if (before === timeDays.length && survival[before - 1] > 0) return notEstimable('horizonBeyondFollowUp');
  let area = 0;
  let variance = 0;
  for (let i = before - 1, end = horizonDays; i >= 0; end = timeDays[i], i -= 1) {
    area += survival[i] * (end - timeDays[i]);
    if (events[i] > 0 && events[i] < atRisk[i])
      variance += (area * area * events[i]) / (atRisk[i] * (atRisk[i] - events[i]));
  }
  const meanDays = area + (before > 0 ? timeDays[0] : horizonDays);
  return {
    kind: 'estimated',
    horizonDays,
    meanDays,
    lostDays: horizonDays - meanDays,
    variance,
    interval: intervalOf(curve, meanDays, variance, before),
  };
}

function intervalOf(
  curve: KaplanMeierCurve,
  meanDays: number,
  variance: number,
  before: number,
): EstimatedInterval | NotEstimable {
  if (variance === 0) return notEstimable(curve.intervalFrom >= before ? 'noEventYet' : 'curveAtZero');
  const standardError = Math.sqrt(variance);
  const width = normalUpperQuantile((1 - curve.confidenceLevel) / 2) * standardError;
  return { kind: 'estimated', standardError, lower: meanDays - width, upper: meanDays + width };
}
