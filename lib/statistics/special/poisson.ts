import { StatisticsError } from '../errors';
import { checkOpenProbability, checkWhole } from './check-arguments';
import { gammaFactor, gammaTails } from './gamma-kernel';
import { normalQuantile, normalUpperQuantile } from './normal';
import { QUANTILE_SLACK, quantileGuess, smallestWhole } from './whole-quantile';

/** Beyond this neighbouring counts are no longer told apart. */
const LARGEST_MEAN = 1e15;

/**
 * P(X = x) for X Poisson with the given mean (0 to 1e15), whole x >= 0. Relative error below 1e-12.
 * Formula: e^-m m^x / x! (Abramowitz & Stegun 26.1.22), by the saddle point (Loader 2000).
 * @throws StatisticsError notFinite, negative, notInteger (x), outOfRange (mean).
 */
export function poissonProbability(x: number, mean: number): number {
  checkArguments(x, mean);
  if (x === 0) return Math.exp(-mean);
  return mean === 0 ? 0 : gammaFactor(x, mean);
}

/**
 * P(X <= x) for X Poisson. Relative error below 1e-12 wherever the value is a normal double; each tail on its own.
 * Formula: Q(x + 1, mean), the incomplete gamma function (Abramowitz & Stegun 26.4.21).
 * @throws StatisticsError notFinite, negative, notInteger (x), outOfRange (mean).
 */
export function poissonLowerTail(x: number, mean: number): number {
  checkArguments(x, mean);
  return mean === 0 ? 1 : gammaTails(x + 1, mean).upper;
}

/** P(X > x), without x itself; see poissonLowerTail. @throws StatisticsError notFinite, negative, notInteger, outOfRange. */
export function poissonUpperTail(x: number, mean: number): number {
  checkArguments(x, mean);
  return mean === 0 ? 0 : gammaTails(x + 1, mean).lower;
}

/**
 * The smallest x with P(X <= x) >= p, for 0 < p < 1; a tail within rounding of p has reached it. For p close to 1 use
 * poissonUpperQuantile: 1 - p is rounded before it arrives. @throws StatisticsError outOfRange (p or mean).
 */
export function poissonQuantile(p: number, mean: number): number {
  checkOpenProbability(p);
  checkMean(mean);
  const enough = p * (1 - QUANTILE_SLACK);
  return smallestWhole(
    0,
    Number.POSITIVE_INFINITY,
    quantileGuess(mean, mean, 1, normalQuantile(p)),
    (x) => poissonLowerTail(x, mean) >= enough,
  );
}

/** The smallest x with P(X > x) <= p, for 0 < p < 1; see poissonQuantile. @throws StatisticsError outOfRange. */
export function poissonUpperQuantile(p: number, mean: number): number {
  checkOpenProbability(p);
  checkMean(mean);
  const most = p * (1 + QUANTILE_SLACK);
  return smallestWhole(
    0,
    Number.POSITIVE_INFINITY,
    quantileGuess(mean, mean, 1, normalUpperQuantile(p)),
    (x) => poissonUpperTail(x, mean) <= most,
  );
}

function checkMean(mean: number): void {
  if (!(mean >= 0 && mean <= LARGEST_MEAN)) {
    const message = `mean is ${mean}; give a number from 0 to 1e15.`;
    throw new StatisticsError('outOfRange', 'mean', undefined, message);
  }
}

function checkArguments(x: number, mean: number): void {
  checkWhole('x', x, Number.MAX_SAFE_INTEGER);
  checkMean(mean);
}
