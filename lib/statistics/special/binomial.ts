import { betaPlace, betaTails } from './beta-kernel';
import { binomialMass } from './binomial-kernel';
import { checkFraction, checkOpenProbability, checkWhole } from './check-arguments';
import { normalQuantile, normalUpperQuantile } from './normal';
import { QUANTILE_SLACK, quantileGuess, smallestWhole } from './whole-quantile';

/**
 * P(X = x) for X binomial: x successes in n independent trials of probability `chance` (0 to 1), whole 0 <= x <= n.
 * Relative error below 1e-12. Formula: n!/(x!(n - x)!) p^x (1 - p)^(n - x) (Abramowitz & Stegun 26.1.20), by the saddle
 * point (Loader 2000). @throws StatisticsError notFinite, negative, notInteger (x or n), outOfRange (x > n, chance).
 */
export function binomialProbability(x: number, n: number, chance: number): number {
  checkArguments(x, n, chance);
  if (chance === 0) return x === 0 ? 1 : 0;
  if (chance === 1) return x === n ? 1 : 0;
  return binomialMass(x, n, chance, 1 - chance);
}

/**
 * P(X <= x) for X binomial. Relative error below 1e-12 wherever the value is a normal double; each tail on its own. Time
 * grows with the root of n. Formula: I_(1-p)(n - x, x + 1), the incomplete beta function (Abramowitz & Stegun 26.5.24).
 * @throws StatisticsError notFinite, negative, notInteger (x or n), outOfRange (x > n, chance).
 */
export function binomialLowerTail(x: number, n: number, chance: number): number {
  checkArguments(x, n, chance);
  return tailsOf(x, n, chance).lower;
}

/** P(X > x), without x itself; see binomialLowerTail. @throws StatisticsError notFinite, negative, notInteger, outOfRange. */
export function binomialUpperTail(x: number, n: number, chance: number): number {
  checkArguments(x, n, chance);
  return tailsOf(x, n, chance).upper;
}

/**
 * The smallest x with P(X <= x) >= p, for 0 < p < 1; a tail within rounding of p has reached it. For p close to 1 use
 * binomialUpperQuantile: 1 - p is rounded before it arrives.
 * @throws StatisticsError notFinite, negative, notInteger (n), outOfRange (p or chance).
 */
export function binomialQuantile(p: number, n: number, chance: number): number {
  checkOpenProbability(p);
  checkArguments(0, n, chance);
  const enough = p * (1 - QUANTILE_SLACK);
  return smallestWhole(
    0,
    n,
    guess(n, chance, normalQuantile(p)),
    (x) => tailsOf(x, n, chance).lower >= enough,
  );
}

/** The smallest x with P(X > x) <= p, for 0 < p < 1; see binomialQuantile. @throws StatisticsError as binomialQuantile. */
export function binomialUpperQuantile(p: number, n: number, chance: number): number {
  checkOpenProbability(p);
  checkArguments(0, n, chance);
  const most = p * (1 + QUANTILE_SLACK);
  return smallestWhole(
    0,
    n,
    guess(n, chance, normalUpperQuantile(p)),
    (x) => tailsOf(x, n, chance).upper <= most,
  );
}

function guess(n: number, chance: number, z: number): number {
  return quantileGuess(n * chance, n * chance * (1 - chance), 1 - 2 * chance, z);
}

function tailsOf(x: number, n: number, chance: number): { readonly lower: number; readonly upper: number } {
  if (x === n) return { lower: 1, upper: 0 };
  const tails = betaTails(x + 1, n - x, betaPlace(x + 1, n - x, chance, 1 - chance));
  return { lower: tails.upper, upper: tails.lower };
}

function checkArguments(x: number, n: number, chance: number): void {
  checkWhole('n', n, Number.MAX_SAFE_INTEGER);
  checkWhole('x', x, n);
  checkFraction('chance', chance);
}
