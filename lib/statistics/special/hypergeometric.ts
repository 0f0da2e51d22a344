import { StatisticsError } from '../errors';
import { binomialMass } from './binomial-kernel';
import { checkOpenProbability, checkWhole } from './check-arguments';
import { normalQuantile, normalUpperQuantile } from './normal';
import { QUANTILE_SLACK, quantileGuess, smallestWhole } from './whole-quantile';

/** `drawn` balls are taken without return from an urn with so many marked and unmarked ones. */
export type Urn = { readonly marked: number; readonly unmarked: number; readonly drawn: number };

/**
 * P(X = x) for X the number of marked balls among those drawn, whole 0 <= x <= drawn; 0 where the urn does not allow x.
 * Relative error below 1e-12.
 * Formula: C(marked, x) C(unmarked, drawn - x) / C(all, drawn) (Abramowitz & Stegun 26.1.21) as a quotient of three binomial
 * probabilities with one success probability, each by the saddle point (Loader 2000).
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (x > drawn, drawn > all).
 */
export function hypergeometricProbability(x: number, urn: Urn): number {
  checkArguments(x, urn);
  return probabilityOf(x, urn);
}

/**
 * P(X <= x). Relative error below 1e-12 wherever the value is a normal double; each tail on its own, summed from x outward
 * by exact ratios. Time grows with the standard deviation of X.
 * @throws StatisticsError as hypergeometricProbability.
 */
export function hypergeometricLowerTail(x: number, urn: Urn): number {
  checkArguments(x, urn);
  return lowerTailOf(x, urn);
}

/** P(X > x), without x itself; see hypergeometricLowerTail. @throws StatisticsError as hypergeometricProbability. */
export function hypergeometricUpperTail(x: number, urn: Urn): number {
  checkArguments(x, urn);
  return upperTailOf(x, urn);
}

/**
 * The smallest x with P(X <= x) >= p, for 0 < p < 1; a tail within rounding of p has reached it. For p close to 1 use
 * hypergeometricUpperQuantile: 1 - p is rounded before it arrives.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (p, or drawn > all).
 */
export function hypergeometricQuantile(p: number, urn: Urn): number {
  checkOpenProbability(p);
  checkArguments(0, urn);
  const enough = p * (1 - QUANTILE_SLACK);
  return smallestWhole(
    lowest(urn),
    highest(urn),
    guess(urn, normalQuantile(p)),
    (x) => lowerTailOf(x, urn) >= enough,
  );
}

/** The smallest x with P(X > x) <= p, for 0 < p < 1; see hypergeometricQuantile. @throws StatisticsError as there. */
export function hypergeometricUpperQuantile(p: number, urn: Urn): number {
  checkOpenProbability(p);
  checkArguments(0, urn);
  const most = p * (1 + QUANTILE_SLACK);
  return smallestWhole(
    lowest(urn),
    highest(urn),
    guess(urn, normalUpperQuantile(p)),
    (x) => upperTailOf(x, urn) <= most,
  );
}

function lowest({ unmarked, drawn }: Urn): number {
  return Math.max(0, drawn - unmarked);
}

function highest({ marked, drawn }: Urn): number {
  return Math.min(marked, drawn);
}

function mean({ marked, unmarked, drawn }: Urn): number {
  return drawn * (marked / (marked + unmarked));
}

function guess(urn: Urn, z: number): number {
  const all = urn.marked + urn.unmarked;
  if (all <= 1) return lowest(urn);
  const [chance, drawn] = [urn.marked / all, urn.drawn / all];
  const variance = urn.drawn * chance * (1 - chance) * ((all - urn.drawn) / (all - 1));
  return quantileGuess(mean(urn), variance, (1 - 2 * chance) * (1 - 2 * drawn), z);
}

function probabilityOf(x: number, urn: Urn): number {
  if (x < lowest(urn) || x > highest(urn)) return 0;
  if (lowest(urn) === highest(urn)) return 1;
  const { marked, unmarked, drawn } = urn;
  const all = marked + unmarked;
  // Any probability gives the same quotient; the share drawn makes the denominator the largest.
  const share = drawn / all;
  const [p, q] = share <= 0.5 ? [share, 1 - share] : [1 - (all - drawn) / all, (all - drawn) / all];
  return (
    (binomialMass(x, marked, p, q) / binomialMass(drawn, all, p, q)) * binomialMass(drawn - x, unmarked, p, q)
  );
}

function lowerTailOf(x: number, urn: Urn): number {
  if (x >= highest(urn)) return 1;
  return x < mean(urn) ? sumDown(x, urn) : 1 - sumUp(x + 1, urn);
}

function upperTailOf(x: number, urn: Urn): number {
  if (x < lowest(urn)) return 1;
  return x + 1 > mean(urn) ? sumUp(x + 1, urn) : 1 - sumDown(x, urn);
}

/** P(X <= x) from its largest term. */
function sumDown(x: number, urn: Urn): number {
  const { marked, unmarked, drawn } = urn;
  let term = 1;
  let sum = 1;
  for (let k = x; k > lowest(urn) && term > 1e-17 * sum; k -= 1) {
    term *= (k / (marked - k + 1)) * ((unmarked - drawn + k) / (drawn - k + 1));
    sum += term;
  }
  return sum * probabilityOf(x, urn);
}

/** P(X >= x) from its largest term. */
function sumUp(x: number, urn: Urn): number {
  const { marked, unmarked, drawn } = urn;
  let term = 1;
  let sum = 1;
  for (let k = x; k < highest(urn) && term > 1e-17 * sum; k += 1) {
    term *= ((marked - k) / (k + 1)) * ((drawn - k) / (unmarked - drawn + k + 1));
    sum += term;
  }
  return sum * probabilityOf(x, urn);
}

function checkArguments(x: number, { marked, unmarked, drawn }: Urn): void {
  const most = Number.MAX_SAFE_INTEGER;
  checkWhole('marked', marked, most);
  checkWhole('unmarked', unmarked, most - marked);
  checkWhole('drawn', drawn, most);
  if (drawn > marked + unmarked) {
    const message = `drawn is ${drawn} but the urn holds ${marked + unmarked}; no more can be drawn than there are.`;
    throw new StatisticsError('outOfRange', 'drawn', undefined, message);
  }
  checkWhole('x', x, drawn);
}
