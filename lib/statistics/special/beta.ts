import { betaFactor, betaLogitQuantile, betaPlace, betaTails } from './beta-kernel';
import { checkFraction, checkOpenProbability, checkShape } from './check-arguments';

/**
 * Density of the beta distribution with shapes a and b (1e-300 to 1e15) at 0 <= x <= 1. At an end it is 0, 1 over the
 * beta function, or infinite, as the shape there is above, at or below 1. Relative error below 1e-12.
 * Formula: x^(a - 1) (1 - x)^(b - 1) / B(a, b) (Abramowitz & Stegun 26.1.33), by the saddle point (Loader 2000).
 * @throws StatisticsError outOfRange (x or a shape).
 */
export function betaDensity(x: number, a: number, b: number): number {
  checkArguments(x, a, b);
  if (x === 0) return endDensity(a, b);
  if (x === 1) return endDensity(b, a);
  const { scale, exponent } = betaFactor(a, b, betaPlace(a, b, x, 1 - x));
  return (scale * Math.exp(exponent)) / x / (1 - x);
}

/** The density where x is 0: with shape 1 there, (1 - x)^(b - 1) / B(1, b) = b. */
function endDensity(own: number, other: number): number {
  if (own === 1) return other;
  return own < 1 ? Number.POSITIVE_INFINITY : 0;
}

/**
 * P(X <= x) for a beta X with shapes a and b: the regularised incomplete beta function I_x(a, b).
 * Relative error below 1e-12 in either tail wherever the value is a normal double, for shapes from 0.01 to 1e6; time grows
 * with the root of the larger shape.
 * Formula: the continued fraction DLMF 8.17.22, on the side of the mean where it converges fast, times x^a (1 - x)^b /
 * B(a, b) by the saddle point (Loader 2000). For x close to 1 give 1 - x to betaUpperTail(1 - x, b, a) instead: 1 - x is
 * rounded before it arrives. @throws StatisticsError outOfRange (x or a shape).
 */
export function betaLowerTail(x: number, a: number, b: number): number {
  checkArguments(x, a, b);
  return betaTails(a, b, betaPlace(a, b, x, 1 - x)).lower;
}

/** P(X > x) = I_(1-x)(b, a), computed on its own; see betaLowerTail. @throws StatisticsError outOfRange. */
export function betaUpperTail(x: number, a: number, b: number): number {
  checkArguments(x, a, b);
  return betaTails(a, b, betaPlace(a, b, x, 1 - x)).upper;
}

/**
 * The x with P(X <= x) = p, for 0 < p < 1. Newton's method on the logarithm of the smaller tail in the logit of x, which
 * is concave. What is smaller than any double is 0. For p close to 1 use betaUpperQuantile: 1 - p is rounded before it
 * arrives. @throws StatisticsError outOfRange (p or a shape).
 */
export function betaQuantile(p: number, a: number, b: number): number {
  checkOpenProbability(p);
  checkShapes(a, b);
  return fromLogit(betaLogitQuantile(a, b, p, 1 - p));
}

/** The x with P(X > x) = p, for 0 < p < 1; see betaQuantile. @throws StatisticsError outOfRange. */
export function betaUpperQuantile(p: number, a: number, b: number): number {
  checkOpenProbability(p);
  checkShapes(a, b);
  return fromLogit(betaLogitQuantile(a, b, 1 - p, p));
}

/** From the end that is closer, so that an x next to 1 is not rounded to 1. */
function fromLogit(s: number): number {
  return s > 0 ? 1 - 1 / (1 + Math.exp(s)) : 1 / (1 + Math.exp(-s));
}

function checkShapes(a: number, b: number): void {
  checkShape('a', a);
  checkShape('b', b);
}

function checkArguments(x: number, a: number, b: number): void {
  checkFraction('x', x);
  checkShapes(a, b);
}
