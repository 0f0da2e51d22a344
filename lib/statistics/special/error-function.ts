import { checkNumber } from './check-arguments';

const TWO_OVER_ROOT_PI = 1.1283791670955126;
/** Below this the power series is used, from it on the continued fraction. */
const SERIES_LIMIT = 2;
/** Beyond this erfc is below the smallest positive number. */
const TAIL_END = 28;

/**
 * erf(x) = 2/sqrt(pi) times the integral of exp(-t^2) from 0 to x. Any x. Relative error below 1e-12, near 0 as well.
 * Formula: the series Abramowitz & Stegun 7.1.6 below 2, one minus erfc above. @throws StatisticsError notFinite for NaN.
 */
export function errorFunction(x: number): number {
  checkNumber('x', x);
  if (Math.abs(x) < SERIES_LIMIT) return centralPart(x);
  return x > 0 ? 1 - farTail(x) : farTail(-x) - 1;
}

/**
 * erfc(x) = 1 - erf(x), computed on its own where it is small. Any x. Relative error below 1e-12 wherever the value is a
 * normal double. Formula: the continued fraction Abramowitz & Stegun 7.1.14 from 2 on.
 * @throws StatisticsError notFinite for NaN.
 */
export function complementaryErrorFunction(x: number): number {
  checkNumber('x', x);
  if (Math.abs(x) < SERIES_LIMIT) return 1 - centralPart(x);
  return x > 0 ? farTail(x) : 2 - farTail(-x);
}

/** exp(-x^2), the square taken in two parts: its rounding would cost digits far out. */
function bell(x: number): number {
  const coarse = Math.round(x * 16) / 16;
  return Math.exp(-coarse * coarse) * Math.exp(-(x - coarse) * (x + coarse));
}

/** bell times x + 2 x^3/3 + 4 x^5/15 + ..., times 2/sqrt(pi). */
function centralPart(x: number): number {
  const twice = 2 * x * x;
  let term = x;
  let sum = x;
  for (let k = 3; Math.abs(term) > 1e-17 * Math.abs(sum); k += 2) {
    term *= twice / k;
    sum += term;
  }
  return TWO_OVER_ROOT_PI * bell(x) * sum;
}

/** bell / sqrt(pi) / (x + (1/2)/(x + (2/2)/(x + (3/2)/(x + ...)))), evaluated from its far end. */
function farTail(x: number): number {
  if (x > TAIL_END) return 0;
  let denominator = x;
  for (let k = 100; k >= 1; k -= 1) denominator = x + k / 2 / denominator;
  return ((TWO_OVER_ROOT_PI / 2) * bell(x)) / denominator;
}
