import { bisect } from '../bisection';
import type { ArmCount } from './arms';

/** Far beyond any ratio that counts can tell from zero or infinity, and its square is still a double. */
const WIDEST_LOG_RATIO = 300;

/**
 * Limits of p1/p2 by inverting the score test, as scoreDifferenceLimits does for the difference. Without events in the
 * first arm the lower limit is 0, without events in the second the upper is Infinity. Needs an event somewhere.
 */
export function scoreRatioLimits(
  first: ArmCount,
  second: ArmCount,
  z: number,
  inflation: number,
): { readonly lower: number; readonly upper: number } {
  const plausible = (logRatio: number): boolean =>
    chiSquareAt(first, second, Math.exp(logRatio)) <= z * z * inflation;
  const estimate = Math.log(first.events / first.n / (second.events / second.n));
  const from = (end: number): number => (Number.isFinite(estimate) ? estimate : -end);
  return {
    lower:
      first.events === 0 ? 0 : Math.exp(bisect(from(-WIDEST_LOG_RATIO), -WIDEST_LOG_RATIO, plausible).middle),
    upper:
      second.events === 0
        ? Number.POSITIVE_INFINITY
        : Math.exp(bisect(from(WIDEST_LOG_RATIO), WIDEST_LOG_RATIO, plausible).middle),
  };
}

/** Koopman's chi-square of p1 = ratio p2; the variance is 0 only at the estimate itself, which is never asked for. */
function chiSquareAt(first: ArmCount, second: ArmCount, ratio: number): number {
  const q = secondProportionAt(first, second, ratio);
  const p = Math.min(1, q * ratio);
  const distance = first.events / first.n - (second.events / second.n) * ratio;
  const variance = (p * (1 - p)) / first.n + (ratio * p * (1 - q)) / second.n;
  return (distance * distance) / variance;
}

/** The most likely p2 when p1 = ratio p2: the smaller root of a quadratic, as product over larger root. */
function secondProportionAt(first: ArmCount, second: ArmCount, ratio: number): number {
  const leading = (first.n + second.n) * ratio;
  const middle = ratio * (first.n + second.events) + first.events + second.n;
  const events = first.events + second.events;
  const root = Math.sqrt(Math.max(0, middle * middle - 4 * leading * events));
  return Math.min(1, (2 * events) / (middle + root));
}
