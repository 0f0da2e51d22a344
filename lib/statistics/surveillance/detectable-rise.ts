import { type NotEstimable, notEstimable } from '../absence';
import { StatisticsError } from '../errors';
import { betaQuantile } from '../special/beta';
import { binomialUpperQuantile, binomialUpperTail } from '../special/binomial';
import { checkOpenFraction, checkWholeFrom } from './check-chart';

export type DetectableRiseDesign = {
  /** Number of cases that will be judged together. */
  readonly n: number;
  readonly baselineRate: number;
  /** The chance of finding the rise, 0.8 when left out. */
  readonly power?: number;
  /** One-sided, 0.05 when left out. */
  readonly significanceLevel?: number;
};

export type DetectableRise = {
  readonly kind: 'derived';
  /** This many events or more count as a rise. */
  readonly criticalEvents: number;
  /** The chance of so many at the baseline rate: at most the significance level, less as counts are whole. */
  readonly attainedLevel: number;
  /** The smallest rate that is found with the power wanted, and what it is against the baseline rate. */
  readonly rate: number;
  readonly riskRatio: number;
  readonly oddsRatio: number;
};

/**
 * The smallest rise of a rate that n cases would show.
 *
 * Estimand: the smallest rate at which the one-sided exact binomial test of n cases against the baseline rate finds a rise
 * with the power wanted.
 * Formula: c the smallest count with P(X >= c) <= level at the baseline rate; the rate p with P(X >= c) = power, which is
 * the quantile of a beta distribution with c and n - c + 1 (exact binomial tails, as Clopper & Pearson 1934).
 * Convention: it is a plan, made before the cases are seen; smaller rises may be found, with less power.
 * Not estimable: so few cases that even an event in each would be no evidence.
 * @throws StatisticsError notFinite, notInteger, outOfRange (n below 1; a fraction not strictly between 0 and 1; power not
 * above the significance level).
 */
export function deriveDetectableRise(design: DetectableRiseDesign): DetectableRise | NotEstimable {
  const { n, baselineRate, power = 0.8, significanceLevel = 0.05 } = design;
  checkWholeFrom('n', n, 1);
  checkOpenFraction('baselineRate', baselineRate);
  checkOpenFraction('power', power);
  checkOpenFraction('significanceLevel', significanceLevel);
  if (power <= significanceLevel) {
    const message = `power is ${power}, not above the significance level; that much is reached without a rise.`;
    throw new StatisticsError('outOfRange', 'power', undefined, message);
  }
  const criticalEvents = binomialUpperQuantile(significanceLevel, n, baselineRate) + 1;
  if (criticalEvents > n) return notEstimable('tooFewCases');
  const rate = betaQuantile(power, criticalEvents, n - criticalEvents + 1);
  return {
    kind: 'derived',
    criticalEvents,
    attainedLevel: binomialUpperTail(criticalEvents - 1, n, baselineRate),
    rate,
    riskRatio: rate / baselineRate,
    oddsRatio: rate / (1 - rate) / (baselineRate / (1 - baselineRate)),
  };
}
