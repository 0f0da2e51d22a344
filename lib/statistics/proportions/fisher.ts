import { type NotEstimable, notEstimable } from '../absence';
import { type ArmCount, checkArms } from './arms';
import { tableDistribution, tableTails } from './table-distribution';

/** Tables at most this much more likely than the one seen count as equally likely. */
export const EQUALLY_LIKELY = 1 + 1e-7;

export type FisherExactTest = {
  readonly kind: 'tested';
  /** Two-sided: all tables no more likely than the one seen. */
  readonly pValue: number;
  /** One-sided, towards fewer events in the first arm, and towards more; the table seen counts in both. */
  readonly pLess: number;
  readonly pGreater: number;
};

/**
 * Fisher's exact test of equal proportions in two arms.
 *
 * Estimand: the hypothesis of odds ratio 1, conditional on both totals of the table.
 * Formula: hypergeometric probabilities (Fisher 1935); the two-sided p value sums all tables whose probability is at most
 * that of the table seen (relative tolerance 1e-7). Conditional limits for the odds ratio: estimateOddsRatio.
 * When the totals allow one table only (no events, or nothing but events), every p value is 1.
 * Not estimable: an arm without cases.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function testFisherExact(first: ArmCount, second: ArmCount): FisherExactTest | NotEstimable {
  checkArms(first, second);
  if (first.n === 0 || second.n === 0) return notEstimable('emptyArm');
  const distribution = tableDistribution(first, second, 1);
  const { lower, upper } = tableTails(distribution, first.events);
  const seen = distribution.probability[first.events - distribution.lowest];
  let pValue = 0;
  for (const probability of distribution.probability.toSorted()) {
    if (probability <= seen * EQUALLY_LIKELY) pValue += probability;
  }
  return { kind: 'tested', pValue: Math.min(1, pValue), pLess: lower, pGreater: upper };
}
