import { type NotEstimable, notEstimable } from '../absence';
import { bisect } from '../bisection';
import { checkEventsAmong } from '../check-counts';
import { checkConfidenceLevel } from '../check-input';
import { betaQuantile, betaUpperQuantile } from '../special/beta';
import { binomialLowerTail, binomialProbability, binomialUpperTail } from '../special/binomial';
import { normalUpperQuantile } from '../special/normal';
import { wilsonLimits } from './wilson-limits';

export type ProportionLimits =
  | 'wilson'
  | 'wilsonCorrected'
  | 'clopperPearson'
  | 'midP'
  | 'jeffreys'
  | 'agrestiCoull'
  | 'wald';

export type Proportion = {
  readonly kind: 'estimated';
  readonly events: number;
  readonly n: number;
  readonly proportion: number;
  readonly lower: number;
  readonly upper: number;
  readonly limits: ProportionLimits;
  readonly confidenceLevel: number;
};

/**
 * A proportion with limits of a chosen kind.
 *
 * Estimand: the probability of the event in one case, cases independent.
 * Formula, z the exact normal quantile and h half of 1 - confidenceLevel: limits 'wilson' (default) and 'wilsonCorrected'
 * as estimateWilsonInterval; 'clopperPearson' the p at which P(X >= x), or P(X <= x), is h (Biometrika 1934;26:404);
 * 'midP' the same with half of P(X = x) (Lancaster, JASA 1961;56:223; Berry & Armitage, Statistician 1995;44:417);
 * 'jeffreys' the h and 1 - h quantiles of beta(x + 1/2, n - x + 1/2) (Brown, Cai & DasGupta, Stat Sci 2001;16:101);
 * 'agrestiCoull' m -+ z root(m (1 - m)/(n + z^2)), m = (x + z^2/2)/(n + z^2) (Am Stat 1998;52:119); 'wald'
 * p -+ z root(p (1 - p)/n). The last two are not cut at 0 and 1; 'wald' has no width without events or without
 * non-events. All others have lower limit exactly 0 at x = 0 and upper exactly 1 at x = n.
 * Units: counts of cases; limits are fractions of 1. With n = 0 nothing is estimable.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (events > n, or the confidence level).
 */
export function estimateProportion(
  events: number,
  n: number,
  options: { readonly limits?: ProportionLimits; readonly confidenceLevel?: number } = {},
): Proportion | NotEstimable {
  const { limits = 'wilson', confidenceLevel = 0.95 } = options;
  checkEventsAmong('events', events, 'n', n);
  checkConfidenceLevel(confidenceLevel);
  if (n === 0) return notEstimable('noRows');
  const found = LIMITS[limits](events, n, (1 - confidenceLevel) / 2);
  return { kind: 'estimated', events, n, proportion: events / n, ...found, limits, confidenceLevel };
}

type Limits = { readonly lower: number; readonly upper: number };

const LIMITS: Readonly<Record<ProportionLimits, (events: number, n: number, tail: number) => Limits>> = {
  wilson: (events, n, tail) => wilsonLimits(events, n, normalUpperQuantile(tail), false),
  wilsonCorrected: (events, n, tail) => wilsonLimits(events, n, normalUpperQuantile(tail), true),
  clopperPearson: (events, n, tail) => ({
    lower: events === 0 ? 0 : betaQuantile(tail, events, n - events + 1),
    upper: events === n ? 1 : betaUpperQuantile(tail, events + 1, n - events),
  }),
  midP: (events, n, tail) => {
    const half = (p: number): number => binomialProbability(events, n, p) / 2;
    const above = (p: number): number => binomialUpperTail(events, n, p) + half(p);
    const below = (p: number): number => binomialLowerTail(events, n, p) - half(p);
    return {
      lower: events === 0 ? 0 : bisect(0, 1, (p) => above(p) < tail).middle,
      upper: events === n ? 1 : bisect(0, 1, (p) => below(p) > tail).middle,
    };
  },
  jeffreys: (events, n, tail) => ({
    lower: events === 0 ? 0 : betaQuantile(tail, events + 0.5, n - events + 0.5),
    upper: events === n ? 1 : betaUpperQuantile(tail, events + 0.5, n - events + 0.5),
  }),
  agrestiCoull: (events, n, tail) => {
    const z = normalUpperQuantile(tail);
    return plainLimits(events + (z * z) / 2, n + z * z, z);
  },
  wald: (events, n, tail) => plainLimits(events, n, normalUpperQuantile(tail)),
};

function plainLimits(events: number, n: number, z: number): Limits {
  const p = events / n;
  const margin = z * Math.sqrt((p * (1 - p)) / n);
  return { lower: p - margin, upper: p + margin };
}
