import { type NotEstimable, notEstimable } from '../absence';
import { normalUpperQuantile } from '../special/normal';
import { checkAboveZero, checkOpenFraction } from './check-planning';

export type LogRankFormula = 'schoenfeld' | 'freedman';

export type LogRankDesign = {
  /** Hazard in the treated arm over that in the control arm. */
  readonly hazardRatio: number;
  /** Two-sided; 0.05 unless stated. */
  readonly significanceLevel?: number;
  /** Treated cases per control case; 1 unless stated. */
  readonly allocationRatio?: number;
};

export type LogRankEvents = {
  readonly kind: 'estimated';
  /** As the formula gives it; `wholeEvents` is the next whole number. */
  readonly events: number;
  readonly wholeEvents: number;
  readonly formula: LogRankFormula;
};

/**
 * The number of events a log-rank comparison of two arms needs.
 *
 * Estimand: events in both arms together at which the two-sided test reaches the power if the hazard ratio is as given.
 * Formula, z_a and z_b the normal quantiles of half the significance level and of the power: 'schoenfeld' (default)
 * (z_a + z_b)^2/(p q (log HR)^2), p and q the arms' shares of the cases (Biometrics 1983;39:499); 'freedman'
 * (z_a + z_b)^2 (1 + r HR)^2/(r (1 - HR)^2), r treated per control (Stat Med 1982;1:121). The far tail of the test is
 * neglected. Cases: estimateLogRankSampleSize.
 * Not estimable: hazard ratio 1. @throws StatisticsError outOfRange.
 */
export function estimateLogRankEvents(
  design: LogRankDesign & { readonly power: number },
  options: { readonly formula?: LogRankFormula } = {},
): LogRankEvents | NotEstimable {
  const { formula = 'schoenfeld' } = options;
  const { hazardRatio, power, significanceLevel = 0.05, allocationRatio = 1 } = design;
  checkLogRankDesign(design);
  checkOpenFraction('power', power);
  if (hazardRatio === 1) return notEstimable('noEffect');
  const quantiles = (normalUpperQuantile(significanceLevel / 2) + normalUpperQuantile(1 - power)) ** 2;
  const events =
    formula === 'schoenfeld'
      ? quantiles / (balance(allocationRatio) * Math.log(hazardRatio) ** 2)
      : (quantiles * (1 + allocationRatio * hazardRatio) ** 2) / (allocationRatio * (1 - hazardRatio) ** 2);
  return { kind: 'estimated', events, wholeEvents: Math.ceil(events), formula };
}

/** @throws StatisticsError outOfRange. */
export function checkLogRankDesign({
  hazardRatio,
  significanceLevel = 0.05,
  allocationRatio = 1,
}: LogRankDesign): void {
  checkAboveZero('hazardRatio', hazardRatio);
  checkOpenFraction('significanceLevel', significanceLevel);
  checkAboveZero('allocationRatio', allocationRatio);
}

/** The product of both arms' shares of the cases. */
export function balance(allocationRatio: number): number {
  return allocationRatio / (1 + allocationRatio) ** 2;
}
