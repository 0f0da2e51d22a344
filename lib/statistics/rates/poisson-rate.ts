import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { checkConfidenceLevel } from '../check-input';
import { gammaQuantile, gammaUpperQuantile } from '../special/gamma';
import { normalUpperQuantile } from '../special/normal';
import { checkPersonTime } from './check-person-time';

export type PoissonRateLimits = 'exact' | 'byar' | 'wald';

export type PoissonRate = {
  readonly kind: 'estimated';
  readonly events: number;
  readonly personTime: number;
  /** Events per unit of the person-time given, as are the limits. */
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
  readonly limits: PoissonRateLimits;
  readonly confidenceLevel: number;
};

/**
 * A rate of events per time under observation, with limits.
 *
 * Estimand: the constant rate of a Poisson process; a case may have several events.
 * Formula, on the count and then divided by the person-time: limits 'exact' (default): the means m at which P(X >= x), or
 * P(X <= x), is half of 1 - confidenceLevel (Garwood, Biometrika 1936;28:437); 'byar' x (1 - 1/(9x) - z/(3 root x))^3 and
 * the same with + and x + 1 for x (Breslow & Day 1987, 69), its lower limit not below 0; 'wald' x -+ z root x, not cut at
 * 0 and without width at x = 0. Exact and Byar lower limits are exactly 0 without events.
 * Units: events per unit of personTime. Not estimable: no person-time.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (confidence level).
 */
export function estimatePoissonRate(
  events: number,
  personTime: number,
  options: { readonly limits?: PoissonRateLimits; readonly confidenceLevel?: number } = {},
): PoissonRate | NotEstimable {
  const { limits = 'exact', confidenceLevel = 0.95 } = options;
  checkCount('events', events);
  checkPersonTime('personTime', personTime);
  checkConfidenceLevel(confidenceLevel);
  if (personTime === 0) return notEstimable('noPersonTime');
  const { lower, upper } = LIMITS[limits](events, (1 - confidenceLevel) / 2);
  return {
    kind: 'estimated',
    events,
    personTime,
    rate: events / personTime,
    lower: lower / personTime,
    upper: upper / personTime,
    limits,
    confidenceLevel,
  };
}

type Limits = { readonly lower: number; readonly upper: number };

const LIMITS: Readonly<Record<PoissonRateLimits, (events: number, tail: number) => Limits>> = {
  exact: (events, tail) => ({
    lower: events === 0 ? 0 : gammaQuantile(events, tail),
    upper: gammaUpperQuantile(events + 1, tail),
  }),
  byar: (events, tail) => {
    const z = normalUpperQuantile(tail);
    const cube = (x: number, step: number): number => x * (1 - 1 / (9 * x) + step / (3 * Math.sqrt(x))) ** 3;
    return { lower: events === 0 ? 0 : Math.max(0, cube(events, -z)), upper: cube(events + 1, z) };
  },
  wald: (events, tail) => {
    const margin = normalUpperQuantile(tail) * Math.sqrt(events);
    return { lower: events - margin, upper: events + margin };
  },
};
