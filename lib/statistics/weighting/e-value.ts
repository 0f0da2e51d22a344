import { type NotEstimable, notEstimable } from '../absence';
import { StatisticsError } from '../errors';

/** What the estimate is. `common`: the outcome happened to more than about 15 % by the end of follow-up. */
export type EValueMeasure =
  | 'riskRatio'
  | 'oddsRatioRare'
  | 'oddsRatioCommon'
  | 'hazardRatioRare'
  | 'hazardRatioCommon';

export type EValue = {
  readonly kind: 'estimated';
  /** The estimate and its limits as risk ratios. */
  readonly riskRatio: number;
  readonly limits: { readonly lower: number; readonly upper: number } | NotEstimable;
  readonly eValue: number;
  /** Of the limit nearer 1: 1 when the interval holds 1. */
  readonly eValueOfLimit: number | NotEstimable;
};

/**
 * How strong an unmeasured confounder would have to be to explain an association away.
 *
 * Estimand: the smallest risk ratio that the confounder must have with both the treatment and the outcome, beyond the
 * measured covariates, for the true risk ratio to be 1.
 * Formula: RR + sqrt(RR (RR - 1)), of 1/RR below 1 (VanderWeele & Ding, Ann Intern Med 2017;167:268). Odds and hazard
 * ratios of rare outcomes stand for risk ratios; of common ones sqrt(OR) and (1 - 0.5^sqrt(HR))/(1 - 0.5^sqrt(1/HR)) do.
 * Not estimable: what belongs to the limits, when none are given.
 * @throws StatisticsError notFinite (one limit without the other too), outOfRange (a ratio of zero or less; limits that do not enclose the estimate).
 */
export function estimateEValue(
  ratio: { readonly estimate: number; readonly lower?: number; readonly upper?: number },
  options: { readonly measure?: EValueMeasure } = {},
): EValue {
  const { estimate, lower, upper } = ratio;
  const { measure = 'riskRatio' } = options;
  checkRatio('estimate', estimate);
  const riskRatio = asRiskRatio(estimate, measure);
  const basis = { kind: 'estimated' as const, riskRatio, eValue: eValueOf(riskRatio) };
  if (lower === undefined && upper === undefined)
    return { ...basis, limits: notEstimable('noLimits'), eValueOfLimit: notEstimable('noLimits') };
  const given = checkLimits(estimate, lower, upper);
  const limits = { lower: asRiskRatio(given.lower, measure), upper: asRiskRatio(given.upper, measure) };
  return { ...basis, limits, eValueOfLimit: eValueOf(Math.max(limits.lower, Math.min(1, limits.upper))) };
}

function checkLimits(
  estimate: number,
  lower: number | undefined,
  upper: number | undefined,
): { readonly lower: number; readonly upper: number } {
  const limits = { lower: checkRatio('lower', lower), upper: checkRatio('upper', upper) };
  for (const name of ['lower', 'upper'] as const) {
    if (name === 'lower' ? limits.lower <= estimate : limits.upper >= estimate) continue;
    const message = `${name} is ${limits[name]} but the estimate is ${estimate}; limits lie on either side of it.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
  return limits;
}

function checkRatio(name: string, value: number | undefined): number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new StatisticsError('notFinite', name, undefined, `${name} is ${value}; give a ratio above 0.`);
  }
  if (value <= 0) {
    throw new StatisticsError('outOfRange', name, undefined, `${name} is ${value}; a ratio is above 0.`);
  }
  return value;
}

function asRiskRatio(value: number, measure: EValueMeasure): number {
  if (measure === 'oddsRatioCommon') return Math.sqrt(value);
  if (measure !== 'hazardRatioCommon') return value;
  // 1 - 0.5^x without cancellation.
  return Math.expm1(-Math.LN2 * Math.sqrt(value)) / Math.expm1(-Math.LN2 / Math.sqrt(value));
}

function eValueOf(riskRatio: number): number {
  const away = Math.max(riskRatio, 1 / riskRatio);
  return away + Math.sqrt(away * (away - 1));
}
