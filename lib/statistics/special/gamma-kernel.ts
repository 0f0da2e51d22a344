import { deviancePart } from './deviance';
import { type LogTail, logConcaveRoot } from './log-concave-root';
import { logGamma, stirlingCorrection } from './log-gamma';

const ROOT_TWO_PI = 2.5066282746310002;
/** Beyond this x is close to underflow, and the lower tail a pure power to the last bit. */
const FAR_LOGARITHM = -700;

/** log of x^a e^-x / gamma(a + 1), by the saddle point: without the cancellation of large logarithms. */
function logFactor(a: number, x: number): number {
  return -a * deviancePart((x - a) / a, x / a) - stirlingCorrection(a) - Math.log(ROOT_TWO_PI * Math.sqrt(a));
}

/** x^a e^-x / gamma(a + 1): at a whole a >= 1 also the probability of a under a Poisson distribution with mean x. */
export function gammaFactor(a: number, x: number): number {
  return (
    Math.exp(-a * deviancePart((x - a) / a, x / a) - stirlingCorrection(a)) / (ROOT_TWO_PI * Math.sqrt(a))
  );
}

/** P(X <= x) and P(X > x) for a gamma X with shape a, 0 < x < infinity, each small one on its own. */
export function gammaTails(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (a < 1 && x < 1.5) {
    const upper = upperSmallShape(a, x);
    if (!isLowerSide(a, x)) return { lower: 1 - upper, upper };
    return { lower: Math.min(1, gammaFactor(a, x) * lowerSeries(a, x)), upper };
  }
  if (isLowerSide(a, x)) {
    const lower = Math.min(1, gammaFactor(a, x) * lowerSeries(a, x));
    return { lower, upper: 1 - lower };
  }
  const upper = gammaFactor(a, x) * a * upperFraction(a, x);
  return { lower: 1 - upper, upper };
}

function isLowerSide(a: number, x: number): boolean {
  return x < a + 1;
}

/** 1 + x/(a + 1) + x^2/((a + 1)(a + 2)) + ... */
function lowerSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k += 1) {
    term *= x / (a + k);
    sum += term;
  }
  return sum;
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
    if (!(Math.abs(factor - 1) >= 4e-16)) return fraction;
  }
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

/** log P(X <= x) at x = e^s, with its slope in s; any s, however far out. */
function logGammaLower(a: number, s: number): LogTail {
  if (s < FAR_LOGARITHM) {
    const { value } = logGammaLower(a, FAR_LOGARITHM);
    return { value: value + a * (s - FAR_LOGARITHM), slope: a };
  }
  const x = Math.exp(s);
  const factor = logFactor(a, x);
  const value = isLowerSide(a, x)
    ? factor + Math.log(lowerSeries(a, x))
    : Math.log1p(-Math.exp(factor) * a * upperFraction(a, x));
  return { value, slope: a * Math.exp(factor - value) };
}

/** log P(X > x), with its slope in x. */
function logGammaUpper(a: number, x: number): LogTail {
  const factor = logFactor(a, x);
  let value = Number.NEGATIVE_INFINITY;
  if (a < 1 && x < 1.5) value = Math.log(upperSmallShape(a, x));
  else if (isLowerSide(a, x)) value = Math.log1p(-Math.exp(factor) * lowerSeries(a, x));
  else value = factor + Math.log(a * upperFraction(a, x));
  return { value, slope: (-a / x) * Math.exp(factor - value) };
}

/** The x with P(X <= x) = lower and P(X > x) = upper; the smaller of the two must be exact. */
export function gammaQuantileOf(a: number, lower: number, upper: number): number {
  // Up to a, and wherever the lower tail is the smaller, in log x; else in x: for a below 1 the logarithm of the upper tail
  // is convex there, and steps from below do not pass the root either.
  const target = Math.log(upper);
  const atShape = logGammaUpper(a, a);
  if (lower <= upper)
    return Math.exp(logConcaveRoot(Math.log(a), Math.log(lower), (s) => logGammaLower(a, s)));
  if (target < atShape.value) return logConcaveRoot(a, target, (x) => logGammaUpper(a, x));
  return Math.exp(logConcaveRoot(Math.log(a), target, (s) => logGammaUpperByLogarithm(a, s)));
}

/** log P(X > x) at x = e^s, with its slope in s; any s, however far down. */
function logGammaUpperByLogarithm(a: number, s: number): LogTail {
  if (s < FAR_LOGARITHM) {
    const { value, slope } = logGammaLower(a, s);
    const upper = -Math.expm1(value);
    return { value: Math.log(upper), slope: (-slope * Math.exp(value)) / upper };
  }
  const x = Math.exp(s);
  const { value, slope } = logGammaUpper(a, x);
  return { value, slope: slope * x };
}
