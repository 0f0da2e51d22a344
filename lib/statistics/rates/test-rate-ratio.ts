import { type NotEstimable, notEstimable } from '../absence';
import { binomialLowerTail, binomialProbability, binomialUpperTail } from '../special/binomial';
import { minimumLikelihoodP } from './minimum-likelihood';
import { checkRateArms, type RateCount } from './rate-arms';
import type { PoissonRateTest } from './test-poisson-rate';

/**
 * The exact test that two rates of events per person-time are equal.
 *
 * Estimand: the hypothesis that both groups share one rate.
 * Formula: given all events, those of the first group are binomial with probability t1/(t1 + t2); the two-sided p value sums
 * all counts at most as likely as the one seen (relative tolerance 1e-7) (Przyborowski & Wilenski, Biometrika 1940;31:313).
 * Not estimable: a group without person-time; no event in either group.
 * @throws StatisticsError notFinite, negative, notInteger.
 */
export function testRateRatio(first: RateCount, second: RateCount): PoissonRateTest | NotEstimable {
  checkRateArms(first, second);
  if (first.personTime === 0 || second.personTime === 0) return notEstimable('noPersonTime');
  const events = first.events + second.events;
  if (events === 0) return notEstimable('noEvents');
  const p = first.personTime / (first.personTime + second.personTime);
  const lower = (x: number): number => binomialLowerTail(x, events, p);
  const upper = (x: number): number => (x === 0 ? 1 : binomialUpperTail(x - 1, events, p));
  const pValue = minimumLikelihoodP(first.events, {
    mean: events * p,
    largest: events,
    logProbability: (x) => Math.log(binomialProbability(x, events, p)),
    lower,
    upper,
  });
  return { kind: 'tested', pValue, pLess: lower(first.events), pGreater: upper(first.events) };
}
