import { betaLeadingFactor, betaTails } from './beta-tails';

/** P(X <= x) for X binomial(n, p), whole 0 <= x <= n. */
export function binomialLower(x: number, n: number, p: number): number {
  return x === n ? 1 : betaTails(x + 1, n - x, p).upper;
}

/** P(X >= x). */
export function binomialUpper(x: number, n: number, p: number): number {
  return x === 0 ? 1 : betaTails(x, n - x + 1, p).lower;
}

/** P(X = x). */
export function binomialProbability(x: number, n: number, p: number): number {
  if (x === 0) return Math.exp(n * Math.log1p(-p));
  if (x === n) return p ** n;
  return (betaLeadingFactor(x, n - x, p) * (n / x)) / (n - x);
}
