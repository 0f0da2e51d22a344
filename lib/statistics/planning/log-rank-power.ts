import { normalLowerTail, normalUpperQuantile } from '../special/normal';
import { checkAboveZero } from './check-planning';
import { balance, checkLogRankDesign, type LogRankDesign } from './log-rank-events';

/**
 * The power of a log-rank comparison of two arms once a number of events has been seen.
 *
 * Estimand: the probability that the two-sided test rejects in the direction of the true hazard ratio.
 * Formula: Phi(root(d p q) |log HR| - z_a), p and q the arms' shares of the cases, z_a the normal quantile of half the
 * significance level (Schoenfeld, Biometrics 1983;39:499). At hazard ratio 1 that is half the significance level.
 * Units: events in both arms together, any number above 0. @throws StatisticsError outOfRange.
 */
export function estimateLogRankPower(design: LogRankDesign & { readonly events: number }): number {
  const { hazardRatio, events, significanceLevel = 0.05, allocationRatio = 1 } = design;
  checkLogRankDesign(design);
  checkAboveZero('events', events);
  const shift = Math.sqrt(events * balance(allocationRatio)) * Math.abs(Math.log(hazardRatio));
  return normalLowerTail(shift - normalUpperQuantile(significanceLevel / 2));
}
