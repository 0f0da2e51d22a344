import { betaLogitQuantile, betaTails, logBetaLower } from './beta-kernel';
import { checkNumber, checkOpenProbability, checkShape } from './check-arguments';
import { stirlingCorrection } from './log-gamma';

/** Beyond this the square is no double any more. */
const SQUARE_ENDS = 1e150;

/**
 * Density of Student's t with the given degrees of freedom (1e-300 to 1e15) at t. Relative error below 1e-12.
 * Formula: gamma(v/2 + 1/2) / (gamma(v/2) sqrt(v pi)) (1 + t^2/v)^(-(v + 1)/2) (Abramowitz & Stegun 26.7.1), the gamma
 * functions by Stirling's formula with its correction. @throws StatisticsError outOfRange (degreesOfFreedom), notFinite (t).
 */
export function studentDensity(t: number, degreesOfFreedom: number): number {
  checkArguments(t, degreesOfFreedom);
  const half = degreesOfFreedom / 2;
  const size = Math.abs(t);
  const logPower =
    size < SQUARE_ENDS
      ? Math.log1p((size * size) / degreesOfFreedom)
      : 2 * Math.log(size) - Math.log(degreesOfFreedom);
  const logConstant =
    half * Math.log1p(0.5 / half) - 0.5 + stirlingCorrection(half + 0.5) - stirlingCorrection(half);
  return Math.exp(logConstant - (half + 0.5) * logPower) / Math.sqrt(2 * Math.PI);
}

/**
 * P(T <= t) for Student's t with the given degrees of freedom. Relative error below 1e-12 wherever the value is a normal
 * double, for degrees of freedom up to 1e6; each tail on its own.
 * Formula: half of I_x(v/2, 1/2) at x = v/(v + t^2) beyond |t| (Abramowitz & Stegun 26.7.1, 26.5.27).
 * @throws StatisticsError outOfRange (degreesOfFreedom), notFinite (t).
 */
export function studentLowerTail(t: number, degreesOfFreedom: number): number {
  return studentUpperTail(-t, degreesOfFreedom);
}

/** P(T > t); see studentLowerTail. @throws StatisticsError outOfRange, notFinite. */
export function studentUpperTail(t: number, degreesOfFreedom: number): number {
  checkArguments(t, degreesOfFreedom);
  const beyond = beyondSize(Math.abs(t), degreesOfFreedom) / 2;
  return t >= 0 ? beyond : 1 - beyond;
}

/** P(|T| > size). */
function beyondSize(size: number, df: number): number {
  if (size === Number.POSITIVE_INFINITY) return 0;
  if (size >= SQUARE_ENDS)
    return Math.exp(logBetaLower(df / 2, 0.5, Math.log(df) - 2 * Math.log(size)).value);
  const square = size * size;
  const total = df + square;
  // (a + b) x - a at x = v/(v + t^2).
  const excess = ((df / total) * (1 - size) * (1 + size)) / 2;
  return betaTails(df / 2, 0.5, { x: df / total, y: square / total, excess }).lower;
}

/**
 * The t with P(T <= t) = p, for 0 < p < 1, by the quantile of the beta distribution of t^2/(v + t^2). For p close to 1 use
 * studentUpperQuantile: 1 - p is rounded before it arrives. Infinite when beyond the largest double.
 * @throws StatisticsError outOfRange (p or degreesOfFreedom).
 */
export function studentQuantile(p: number, degreesOfFreedom: number): number {
  return -studentUpperQuantile(p, degreesOfFreedom);
}

/** The t with P(T > t) = p, for 0 < p < 1; see studentQuantile. @throws StatisticsError outOfRange. */
export function studentUpperQuantile(p: number, degreesOfFreedom: number): number {
  checkOpenProbability(p);
  checkShape('degreesOfFreedom', degreesOfFreedom);
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  const logit = betaLogitQuantile(0.5, degreesOfFreedom / 2, 1 - 2 * tail, 2 * tail);
  const size = Math.sqrt(degreesOfFreedom) * Math.exp(logit / 2);
  return p < 0.5 ? size : -size;
}

function checkArguments(t: number, degreesOfFreedom: number): void {
  checkNumber('t', t);
  checkShape('degreesOfFreedom', degreesOfFreedom);
}
