import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkConfidenceLevel, checkEqualLengths, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile, normalUpperTail } from '../special/normal';
import { studentUpperQuantile, studentUpperTail } from '../special/student';

/** Beyond so many degrees of freedom Student t is the normal distribution to twelve digits. */
const ENDLESS = 1e12;

export type PooledEstimate = {
  readonly kind: 'estimated';
  readonly estimate: number;
  /** Mean of the variances, and variance of the estimates. */
  readonly withinVariance: number;
  readonly betweenVariance: number;
  readonly totalVariance: number;
  readonly standardError: number;
  /** Infinity where the normal distribution holds. */
  readonly degreesOfFreedom: number;
  /** By how much the missing values raise the variance, and the part of the information that they cost. */
  readonly relativeIncrease: number;
  readonly missingInformation: number;
  readonly lower: number;
  readonly upper: number;
  /** Of an estimate of 0. */
  readonly t: number;
  readonly pValue: number;
};

/**
 * One estimate from those of several imputed sets, by Rubin's rules.
 *
 * Estimand: that of the analysis of each set. On a scale where it is about normal: pool the logarithm of a ratio.
 * Formula, m sets: mean Q, within W = mean of the variances, between B = variance of the estimates (m - 1), total
 * T = W + (1 + 1/m) B (Rubin, Multiple Imputation for Nonresponse in Surveys 1987, 3.1). With l = (1 + 1/m) B/T the degrees of
 * freedom are (m - 1)/l^2; given those of the complete data, v, they join harmonically with v (v + 1)/(v + 3) (1 - l) (Barnard
 * & Rubin, Biometrika 1999;86:948). Missing information (r + 2/(df + 3))/(r + 1), r = (1 + 1/m) B/W.
 * Not estimable: fewer than two sets.
 * @throws StatisticsError unequalLengths, notFinite, outOfRange (a variance of zero or less; degrees of freedom of the
 * complete data; `confidenceLevel`).
 */
export function poolEstimates(
  data: { readonly estimates: Column; readonly variances: Column },
  options: { readonly completeDegreesOfFreedom?: number; readonly confidenceLevel?: number } = {},
): PooledEstimate | NotEstimable {
  const { estimates, variances } = data;
  const { completeDegreesOfFreedom = Number.POSITIVE_INFINITY, confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkPooled(estimates, variances, completeDegreesOfFreedom);
  const m = estimates.length;
  if (m < 2) return notEstimable('tooFewImputations');
  const estimate = meanOf(estimates);
  const withinVariance = meanOf(variances);
  let squares = 0;
  for (let i = 0; i < m; i += 1) squares += (estimates[i] - estimate) ** 2;
  const betweenVariance = squares / (m - 1);
  const added = (1 + 1 / m) * betweenVariance;
  const totalVariance = withinVariance + added;
  const lost = added / totalVariance;
  const ofSets = (m - 1) / lost ** 2;
  const v = completeDegreesOfFreedom;
  const ofRows = v === Number.POSITIVE_INFINITY ? v : ((v + 1) / (v + 3)) * v * (1 - lost);
  const degreesOfFreedom = 1 / (1 / ofSets + 1 / ofRows);
  const relativeIncrease = added / withinVariance;
  const standardError = Math.sqrt(totalVariance);
  const t = estimate / standardError;
  const endless = degreesOfFreedom > ENDLESS;
  const tail = (1 - confidenceLevel) / 2;
  const width =
    standardError * (endless ? normalUpperQuantile(tail) : studentUpperQuantile(tail, degreesOfFreedom));
  const size = Math.abs(t);
  return {
    kind: 'estimated',
    ...{ estimate, withinVariance, betweenVariance, totalVariance, standardError, degreesOfFreedom },
    relativeIncrease,
    missingInformation: (relativeIncrease + 2 / (degreesOfFreedom + 3)) / (relativeIncrease + 1),
    lower: estimate - width,
    upper: estimate + width,
    t,
    pValue: 2 * (endless ? normalUpperTail(size) : studentUpperTail(size, degreesOfFreedom)),
  };
}

function checkPooled(estimates: Column, variances: Column, degreesOfFreedom: number): void {
  checkEqualLengths({ estimates, variances });
  checkFinite('estimates', estimates);
  checkFinite('variances', variances);
  for (let i = 0; i < variances.length; i += 1) {
    if (variances[i] > 0) continue;
    const message = `variances[${i}] is ${variances[i]}; give squared standard errors above 0.`;
    throw new StatisticsError('outOfRange', 'variances', i, message);
  }
  if (degreesOfFreedom > 0) return;
  const message = `completeDegreesOfFreedom is ${degreesOfFreedom}; give a number above 0, or leave it out.`;
  throw new StatisticsError('outOfRange', 'completeDegreesOfFreedom', undefined, message);
}

function meanOf(column: Column): number {
  let sum = 0;
  for (let i = 0; i < column.length; i += 1) sum += column[i];
  return sum / column.length;
}
