import { checkFromZero, checkOpenProbability, checkShape } from './check-arguments';
import { gammaFactor, gammaQuantileOf } from './gamma-kernel';

/**
 * Density of the gamma distribution with the given shape and scale 1 at x >= 0; for another scale divide x and the density
 * by it. At 0 it is infinite, 1 or 0 for shapes below, at or above 1. Relative error below 1e-12.
 * Formula: x^(a - 1) e^-x / gamma(a) (Abramowitz & Stegun 26.1.32), by the saddle point (Loader 2000).
 * @throws StatisticsError outOfRange (shape outside 1e-300 to 1e15); notFinite or negative for x.
 */
export function gammaDensity(shape: number, x: number): number {
  checkShape('shape', shape);
  checkFromZero('x', x);
  if (x === Number.POSITIVE_INFINITY) return 0;
  if (x > 0) return gammaFactor(shape, x) * (shape / x);
  if (shape === 1) return 1;
  return shape < 1 ? Number.POSITIVE_INFINITY : 0;
}

/**
 * The x with P(shape, x) = p, for 0 < p < 1 and scale 1. Newton's method on the logarithm of the smaller tail in log x,
 * which is concave. What is smaller than any double is 0. For p close to 1 use gammaUpperQuantile: 1 - p is rounded before
 * it arrives. @throws StatisticsError outOfRange (p or shape).
 */
export function gammaQuantile(shape: number, p: number): number {
  checkShape('shape', shape);
  checkOpenProbability(p);
  return gammaQuantileOf(shape, p, 1 - p);
}

/** The x with Q(shape, x) = p, for 0 < p < 1; see gammaQuantile. @throws StatisticsError outOfRange. */
export function gammaUpperQuantile(shape: number, p: number): number {
  checkShape('shape', shape);
  checkOpenProbability(p);
  return gammaQuantileOf(shape, 1 - p, p);
}
