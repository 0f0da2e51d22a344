/**
 * The statistics library: pure functions on typed or plain arrays, no dependency.
 *
 * Numbers in, numbers out. Columns are `Column = ArrayLike<number>`: equal length, finite, times >= 0 in days.
 * A caller's mistake throws `StatisticsError` (`code`, `argument`, `index`). What cannot be estimated is a tagged
 * result (`kind: 'notEstimable' | 'notReached'`), never NaN or null.
 *
 * Survival (event: 1 event, 0 censored; group codes 0..groupCount-1; entryDays < timeDays)
 *   estimateKaplanMeier({ timeDays, event, entryDays? }, { limits?, confidenceLevel? }): KaplanMeierCurve
 *   estimateKaplanMeierByGroup({ timeDays, event, group, entryDays? }, { groupCount?, limits?, confidenceLevel? }):
 *     KaplanMeierCurve[]                             index = group code; a group without cases is a curve with n = 0
 *   survivalAt(curve, times): (SurvivalPoint | NotEstimable)[]
 *     SurvivalPoint { kind: 'estimated', timeDays, survival, atRisk, beyondFollowUp, interval }
 *     interval: { kind: 'estimated', standardError, lower, upper } | NotEstimable (no event yet; curve at zero)
 *   survivalQuantile(curve, probability): SurvivalQuantile
 *     { kind: 'reached', timeDays, lower, upper } | { kind: 'notReached', reason, lower, upper } | NotEstimable
 *     lower, upper: { kind: 'reached', timeDays } | { kind: 'notReached', reason }
 *   countsAtTicks(curve, ticks): TickCounts          atRisk + eventsSoFar + censoredSoFar + notYetEntered = n
 *   testLogRank({ timeDays, event, group, entryDays?, strata? }, { groupCount? }): LogRankTest | NotEstimable
 *     { kind: 'tested', chiSquare, degreesOfFreedom, pValue, groups: { group, n, observed, expected }[], covariance }
 *   estimateCumulativeIncidence({ timeDays, status, entryDays? }, { causeCount?, limits?, confidenceLevel? })
 *   estimateCumulativeIncidenceByGroup({ ..., group }, { groupCount?, ... }): CumulativeIncidence[]
 *     status: 0 censored, 1..causeCount causes; result.causes[cause - 1] holds the curve of that cause
 *   incidenceAt(estimate, cause, times): (IncidencePoint | NotEstimable)[]
 * Proportions
 *   estimateWilsonInterval(events, n, { confidenceLevel? }): WilsonInterval | NotEstimable
 *     { kind: 'estimated', events, n, proportion, lower, upper }
 * Special functions
 *   normalDensity(z), normalLowerTail(z), normalUpperTail(z), normalQuantile(p), normalUpperQuantile(p)
 *   chiSquareLowerTail(x, degreesOfFreedom), chiSquareUpperTail(x, degreesOfFreedom)
 *   logGamma(x), gammaLowerTail(shape, x), gammaUpperTail(shape, x)
 */
export type { NotEstimable, NotEstimableCode } from './absence';
export type { Column } from './check-input';
export { StatisticsError, type StatisticsErrorCode } from './errors';
export { estimateWilsonInterval, type WilsonInterval } from './proportions/wilson';
export { chiSquareLowerTail, chiSquareUpperTail } from './special/chi-square';
export { gammaLowerTail, gammaUpperTail } from './special/incomplete-gamma';
export { logGamma } from './special/log-gamma';
export {
  normalDensity,
  normalLowerTail,
  normalQuantile,
  normalUpperQuantile,
  normalUpperTail,
} from './special/normal';
export { countsAtTicks, type TickCounts } from './survival/counts-at-ticks';
export {
  type CauseIncidence,
  type CompetingData,
  type CumulativeIncidence,
  estimateCumulativeIncidence,
  estimateCumulativeIncidenceByGroup,
  type GroupedCompetingData,
  type IncidenceOptions,
} from './survival/cumulative-incidence';
export { type IncidencePoint, incidenceAt } from './survival/incidence-at';
export type { IncidenceLimits } from './survival/incidence-limits';
export {
  estimateKaplanMeier,
  estimateKaplanMeierByGroup,
  type GroupedSurvivalData,
  type KaplanMeierCurve,
  type KaplanMeierOptions,
  type SurvivalData,
} from './survival/kaplan-meier';
export { type LogRankData, type LogRankGroup, type LogRankTest, testLogRank } from './survival/log-rank';
export { type EstimatedInterval, type SurvivalPoint, survivalAt } from './survival/survival-at';
export type { SurvivalLimits } from './survival/survival-limits';
export { type QuantileLimit, type SurvivalQuantile, survivalQuantile } from './survival/survival-quantile';
