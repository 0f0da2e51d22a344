import { checkFromZero, checkShape } from './check-arguments';
import { gammaDensity, gammaQuantile, gammaUpperQuantile } from './gamma';
import { gammaLowerTail, gammaUpperTail } from './incomplete-gamma';

/**
 * Density of the chi-square distribution with the given degrees of freedom (1e-300 to 1e15) at x >= 0. At 0 it is
 * infinite, 1/2 or 0 for degrees of freedom below, at or above 2. Relative error below 1e-12.
 * Formula: half the gamma density of shape df/2 at x/2 (Abramowitz & Stegun 26.4.1).
 * @throws StatisticsError outOfRange (degreesOfFreedom), notFinite or negative (x).
 */
export function chiSquareDensity(x: number, degreesOfFreedom: number): number {
  checkShape('degreesOfFreedom', degreesOfFreedom);
  checkFromZero('x', x);
  return gammaDensity(degreesOfFreedom / 2, x / 2) / 2;
}

/**
 * P(X <= x) for a chi-square X with the given degrees of freedom (1e-300 to 1e15), x >= 0.
 * Formula: P(df/2, x/2), the incomplete gamma function (Abramowitz & Stegun 26.4.19). Relative error below 1e-12.
 * @throws StatisticsError outOfRange (degreesOfFreedom), notFinite or negative (x).
 */
export function chiSquareLowerTail(x: number, degreesOfFreedom: number): number {
  checkShape('degreesOfFreedom', degreesOfFreedom);
  return gammaLowerTail(degreesOfFreedom / 2, x / 2);
}

/** P(X > x): the p value of a chi-square statistic; see chiSquareLowerTail. Computed on its own, not as 1 - lower. */
export function chiSquareUpperTail(x: number, degreesOfFreedom: number): number {
  checkShape('degreesOfFreedom', degreesOfFreedom);
  return gammaUpperTail(degreesOfFreedom / 2, x / 2);
}

/**
 * The x with P(X <= x) = p, for 0 < p < 1: twice the quantile of the gamma distribution with shape df/2 (gammaQuantile). For
 * p close to 1 use chiSquareUpperQuantile: 1 - p is rounded before it arrives.
 * @throws StatisticsError outOfRange (p or degreesOfFreedom).
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  checkShape('degreesOfFreedom', degreesOfFreedom);
  return 2 * gammaQuantile(degreesOfFreedom / 2, p);
}

/** The x with P(X > x) = p, for 0 < p < 1; see chiSquareQuantile. @throws StatisticsError outOfRange. */
export function chiSquareUpperQuantile(p: number, degreesOfFreedom: number): number {
  checkShape('degreesOfFreedom', degreesOfFreedom);
  return 2 * gammaUpperQuantile(degreesOfFreedom / 2, p);
}
