import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { wilsonLimits } from './wilson-limits';

export type ZeroEventLimits = {
  readonly kind: 'estimated';
  readonly n: number;
  /** 3/n, at most 1: the rule of three, for 95 % whatever the confidence level. */
  readonly ruleOfThree: number;
  /** An event somewhere had that chance only if the true rate was this or more: one-sided, exact. */
  readonly exactOneSided: number;
  /** Upper end of the two-sided exact interval. */
  readonly exactTwoSidedUpper: number;
  /** -log(1 - confidenceLevel)/n: the one-sided limit for a rate per case rather than a probability; can pass 1. */
  readonly poissonOneSided: number;
  /** Upper end of the two-sided Wilson interval. */
  readonly wilsonUpper: number;
  readonly confidenceLevel: number;
};

/**
 * What can still be true when nothing has happened among n cases.
 *
 * Estimand: an upper limit for the probability of the event in one case, cases independent.
 * Formula, a = 1 - confidenceLevel: one-sided exact 1 - a^(1/n); two-sided exact 1 - (a/2)^(1/n) (Clopper & Pearson,
 * Biometrika 1934;26:404); 3/n (Hanley & Lippman-Hand, JAMA 1983;249:1743); -log(a)/n; Wilson z^2/(n + z^2).
 * Two-sided and one-sided limits answer different questions and are never to be mixed in one table.
 * With n = 0 nothing is estimable. @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function estimateZeroEventLimits(
  n: number,
  options: { readonly confidenceLevel?: number } = {},
): ZeroEventLimits | NotEstimable {
  const { confidenceLevel = 0.95 } = options;
  checkCount('n', n);
  checkConfidenceLevel(confidenceLevel);
  if (n === 0) return notEstimable('noRows');
  const logTail = Math.log1p(-confidenceLevel);
  return {
    kind: 'estimated',
    n,
    ruleOfThree: Math.min(1, 3 / n),
    exactOneSided: -Math.expm1(logTail / n),
    exactTwoSidedUpper: -Math.expm1((logTail - Math.LN2) / n),
    poissonOneSided: -logTail / n,
    wilsonUpper: wilsonLimits(0, n, normalUpperQuantile((1 - confidenceLevel) / 2), false).upper,
    confidenceLevel,
  };
}
