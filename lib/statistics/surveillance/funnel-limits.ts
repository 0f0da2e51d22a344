import { checkCount } from '../check-counts';
import { type Column, checkConfidenceLevel, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { wilsonLimits } from '../proportions/wilson-limits';
import { binomialLowerTail, binomialProbability, binomialQuantile } from '../special/binomial';
import { normalQuantile, normalUpperQuantile } from '../special/normal';
import { poissonLowerTail, poissonProbability, poissonQuantile } from '../special/poisson';
import { checkOpenFraction, checkSetting } from './check-chart';

export type FunnelLimits = {
  /** The smallest count that is reached, from below, with at least the probability asked for. */
  readonly quantileCount: Float64Array;
  /** The interpolated limit as a rate, not below 0; and the same before that cut. */
  readonly limit: Float64Array;
  readonly uncutLimit: Float64Array;
  /** The normal approximation, cut to 0 and 1. */
  readonly normal: Float64Array;
};

/**
 * One line of a funnel: the limit below which a unit's rate falls with a given probability, by the unit's size.
 *
 * Estimand: the quantile of events/n when every unit has the target rate.
 * Formula: r the smallest count with P(R <= r) >= p for R binomial(n, target); a = (P(R <= r) - p)/P(R = r); limit
 * (r - a)/n, cut at 0 (Spiegelhalter, Stat Med 2005;24:1185). Normal: target + z_p root(phi target(1 - target)/n), cut to 0
 * and 1, phi the `overdispersion` (1 when left out).
 * Shapes: one size per unit, or per point of the line. Units: fractions of 1.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (a unit without cases, target or probability not
 * strictly between 0 and 1, overdispersion below 1).
 */
export function deriveFunnelLimits(
  n: Column,
  target: number,
  probability: number,
  options: { readonly overdispersion?: number } = {},
): FunnelLimits {
  const { overdispersion = 1 } = options;
  checkUnitSizes(n);
  checkOpenFraction('target', target);
  checkOpenFraction('probability', probability);
  checkOverdispersion(overdispersion);
  const z = normalQuantile(probability);
  const quantileCount = Float64Array.from(n, (size) => binomialQuantile(probability, size, target));
  const uncutLimit = quantileCount.map((count, i) => {
    const beyond = binomialLowerTail(count, n[i], target) - probability;
    return (count - beyond / binomialProbability(count, n[i], target)) / n[i];
  });
  const normal = Float64Array.from(n, (size) =>
    Math.min(1, Math.max(0, target + z * Math.sqrt((overdispersion * target * (1 - target)) / size))),
  );
  return { quantileCount, limit: uncutLimit.map((limit) => Math.max(0, limit)), uncutLimit, normal };
}

export type RatioFunnelLimits = Pick<FunnelLimits, 'quantileCount' | 'limit' | 'uncutLimit'>;

/**
 * One line of a funnel of observed over expected events, by the number expected.
 *
 * Estimand: the quantile of observed/expected when every unit's events are Poisson with the mean expected.
 * Formula: as deriveFunnelLimits with the Poisson distribution: (r - a)/expected, cut at 0.
 * The ratio of one unit with its own exact limits is estimatePoissonRate(observed, expected).
 * Shapes: one expected number per unit, above 0. Units: a ratio; 1 is as expected.
 * @throws StatisticsError notFinite, outOfRange (nothing expected, probability not strictly between 0 and 1).
 */
export function deriveRatioFunnelLimits(expected: Column, probability: number): RatioFunnelLimits {
  checkExpected(expected);
  checkOpenFraction('probability', probability);
  const quantileCount = Float64Array.from(expected, (mean) => poissonQuantile(probability, mean));
  const uncutLimit = quantileCount.map((count, i) => {
    const beyond = poissonLowerTail(count, expected[i]) - probability;
    return (count - beyond / poissonProbability(count, expected[i])) / expected[i];
  });
  return { quantileCount, limit: uncutLimit.map((limit) => Math.max(0, limit)), uncutLimit };
}

/**
 * Both lines of a funnel by the score limits of the target itself.
 *
 * Estimand: the Wilson interval that a unit would have whose rate is exactly the target.
 * Formula: Wilson's limits (J Am Stat Assoc 1927;22:209) with target x n events, whole or not. A simpler funnel, close to the
 * normal one; it is not the quantile of the unit's rate.
 * Shapes: one size per unit. Units: fractions of 1.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (a unit without cases, target, confidence level).
 */
export function deriveWilsonFunnelLimits(
  n: Column,
  target: number,
  options: { readonly confidenceLevel?: number } = {},
): { readonly lower: Float64Array; readonly upper: Float64Array } {
  const { confidenceLevel = 0.95 } = options;
  checkUnitSizes(n);
  checkOpenFraction('target', target);
  checkConfidenceLevel(confidenceLevel);
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const limits = Array.from(n, (size) => wilsonLimits(target * size, size, z, false));
  return {
    lower: Float64Array.from(limits, ({ lower }) => lower),
    upper: Float64Array.from(limits, ({ upper }) => upper),
  };
}

/** @throws StatisticsError notFinite, negative, notInteger, outOfRange for a unit without cases. */
export function checkUnitSizes(n: Column): void {
  for (let i = 0; i < n.length; i += 1) {
    checkCount('n', n[i], i);
    if (n[i] === 0) {
      const message = `n[${i}] is 0; a unit without cases has no place in a funnel, leave it out.`;
      throw new StatisticsError('outOfRange', 'n', i, message);
    }
  }
}

function checkExpected(expected: Column): void {
  checkFinite('expected', expected);
  for (let i = 0; i < expected.length; i += 1) {
    if (expected[i] <= 0) {
      const message = `expected[${i}] is ${expected[i]}; a unit needs an expected number above 0.`;
      throw new StatisticsError('outOfRange', 'expected', i, message);
    }
  }
}

function checkOverdispersion(value: number): void {
  checkSetting('overdispersion', value);
  if (value < 1) {
    const message = `overdispersion is ${value}; give 1 or more, limits are never drawn closer than chance.`;
    throw new StatisticsError('outOfRange', 'overdispersion', undefined, message);
  }
}
