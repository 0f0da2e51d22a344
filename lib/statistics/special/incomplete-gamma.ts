import { checkFromZero, checkShape } from './check-arguments';
import { gammaTails } from './gamma-kernel';

/**
 * P(a, x): the lower tail of the gamma distribution with the given shape and scale 1, at x >= 0.
 * Relative error below 1e-12 in either tail, wherever the value is a normal double.
 * Formula: the series x^k / ((a+1)...(a+k)) below a + 1, Legendre's continued fraction above (Abramowitz & Stegun
 * 6.5.29, 6.5.31; for small shapes the upper tail by 6.5.29 in the alternating form); the leading factor by the
 * saddle point (Loader 2000, "Fast and accurate computation of binomial probabilities").
 * @throws StatisticsError outOfRange (shape outside 1e-300 to 1e15); notFinite or negative for x.
 */
export function gammaLowerTail(shape: number, x: number): number {
  checkArguments(shape, x);
  if (x === 0) return 0;
  return x === Number.POSITIVE_INFINITY ? 1 : gammaTails(shape, x).lower;
}

/** Q(a, x) = 1 - P(a, x), computed on its own; see gammaLowerTail. @throws StatisticsError outOfRange, notFinite, negative. */
export function gammaUpperTail(shape: number, x: number): number {
  checkArguments(shape, x);
  if (x === 0) return 1;
  return x === Number.POSITIVE_INFINITY ? 0 : gammaTails(shape, x).upper;
}

function checkArguments(shape: number, x: number): void {
  checkShape('shape', shape);
  checkFromZero('x', x);
}
