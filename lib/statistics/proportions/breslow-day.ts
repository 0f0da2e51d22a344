import { type NotEstimable, notEstimable } from '../absence';
import { bisect } from '../bisection';
import { chiSquareUpperTail } from '../special/chi-square';
import { estimateMantelHaenszel } from './mantel-haenszel';
import { comparableStrata, type StratifiedArms, type Stratum } from './strata-of-arms';

export type BreslowDayTest = {
  readonly kind: 'tested';
  readonly chiSquare: number;
  readonly pValue: number;
  /** With Tarone's correction for the odds ratio not being the most likely one: the one to report. */
  readonly taroneChiSquare: number;
  readonly taronePValue: number;
  readonly degreesOfFreedom: number;
};

/**
 * The Breslow-Day test: is the odds ratio the same in every stratum?
 *
 * Estimand: the hypothesis of one odds ratio in all strata.
 * Formula: sum (a - A)^2/V, A the events of the first arm that the stratum's totals give at the Mantel-Haenszel odds
 * ratio, V = 1/(1/A + 1/B + 1/C + 1/D) (Breslow & Day, Statistical Methods in Cancer Research I, 1980, 142); Tarone
 * subtracts (sum(a - A))^2/sum V (Biometrika 1985;72:91). Chi-square with strata - 1 degrees of freedom; each stratum
 * should be large. Strata without cases in an arm, or of one outcome, carry nothing.
 * Not estimable: as estimateMantelHaenszel; fewer than two strata left.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange.
 */
export function testBreslowDay(data: StratifiedArms): BreslowDayTest | NotEstimable {
  const pooled = estimateMantelHaenszel(data);
  if (pooled.kind === 'notEstimable') return pooled;
  const strata = comparableStrata(data).filter(({ a, b, c, d }) => a + c > 0 && b + d > 0);
  if (strata.length < 2) return notEstimable('oneStratum');
  let chiSquare = 0;
  let distance = 0;
  let variances = 0;
  for (const stratum of strata) {
    const { expected, variance } = fitted(stratum, pooled.estimate);
    chiSquare += (stratum.a - expected) ** 2 / variance;
    distance += stratum.a - expected;
    variances += variance;
  }
  const degreesOfFreedom = strata.length - 1;
  const taroneChiSquare = Math.max(0, chiSquare - (distance * distance) / variances);
  return {
    kind: 'tested',
    chiSquare,
    pValue: chiSquareUpperTail(chiSquare, degreesOfFreedom),
    taroneChiSquare,
    taronePValue: chiSquareUpperTail(taroneChiSquare, degreesOfFreedom),
    degreesOfFreedom,
  };
}

/** The cell at which the stratum's totals have this odds ratio: the cross product rises with it. */
function fitted(
  { a, b, c, d }: Stratum,
  oddsRatio: number,
): { readonly expected: number; readonly variance: number } {
  const [first, events] = [a + b, a + c];
  const { middle: expected } = bisect(
    Math.max(0, events - c - d),
    Math.min(first, events),
    (x) => x * (c + d - events + x) < oddsRatio * (first - x) * (events - x),
  );
  const cells = [expected, first - expected, events - expected, c + d - events + expected];
  return { expected, variance: 1 / cells.reduce((sum, cell) => sum + 1 / cell, 0) };
}
