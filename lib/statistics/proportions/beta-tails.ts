import { stirlingCorrection } from '../special/log-gamma';

/**
 * Both tails of the beta distribution at x, 0 <= x <= 1, each computed on its own; shapes above 0.
 * Formula: Lentz's evaluation of the continued fraction (DLMF 8.17.22), on the side where it converges fast; the leading
 * factor by the saddle point (Loader 2000), without the cancellation of large logarithms.
 */
export function betaTails(
  a: number,
  b: number,
  x: number,
): { readonly lower: number; readonly upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x >= 1) return { lower: 1, upper: 0 };
  if (x * (a + b + 2) < a + 1) {
    const lower = (betaLeadingFactor(a, b, x) / a) * betaFraction(a, b, x);
    return { lower, upper: 1 - lower };
  }
  const upper = (betaLeadingFactor(a, b, x) / b) * betaFraction(b, a, 1 - x);
  return { lower: 1 - upper, upper };
}

/** x^a (1 - x)^b / B(a, b). */
export function betaLeadingFactor(a: number, b: number, x: number): number {
  const n = a + b;
  const y = 1 - x;
  // From the smaller side, whose product loses fewer digits.
  const excess = x < 0.5 ? n * x - a : b - n * y;
  const deviance =
    a * withoutLogarithm(excess / a, (n * x) / a) + b * withoutLogarithm(-excess / b, (n * y) / b);
  const correction = stirlingCorrection(n) - stirlingCorrection(a) - stirlingCorrection(b);
  return Math.sqrt(((a / n) * b) / (2 * Math.PI)) * Math.exp(correction - deviance);
}

/** u - log(1 + u), accurate for small u and for u near -1; `ratio` is 1 + u. */
function withoutLogarithm(u: number, ratio: number): number {
  if (Math.abs(u) > 0.4) return u - Math.log(ratio);
  const v = u / (2 + u);
  const square = v * v;
  let power = v;
  let sum = 0;
  for (let k = 3; k < 60; k += 2) {
    power *= square;
    sum += power / k;
  }
  return u * v - 2 * sum;
}

function betaFraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; ; m += 1) {
    const even = ((m * (b - m)) / (a + 2 * m - 1) / (a + 2 * m)) * x;
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    fraction *= c * d;
    const odd = ((-(a + m) * (a + b + m)) / (a + 2 * m) / (a + 2 * m + 1)) * x;
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 3e-16) return fraction;
  }
}
