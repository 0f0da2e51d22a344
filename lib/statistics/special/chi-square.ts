import { StatisticsError } from '../errors';
import { gammaLowerTail, gammaUpperTail } from './incomplete-gamma';

/**
 * P(X <= x) for a chi-square X with the given degrees of freedom (any finite number above 0), x >= 0.
 * Formula: P(df/2, x/2), the incomplete gamma function (Abramowitz & Stegun 26.4.19). Relative error below 1e-12.
 * @throws StatisticsError outOfRange (degreesOfFreedom), notFinite or negative (x).
 */
export function chiSquareLowerTail(x: number, degreesOfFreedom: number): number {
  checkDegreesOfFreedom(degreesOfFreedom);
  return gammaLowerTail(degreesOfFreedom / 2, x / 2);
}

/** P(X > x): the p value of a chi-square statistic; see chiSquareLowerTail. Computed on its own, not as 1 - lower. */
export function chiSquareUpperTail(x: number, degreesOfFreedom: number): number {
  checkDegreesOfFreedom(degreesOfFreedom);
  return gammaUpperTail(degreesOfFreedom / 2, x / 2);
}

function checkDegreesOfFreedom(df: number): void {
  if (!(df > 0 && df < Number.POSITIVE_INFINITY)) {
    const message = `degreesOfFreedom is ${df}; give a finite number above 0.`;
    throw new StatisticsError('outOfRange', 'degreesOfFreedom', undefined, message);
  }
}
