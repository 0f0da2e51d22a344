import { bisect } from '../bisection';
import { betaTails } from '../proportions/beta-tails';
import { binomialLower, binomialUpper } from '../proportions/binomial';
import { gammaLowerTail, gammaUpperTail } from '../special/incomplete-gamma';
import { logGamma } from '../special/log-gamma';

export { binomialProbability } from '../proportions/binomial';

/** A tail that equals the probability asked for up to rounding has reached it. */
const SLACK = 2 ** -46;

/** P(X <= x) and P(X > x) for X binomial. */
export const binomialLowerTail = binomialLower;
export function binomialUpperTail(x: number, n: number, chance: number): number {
  return x === n ? 0 : binomialUpper(x + 1, n, chance);
}

/** The smallest x with P(X <= x) >= p, and the smallest with P(X > x) <= p. */
export function binomialQuantile(p: number, n: number, chance: number): number {
  return smallestWhere(n, (x) => binomialLower(x, n, chance) >= p * (1 - SLACK));
}
export function binomialUpperQuantile(p: number, n: number, chance: number): number {
  return smallestWhere(n, (x) => binomialUpperTail(x, n, chance) <= p * (1 + SLACK));
}

/** P(X = x) and P(X <= x) for X Poisson, mean above 0. */
export function poissonProbability(x: number, mean: number): number {
  return Math.exp(x * Math.log(mean) - mean - logGamma(x + 1));
}
export function poissonLowerTail(x: number, mean: number): number {
  return gammaUpperTail(x + 1, mean);
}

/** The smallest x with P(X <= x) >= p, and the smallest with P(X > x) <= p. */
export function poissonQuantile(p: number, mean: number): number {
  return smallestWhere(Number.POSITIVE_INFINITY, (x) => poissonLowerTail(x, mean) >= p * (1 - SLACK));
}
export function poissonUpperQuantile(p: number, mean: number): number {
  return smallestWhere(Number.POSITIVE_INFINITY, (x) => gammaLowerTail(x + 1, mean) <= p * (1 + SLACK));
}

/** The x with P(X <= x) = p for X beta. */
export function betaQuantile(p: number, a: number, b: number): number {
  return bisect(0, 1, (x) => betaTails(a, b, x).lower < p).middle;
}

/** The smallest whole number, at most `most`, at which a condition holds that then holds for all larger ones. */
function smallestWhere(most: number, holds: (x: number) => boolean): number {
  let above = 1;
  while (above < most && !holds(above)) above *= 2;
  let below = -1;
  above = Math.min(above, most);
  while (above - below > 1) {
    const middle = Math.floor((below + above) / 2);
    if (holds(middle)) above = middle;
    else below = middle;
  }
  return above;
}
