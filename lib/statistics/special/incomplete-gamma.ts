import { StatisticsError } from '../errors';
import { logGamma, stirlingCorrection } from './log-gamma';

const ROOT_TWO_PI = 2.5066282746310002;

/**
 * P(a, x): the lower tail of the gamma distribution with the given shape and scale 1, at x >= 0.
 * Relative error below 1e-12 in either tail, wherever the value is a normal double.
 * Formula: the series x^k / ((a+1)...(a+k)) below a + 1, Legendre's continued fraction above (Abramowitz & Stegun
 * 6.5.29, 6.5.31; for small shapes the upper tail by 6.5.29 in the alternating form); the leading factor by the
 * saddle point (Loader 2000, "Fast and accurate computation of binomial probabilities").
 * @throws StatisticsError outOfRange unless shape > 0 is finite; notFinite or negative for x.
 */
export function gammaLowerTail(shape: number, x: number): number {
  checkArguments(shape, x);
  if (x === 0) return 0;
  if (x === Number.POSITIVE_INFINITY) return 1;
  return x < shape + 1 ? lowerSeries(shape, x) : 1 - upperFraction(shape, x);
}

/** Q(a, x) = 1 - P(a, x), computed on its own; see gammaLowerTail. */
export function gammaUpperTail(shape: number, x: number): number {
  checkArguments(shape, x);
  if (x === 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  if (shape < 1 && x < 1.5) return upperSmallShape(shape, x);
  return x < shape + 1 ? 1 - lowerSeries(shape, x) : upperFraction(shape, x);
}

/** x^a e^-x / gamma(a + 1), without the cancellation of large logarithms. */
function leadingFactor(a: number, x: number): number {
  return Math.exp(-deviance(a, x) - stirlingCorrection(a)) / (ROOT_TWO_PI * Math.sqrt(a));
}

/** a log(a/x) + x - a, accurate also when x is close to a. */
function deviance(a: number, x: number): number {
  const v = (x - a) / (x + a);
  if (Math.abs(v) > 0.35) return a * Math.log(a / x) + x - a;
  const square = v * v;
  let power = v;
  let sum = 0;
  for (let k = 3; k < 60; k += 2) {
    power *= square;
    sum += power / k;
  }
  // log(x/a) = 2 (v + v^3/3 + ...), and x - a = v (x + a).
  return v * (x - a) - 2 * a * sum;
}

function lowerSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k += 1) {
    term *= x / (a + k);
    sum += term;
  }
  return leadingFactor(a, x) * sum;
}

/** The continued fraction for Q, by the modified Lentz recurrence (all denominators positive for x >= a + 1). */
function upperFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let d = 1 / b;
  let c = Number.POSITIVE_INFINITY;
  let fraction = d;
  for (let k = 1; ; k += 1) {
    const numerator = -k * (k - a);
    b += 2;
    d = 1 / (b + numerator * d);
    c = b + numerator / c;
    const factor = c * d;
    fraction *= factor;
    if (Math.abs(factor - 1) < 4e-16) break;
  }
  return leadingFactor(a, x) * a * fraction;
}

/** Q for a < 1 and small x: 1 - x^a/gamma(1+a) (1 + sum), each part small where the tail is small. */
function upperSmallShape(a: number, x: number): number {
  let term = 1;
  let sum = 0;
  for (let k = 1; k < 60; k += 1) {
    term *= -x / k;
    sum += (term * a) / (a + k);
  }
  const exponent = a * Math.log(x) - logGamma(1 + a);
  return -Math.expm1(exponent) - Math.exp(exponent) * sum;
}

function checkArguments(shape: number, x: number): void {
  if (!(shape > 0 && shape < Number.POSITIVE_INFINITY)) {
    throw new StatisticsError(
      'outOfRange',
      'shape',
      undefined,
      `shape is ${shape}; give a finite number above 0.`,
    );
  }
  if (Number.isNaN(x))
    throw new StatisticsError('notFinite', 'x', undefined, 'x is not a number; give the value to look up.');
  if (x < 0)
    throw new StatisticsError('negative', 'x', undefined, `x is ${x}; this distribution starts at 0.`);
}
