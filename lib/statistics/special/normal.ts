import { checkNumber, checkOpenProbability } from './check-arguments';

const ROOT_TWO_PI = 2.5066282746310002;
/** Below this the series of the central part is used, from it on the continued fraction of the tail. */
const SERIES_LIMIT = 3;
/** Beyond this every tail is below the smallest positive number. */
const TAIL_END = 39;

/**
 * Density of the standard normal distribution at z.
 * Formula: exp(-z^2/2)/sqrt(2 pi) (Abramowitz & Stegun 26.2.1), the square taken in two parts so that the relative
 * error stays near 1e-16 far out. Any z; infinity gives 0. @throws StatisticsError notFinite for NaN.
 */
export function normalDensity(z: number): number {
  checkNumber('z', z);
  const x = Math.abs(z);
  if (x > TAIL_END) return 0;
  const coarse = Math.round(x * 16) / 16;
  return (Math.exp(-0.5 * coarse * coarse) * Math.exp(-0.5 * (x - coarse) * (x + coarse))) / ROOT_TWO_PI;
}

/**
 * P(Z <= z) for a standard normal Z. Relative error below 1e-12 wherever the value is a normal double.
 * Formula: power series (Abramowitz & Stegun 26.2.11) in the centre, Laplace's continued fraction (26.2.14) in the
 * tail; neither tail is one minus the other. @throws StatisticsError notFinite for NaN.
 */
export function normalLowerTail(z: number): number {
  return normalUpperTail(-z);
}

/** P(Z > z); see normalLowerTail. @throws StatisticsError notFinite for NaN. */
export function normalUpperTail(z: number): number {
  checkNumber('z', z);
  if (z >= SERIES_LIMIT) return farTail(z);
  if (z <= -SERIES_LIMIT) return 1 - farTail(-z);
  return 0.5 - centralPart(z);
}

/**
 * log P(Z <= z): finite where the tail itself is below the smallest double. Relative error below 1e-12, any finite z; minus
 * infinity at minus infinity. Formula: of the tails of normalLowerTail; far out -z^2/2 and the logarithm of the continued
 * fraction added up. @throws StatisticsError notFinite for NaN.
 */
export function normalLogLowerTail(z: number): number {
  return normalLogUpperTail(-z);
}

/** log P(Z > z); see normalLogLowerTail. @throws StatisticsError notFinite for NaN. */
export function normalLogUpperTail(z: number): number {
  checkNumber('z', z);
  if (z <= 0) return Math.log1p(-normalUpperTail(-z));
  if (z < SERIES_LIMIT) return Math.log(normalUpperTail(z));
  if (z === Number.POSITIVE_INFINITY) return Number.NEGATIVE_INFINITY;
  return -z * (z / 2) - Math.log(ROOT_TWO_PI * tailDenominator(z));
}

/**
 * The z with P(Z <= z) = p, for 0 < p < 1.
 * Formula: a rational start (Abramowitz & Stegun 26.2.23), then Halley steps on the tail (on the central part near
 * one half), to full precision of p. For p close to 1 use normalUpperQuantile: 1 - p is rounded before it arrives.
 * @throws StatisticsError outOfRange unless 0 < p < 1.
 */
export function normalQuantile(p: number): number {
  return -normalUpperQuantile(p);
}

/** The z with P(Z > z) = p, for 0 < p < 1; see normalQuantile. @throws StatisticsError outOfRange. */
export function normalUpperQuantile(p: number): number {
  checkOpenProbability(p);
  if (Math.abs(p - 0.5) < 0.4) return -solveCentre(p - 0.5);
  return p < 0.5 ? solveTail(p) : -solveTail(1 - p);
}

/** P(0 < Z < z), odd in z: density times z + z^3/3 + z^5/15 + ... */
function centralPart(z: number): number {
  const square = z * z;
  let term = z;
  let sum = z;
  for (let k = 3; Math.abs(term) > 1e-17 * Math.abs(sum); k += 2) {
    term *= square / k;
    sum += term;
  }
  return sum * normalDensity(z);
}

/** P(Z > z) for z >= SERIES_LIMIT: density / (z + 1/(z + 2/(z + 3/...))), evaluated from its far end. */
function farTail(z: number): number {
  return z > TAIL_END ? 0 : normalDensity(z) / tailDenominator(z);
}

function tailDenominator(z: number): number {
  let denominator = z;
  for (let k = 100; k >= 1; k -= 1) denominator = z + k / denominator;
  return denominator;
}

function solveCentre(excess: number): number {
  let z = excess * ROOT_TWO_PI;
  for (let step = 0; step < 50; step += 1) {
    const newton = (centralPart(z) - excess) / normalDensity(z);
    const change = newton / (1 + (newton * z) / 2);
    z -= change;
    if (Math.abs(change) <= 1e-15 * Math.abs(z)) break;
  }
  return z;
}

function solveTail(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  const numerator = 2.515517 + t * (0.802853 + t * 0.010328);
  let z = t - numerator / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  for (let step = 0; step < 50; step += 1) {
    const newton = (normalUpperTail(z) - p) / normalDensity(z);
    const change = newton / (1 - (newton * z) / 2);
    z += change;
    if (Math.abs(change) <= 1e-15 * z) break;
  }
  return z;
}
