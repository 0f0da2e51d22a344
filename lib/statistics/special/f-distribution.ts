import { type BetaPlace, betaFactor, betaLogitQuantile, betaTails, logBetaLower } from './beta-kernel';
import { checkFromZero, checkOpenProbability, checkShape } from './check-arguments';

/** Ratios beyond this, or below its inverse, are followed by their logarithm. */
const FAR_RATIO = 1e300;

/**
 * Density of the F distribution with the given degrees of freedom (1e-300 to 1e15) at x >= 0. At 0 it is infinite, 1 or 0
 * for numerator degrees of freedom below, at or above 2. Relative error below 1e-12.
 * Formula: that of the beta distribution of r/(1 + r), r = numerator x / denominator (Abramowitz & Stegun 26.6.1, 26.6.2).
 * @throws StatisticsError outOfRange (degrees of freedom), notFinite or negative (x).
 */
export function fDensity(x: number, numerator: number, denominator: number): number {
  checkArguments(x, numerator, denominator);
  if (x === Number.POSITIVE_INFINITY) return 0;
  if (x === 0) {
    if (numerator === 2) return 1;
    return numerator < 2 ? Number.POSITIVE_INFINITY : 0;
  }
  const [a, b] = [numerator / 2, denominator / 2];
  const ratio = (numerator / denominator) * x;
  if (isFar(ratio)) {
    const { value, slope } = logBetaLower(a, b, logRatio(x, numerator, denominator));
    return (slope * Math.exp(value)) / x;
  }
  const { scale, exponent } = betaFactor(a, b, placeOf(x, ratio, numerator));
  return (scale * Math.exp(exponent)) / x;
}

/**
 * P(X <= x) for X with the F distribution. Relative error below 1e-12 wherever the value is a normal double, for degrees of
 * freedom up to 1e6; each tail on its own. Formula: I_y(numerator/2, denominator/2) at y = r/(1 + r), r = numerator x /
 * denominator (Abramowitz & Stegun 26.6.2, 26.5.28).
 * @throws StatisticsError outOfRange (degrees of freedom), notFinite or negative (x).
 */
export function fLowerTail(x: number, numerator: number, denominator: number): number {
  checkArguments(x, numerator, denominator);
  return tailsOf(x, numerator, denominator).lower;
}

/** P(X > x): the p value of an F statistic; see fLowerTail. @throws StatisticsError outOfRange, notFinite, negative. */
export function fUpperTail(x: number, numerator: number, denominator: number): number {
  checkArguments(x, numerator, denominator);
  return tailsOf(x, numerator, denominator).upper;
}

/**
 * The x with P(X <= x) = p, for 0 < p < 1. For p close to 1 use fUpperQuantile: 1 - p is rounded before it arrives. What is
 * smaller than any double is 0, what is larger infinite. @throws StatisticsError outOfRange (p or degrees of freedom).
 */
export function fQuantile(p: number, numerator: number, denominator: number): number {
  checkOpenProbability(p);
  return quantileOf(p, 1 - p, numerator, denominator);
}

/** The x with P(X > x) = p, for 0 < p < 1; see fQuantile. @throws StatisticsError outOfRange. */
export function fUpperQuantile(p: number, numerator: number, denominator: number): number {
  checkOpenProbability(p);
  return quantileOf(1 - p, p, numerator, denominator);
}

function quantileOf(lower: number, upper: number, numerator: number, denominator: number): number {
  checkDegreesOfFreedom(numerator, denominator);
  const logit = betaLogitQuantile(numerator / 2, denominator / 2, lower, upper);
  return (denominator / numerator) * Math.exp(logit);
}

function tailsOf(
  x: number,
  numerator: number,
  denominator: number,
): { readonly lower: number; readonly upper: number } {
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const [a, b] = [numerator / 2, denominator / 2];
  const ratio = (numerator / denominator) * x;
  if (isFar(ratio)) {
    const logit = logRatio(x, numerator, denominator);
    return {
      lower: Math.exp(logBetaLower(a, b, logit).value),
      upper: Math.exp(logBetaLower(b, a, -logit).value),
    };
  }
  return betaTails(a, b, placeOf(x, ratio, numerator));
}

/** (a + b) y - a at y = r/(1 + r) is a (x - 1)/(1 + r): exact where the difference of large numbers would not be. */
function placeOf(x: number, ratio: number, numerator: number): BetaPlace {
  const excess = ((numerator / 2) * (x - 1)) / (1 + ratio);
  return { x: ratio / (1 + ratio), y: 1 / (1 + ratio), excess };
}

function isFar(ratio: number): boolean {
  return ratio > FAR_RATIO || ratio < 1 / FAR_RATIO;
}

function logRatio(x: number, numerator: number, denominator: number): number {
  return Math.log(numerator) - Math.log(denominator) + Math.log(x);
}

function checkDegreesOfFreedom(numerator: number, denominator: number): void {
  checkShape('numerator', numerator);
  checkShape('denominator', denominator);
}

function checkArguments(x: number, numerator: number, denominator: number): void {
  checkFromZero('x', x);
  checkDegreesOfFreedom(numerator, denominator);
}
