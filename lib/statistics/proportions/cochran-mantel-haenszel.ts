import { type NotEstimable, notEstimable } from '../absence';
import { chiSquareUpperTail } from '../special/chi-square';
import type { ChiSquareTest } from './pearson-chi-square';
import { comparableStrata, type StratifiedArms, sumOver } from './strata-of-arms';

/**
 * The Cochran-Mantel-Haenszel test of equal proportions within strata.
 *
 * Estimand: the hypothesis that within every stratum both arms have the same probability of the event, against a shift
 * of one direction.
 * Formula: (|sum(a - expected)| - c)^2/sum V, expected n1 m/n, V = n1 n2 m (n - m)/(n^2 (n - 1)), m events among n
 * (Mantel & Haenszel, JNCI 1959;22:719); c = 0, with `continuityCorrection` 1/2 or the distance if smaller. One degree
 * of freedom. Strata without cases in an arm, or of one outcome, carry nothing.
 * Not estimable: no stratum with cases in both arms and both outcomes.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange.
 */
export function testCochranMantelHaenszel(
  data: StratifiedArms,
  options: { readonly continuityCorrection?: boolean } = {},
): ChiSquareTest | NotEstimable {
  const strata = comparableStrata(data).filter(({ a, b, c, d }) => a + c > 0 && b + d > 0);
  if (strata.length === 0) return notEstimable('noStrata');
  const distance = Math.abs(sumOver(strata, ({ a, b, c, n }) => a - ((a + b) / n) * (a + c)));
  const variance = sumOver(
    strata,
    ({ a, b, c, d, n }) => ((((a + b) / n) * (c + d)) / n) * (((a + c) * (b + d)) / (n - 1)),
  );
  const counted = options.continuityCorrection ? Math.max(0, distance - 0.5) : distance;
  const chiSquare = (counted * counted) / variance;
  return { kind: 'tested', chiSquare, degreesOfFreedom: 1, pValue: chiSquareUpperTail(chiSquare, 1) };
}
