import { bisect } from '../bisection';
import type { ArmCount } from './arms';

/**
 * Limits of p1 - p2 by inverting the score test: the differences whose chi-square against the data is z^2, the variance
 * taken at the most likely pair of proportions with that difference, times `inflation`.
 */
export function scoreDifferenceLimits(
  first: ArmCount,
  second: ArmCount,
  z: number,
  inflation: number,
): { readonly lower: number; readonly upper: number } {
  const estimate = first.events / first.n - second.events / second.n;
  const plausible = (difference: number): boolean =>
    (estimate - difference) ** 2 <= z * z * inflation * varianceAt(first, second, difference);
  return {
    lower: bisect(estimate, -1, plausible).middle,
    upper: bisect(estimate, 1, plausible).middle,
  };
}

function varianceAt(first: ArmCount, second: ArmCount, difference: number): number {
  const q = secondProportionAt(first, second, difference);
  const p = q + difference;
  return Math.max(0, p * (1 - p)) / first.n + (q * (1 - q)) / second.n;
}

/** The most likely p2 when p1 = p2 + difference: the log-likelihood is concave, so its slope falls through zero once. */
function secondProportionAt(first: ArmCount, second: ArmCount, difference: number): number {
  const low = Math.max(0, -difference);
  const high = Math.min(1, 1 - difference);
  const rising = (q: number): boolean => {
    const p = q + difference;
    const gain = share(first.events, p) + share(second.events, q);
    return gain > share(first.n - first.events, 1 - p) + share(second.n - second.events, 1 - q);
  };
  return bisect(low, high, rising).middle;
}

function share(count: number, probability: number): number {
  return count === 0 ? 0 : count / Math.max(probability, Number.MIN_VALUE);
}
