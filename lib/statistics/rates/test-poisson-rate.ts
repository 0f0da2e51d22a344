import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { StatisticsError } from '../errors';
import { logGamma } from '../special/log-gamma';
import { poissonLowerTail, poissonUpperTail } from '../special/poisson';
import { checkPersonTime } from './check-person-time';
import { minimumLikelihoodP } from './minimum-likelihood';

export type PoissonRateTest = {
  readonly kind: 'tested';
  /** Two-sided: all counts no more likely than the one seen. */
  readonly pValue: number;
  /** One-sided, towards fewer events and towards more; the count seen is in both. */
  readonly pLess: number;
  readonly pGreater: number;
};

/**
 * The exact test that a rate of events per person-time is as given.
 *
 * Estimand: the hypothesis of a Poisson process with that rate.
 * Formula: X ~ Poisson(rate x personTime); the two-sided p value sums the probabilities of all counts at most as likely as
 * the one seen (relative tolerance 1e-7). At rate 0 only no event at all is possible.
 * Units: rate per unit of personTime. Not estimable: no person-time.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (more than 1e15 events expected).
 */
export function testPoissonRate(
  events: number,
  personTime: number,
  rate: number,
): PoissonRateTest | NotEstimable {
  checkCount('events', events);
  checkPersonTime('personTime', personTime);
  checkRate(rate);
  if (personTime === 0) return notEstimable('noPersonTime');
  const mean = rate * personTime;
  checkExpected(mean);
  if (mean === 0) {
    const possible = events === 0 ? 1 : 0;
    return { kind: 'tested', pValue: possible, pLess: 1, pGreater: possible };
  }
  const lower = (x: number): number => poissonLowerTail(x, mean);
  const upper = (x: number): number => (x === 0 ? 1 : poissonUpperTail(x - 1, mean));
  const logProbability = (x: number): number => x * Math.log(mean) - mean - logGamma(x + 1);
  const pValue = minimumLikelihoodP(events, {
    mean,
    largest: Number.POSITIVE_INFINITY,
    logProbability,
    lower,
    upper,
  });
  return { kind: 'tested', pValue, pLess: lower(events), pGreater: upper(events) };
}

/** Beyond this neighbouring counts are no longer told apart. */
const LARGEST_EXPECTED = 1e15;

function checkExpected(mean: number): void {
  if (mean > LARGEST_EXPECTED) {
    const message = `rate times personTime is ${mean} events; no more than 1e15 can be counted.`;
    throw new StatisticsError('outOfRange', 'rate', undefined, message);
  }
}

function checkRate(rate: number): void {
  if (typeof rate !== 'number' || !Number.isFinite(rate)) {
    const message = `rate is ${String(rate)}; give events per unit of person-time.`;
    throw new StatisticsError('notFinite', 'rate', undefined, message);
  }
  if (rate < 0) {
    throw new StatisticsError('negative', 'rate', undefined, `rate is ${rate}; a rate is zero or more.`);
  }
}
