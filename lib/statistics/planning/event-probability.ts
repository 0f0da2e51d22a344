import { checkAboveZero, checkFraction } from './check-planning';

/** How long cases are watched: to one fixed time, or from a uniform accrual up to a closing date. */
export type FollowUpPlan =
  | {
      readonly kind: 'fixed';
      /** Share of the control arm free of the event at that time. */
      readonly survivalControl: number;
    }
  | {
      readonly kind: 'accrual';
      /** Constant hazard of the control arm, per unit of the times below. */
      readonly hazardControl: number;
      readonly accrual: number;
      /** From the end of accrual to the closing date. */
      readonly followUp: number;
    };

export type EventProbability = {
  readonly control: number;
  readonly treated: number;
  /** Over both arms, in their proportions. */
  readonly overall: number;
};

/**
 * The probability that a case of a planned comparison has its event while it is watched.
 *
 * Estimand: P(event observed) per arm and overall, without loss to follow-up, hazards proportional.
 * Formula: fixed: 1 - S and 1 - S^HR. Accrual: uniform entry over a, then f more, exponential times:
 * 1 - (exp(-l f) - exp(-l (a + f)))/(l a) with l, and l HR, as hazard (Schoenfeld, Biometrics 1983;39:499, gives the
 * general integral). Units: hazard per unit of the times. @throws StatisticsError outOfRange.
 */
export function estimateEventProbability(
  plan: FollowUpPlan,
  design: { readonly hazardRatio: number; readonly allocationRatio?: number },
): EventProbability {
  const { hazardRatio, allocationRatio = 1 } = design;
  checkAboveZero('hazardRatio', hazardRatio);
  checkAboveZero('allocationRatio', allocationRatio);
  checkPlan(plan);
  const control = probability(plan, 1);
  const treated = probability(plan, hazardRatio);
  return { control, treated, overall: (control + allocationRatio * treated) / (1 + allocationRatio) };
}

function checkPlan(plan: FollowUpPlan): void {
  if (plan.kind === 'fixed') {
    checkFraction('survivalControl', plan.survivalControl);
    return;
  }
  checkAboveZero('hazardControl', plan.hazardControl);
  checkAboveZero('accrual', plan.accrual);
  if (plan.followUp !== 0) checkAboveZero('followUp', plan.followUp);
}

function probability(plan: FollowUpPlan, hazardRatio: number): number {
  if (plan.kind === 'fixed') return 1 - plan.survivalControl ** hazardRatio;
  const hazard = plan.hazardControl * hazardRatio;
  const entering = -Math.expm1(-hazard * plan.accrual) / (hazard * plan.accrual);
  return 1 - Math.exp(-hazard * plan.followUp) * entering;
}
