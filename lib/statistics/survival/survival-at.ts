import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkTimes } from '../check-input';
import { countBefore, countThrough } from './equal-times';
import type { ReadableCurve } from './kaplan-meier';

export type EstimatedInterval = {
  readonly kind: 'estimated';
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
};

export type SurvivalPoint = {
  readonly kind: 'estimated';
  readonly timeDays: number;
  readonly survival: number;
  /** Under observation at this time: entry < time asked for <= time of leaving. */
  readonly atRisk: number;
  /** True after the last case has left: the last value is carried, with nobody at risk. */
  readonly beyondFollowUp: boolean;
  readonly interval: EstimatedInterval | NotEstimable;
};

/**
 * The curve read at fixed times (days, any order).
 *
 * Estimand: S(t) with its limits, on the scale the curve was made with. S includes the events at t. After the last
 * follow-up the last value is carried, with atRisk 0 and beyondFollowUp true. Before the first event and once S is
 * 0 the interval is not estimable; a curve without cases is not estimable at any time.
 * A time asked for is equal to a curve time within 2^-26.
 * @throws StatisticsError notFinite, negative (argument `times`).
 */
export function survivalAt(curve: ReadableCurve, times: Column): (SurvivalPoint | NotEstimable)[] {
  checkTimes('times', times);
  return Array.from(times, (time) => (curve.n === 0 ? notEstimable('noRows') : pointAt(curve, time)));
}

function pointAt(curve: ReadableCurve, timeDays: number): SurvivalPoint {
  const through = countThrough(curve.timeDays, timeDays);
  const before = countBefore(curve.timeDays, timeDays);
  const beyondFollowUp = before === curve.timeDays.length;
  return {
    kind: 'estimated',
    timeDays,
    survival: through === 0 ? 1 : curve.survival[through - 1],
    atRisk: beyondFollowUp
      ? 0
      : curve.atRisk[before] - enteredBetween(curve, timeDays, curve.timeDays[before]),
    beyondFollowUp,
    interval: intervalAt(curve, through - 1),
  };
}

/** Cases counted at risk at the next curve time that had not entered before the time asked for. */
function enteredBetween(curve: ReadableCurve, timeDays: number, nextDays: number): number {
  const to = countBefore(curve.entryDays, nextDays);
  let entered = 0;
  for (let i = countBefore(curve.entryDays, timeDays); i < to; i += 1) entered += curve.entered[i];
  return entered;
}

function intervalAt(curve: ReadableCurve, i: number): EstimatedInterval | NotEstimable {
  if (hasTooFewClusters(curve)) return notEstimable('tooFewClusters');
  if (i < curve.intervalFrom) return notEstimable('noEventYet');
  if (i >= curve.intervalTo) return notEstimable('curveAtZero');
  return {
    kind: 'estimated',
    standardError: curve.standardError[i],
    lower: curve.lower[i],
    upper: curve.upper[i],
  };
}

/** A robust variance needs two clusters: one alone always moves the curve by nothing. */
export function hasTooFewClusters({ clusterCount }: ReadableCurve): boolean {
  return clusterCount !== undefined && clusterCount < 2;
}
