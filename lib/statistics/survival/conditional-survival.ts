import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkTimes } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { countBefore, countThrough } from './equal-times';
import type { KaplanMeierCurve } from './kaplan-meier';
import type { EstimatedInterval } from './survival-at';
import { limitsOnScale } from './survival-limits';

export type ConditionalSurvivalPoint = {
  readonly kind: 'estimated';
  /** Days after the condition. */
  readonly laterDays: number;
  readonly survival: number;
  /** True when nobody was followed that long: the last value is carried. */
  readonly beyondFollowUp: boolean;
  readonly interval: EstimatedInterval | NotEstimable;
};

/**
 * The probability of staying free of the event for so many more days, given freedom up to `fromDays`.
 *
 * Estimand: P(T > from + s | T > from) = S(from + s)/S(from).
 * Formula: the ratio of the Kaplan-Meier curve; Greenwood's sum over the event times after `from` only, with the
 * limits of the curve's own scale and level, which makes both equal to the curve of a landmark analysis (Zabor et
 * al., Cancer 2013;119:3589, from memory).
 * Conventions: events on the day `from` are past; those on from + s count. After the last follow-up the value is
 * carried and marked. Times are equal to curve times within 2^-26.
 * Not estimable: no cases; a curve that has reached zero by `from`; nobody followed beyond it. The interval is not
 * before the first event after `from`, nor at zero.
 * Units: days. @throws StatisticsError notFinite, negative (`fromDays`, `laterDays`).
 */
export function estimateConditionalSurvival(
  curve: KaplanMeierCurve,
  fromDays: number,
  laterDays: Column,
): (ConditionalSurvivalPoint | NotEstimable)[] {
  checkTimes('fromDays', [fromDays]);
  checkTimes('laterDays', laterDays);
  const past = countThrough(curve.timeDays, fromDays);
  const absent = reasonForNone(curve, past);
  return Array.from(laterDays, (later) => absent ?? pointAt(curve, past, fromDays, later));
}

function reasonForNone(curve: KaplanMeierCurve, past: number): NotEstimable | undefined {
  if (curve.n === 0) return notEstimable('noRows');
  if (past > 0 && curve.survival[past - 1] === 0) return notEstimable('curveAtZero');
  if (past === curve.timeDays.length) return notEstimable('nobodyLeft');
  return undefined;
}

function pointAt(
  curve: KaplanMeierCurve,
  past: number,
  fromDays: number,
  laterDays: number,
): ConditionalSurvivalPoint {
  const { timeDays, atRisk, events } = curve;
  const through = Math.max(past, countThrough(timeDays, fromDays + laterDays));
  let survival = 1;
  let greenwood = 0;
  let eventTotal = 0;
  for (let i = past; i < through; i += 1) {
    if (events[i] === 0) continue;
    eventTotal += events[i];
    survival *= (atRisk[i] - events[i]) / atRisk[i];
    greenwood += events[i] / (atRisk[i] * (atRisk[i] - events[i]));
  }
  return {
    kind: 'estimated',
    laterDays,
    survival,
    beyondFollowUp: countBefore(timeDays, fromDays + laterDays) === timeDays.length,
    interval:
      eventTotal === 0 ? notEstimable('noEventYet') : intervalOf(curve, survival, Math.sqrt(greenwood)),
  };
}

function intervalOf(
  curve: KaplanMeierCurve,
  survival: number,
  relativeError: number,
): EstimatedInterval | NotEstimable {
  if (survival === 0) return notEstimable('curveAtZero');
  const z = normalUpperQuantile((1 - curve.confidenceLevel) / 2);
  const lower = new Float64Array(1);
  const upper = new Float64Array(1);
  limitsOnScale(curve.limits)(survival, relativeError, z, lower, upper, 0);
  return { kind: 'estimated', standardError: survival * relativeError, lower: lower[0], upper: upper[0] };
}
