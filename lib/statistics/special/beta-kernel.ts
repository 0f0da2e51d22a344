import { deviancePart, sumTimesLess } from './deviance';
import { type LogTail, logConcaveRoot } from './log-concave-root';
import { stirlingCorrection } from './log-gamma';

/** Beyond this logit a tail is a pure power to the last bit, and the smaller of x and 1 - x close to underflow. */
const FAR_LOGIT = 700;

/** A place between 0 and 1: x, y = 1 - x, and excess = (a + b) x - a, each as exact as it can be had. */
export type BetaPlace = { readonly x: number; readonly y: number; readonly excess: number };

/** The place of x and y = 1 - x; the smaller of the two must be exact. */
export function betaPlace(a: number, b: number, x: number, y: number): BetaPlace {
  return { x, y, excess: x <= y ? sumTimesLess(a, b, x, a) : -sumTimesLess(a, b, y, b) };
}

/** x^a y^b / B(a, b) as scale * exp(exponent). */
export type BetaFactor = { readonly scale: number; readonly exponent: number };

/**
 * The factor by the saddle point (Loader 2000, "Fast and accurate computation of binomial probabilities"): with
 * n = a + b and e = n x - a its exponent is -a D(e/a) - b D(-e/b), D(u) = u - log(1 + u), plus the corrections of
 * Stirling's formula. Large logarithms never cancel.
 */
export function betaFactor(a: number, b: number, { x, y, excess }: BetaPlace): BetaFactor {
  const n = a + b;
  const deviance = a * deviancePart(excess / a, (n * x) / a) + b * deviancePart(-excess / b, (n * y) / b);
  const correction = stirlingCorrection(n) - stirlingCorrection(a) - stirlingCorrection(b);
  return { scale: Math.sqrt(((a / n) * b) / (2 * Math.PI)), exponent: correction - deviance };
}

/** P(X <= x) and P(X > x) for a beta X, each small one on its own. */
export function betaTails(
  a: number,
  b: number,
  place: BetaPlace,
): { readonly lower: number; readonly upper: number } {
  const { x, y } = place;
  if (x <= 0) return { lower: 0, upper: 1 };
  if (y <= 0) return { lower: 1, upper: 0 };
  const { scale, exponent } = betaFactor(a, b, place);
  const factor = scale * Math.exp(exponent);
  if (isLowerSide(a, b, x)) {
    const lower = Math.min(1, factor * betaFraction(a, b, x, y, -place.excess));
    return { lower, upper: 1 - lower };
  }
  const upper = Math.min(1, factor * betaFraction(b, a, y, x, place.excess));
  return { lower: 1 - upper, upper };
}

/** Where the continued fraction of the lower tail converges fast. */
function isLowerSide(a: number, b: number, x: number): boolean {
  return x * (a + b + 2) < a + 1;
}

/**
 * The continued fraction that takes x^a y^b / B(a, b) to I_x(a, b): the even part of DLMF 8.17.22 (Didonato & Morris, ACM
 * TOMS 1992;18:360, equations 9.1 and 9.2), by Lentz's recurrence. The small difference a - (a + b) x comes in as `short`
 * and all terms are positive: no digits are lost however large the shapes.
 */
function betaFraction(a: number, b: number, x: number, y: number, short: number): number {
  let denominator = (a / (a + 1)) * (short + 1);
  let fraction = denominator;
  let c = denominator;
  let d = 0;
  for (let m = 1; ; m += 1) {
    const odd = a + 2 * m - 1;
    const part = m * (b - m) * x;
    const numerator = ((a + m - 1) / odd) * ((a + b + m - 1) / odd) * part * x;
    denominator = m + part / odd + ((a + m) / (odd + 2)) * (short + 1 + m * (1 + y));
    d = 1 / (denominator + numerator * d);
    c = denominator + numerator / c;
    fraction *= c * d;
    // Written so that what is no number ends the loop too.
    if (!(Math.abs(c * d - 1) >= 3e-16)) return 1 / fraction;
  }
}

/** log P(X <= x) for a beta X at x = 1/(1 + e^-s), with its slope in s; any s, however far out. */
export function logBetaLower(a: number, b: number, s: number): LogTail {
  if (s < -FAR_LOGIT) {
    const { value } = logBetaLower(a, b, -FAR_LOGIT);
    return { value: value + a * (s + FAR_LOGIT), slope: a };
  }
  const near = Math.min(s, FAR_LOGIT);
  const x = 1 / (1 + Math.exp(-near));
  const y = 1 / (1 + Math.exp(near));
  const place = betaPlace(a, b, x, y);
  const { scale, exponent } = betaFactor(a, b, place);
  const logFactor = Math.log(scale) + exponent - b * (s - near);
  const value = isLowerSide(a, b, x)
    ? logFactor + Math.log(betaFraction(a, b, x, y, -place.excess))
    : Math.log1p(-Math.exp(logFactor) * betaFraction(b, a, y, x, place.excess));
  return { value, slope: Math.exp(logFactor - value) };
}

/** The s with P(X <= x) = lower and P(X > x) = upper at x = 1/(1 + e^-s); the smaller of the two must be exact. */
export function betaLogitQuantile(a: number, b: number, lower: number, upper: number): number {
  if (upper < lower) return -betaLogitQuantile(b, a, upper, lower);
  return logConcaveRoot(Math.log(a / b), Math.log(lower), (s) => logBetaLower(a, b, s));
}
