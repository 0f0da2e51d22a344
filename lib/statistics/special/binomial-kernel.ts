import { betaFactor, betaPlace } from './beta-kernel';

/** P(X = x) for X binomial(n, p), q = 1 - p, 0 < p < 1, whole 0 <= x <= n; the smaller of p and q must be exact. */
export function binomialMass(x: number, n: number, p: number, q: number): number {
  if (x === 0) return allFail(n, p, q);
  if (x === n) return allFail(n, q, p);
  const { scale, exponent } = betaFactor(x, n - x, betaPlace(x, n - x, p, q));
  return scale * Math.exp(exponent) * (n / x / (n - x));
}

/** q^n. */
function allFail(n: number, p: number, q: number): number {
  return Math.exp(n * (p <= q ? Math.log1p(-p) : Math.log(q)));
}
