import { checkCount } from '../check-counts';
import type { Column } from '../check-input';
import { checkWeights } from '../check-weights';
import { StatisticsError } from '../errors';
import { logGamma } from '../special/log-gamma';
import { normalQuantile } from '../special/normal';
import type { RandomGenerator } from './generator';

/** Below this expected count it is quicker to walk up from 0 than to reject. */
const FEW = 10;

/** A draw from the standard normal distribution, by its quantile at a uniform draw. */
export function drawNormal(generator: RandomGenerator): number {
  return normalQuantile(generator.uniform());
}

/**
 * How many of n trials succeed, each with the same probability: an exact draw, not an approximation.
 * Formula: inversion where few are expected, else the transformed rejection of Hormann (J Stat Comput Simul 1993;46:101,
 * algorithm BTRS, constants from memory; any constants that hull the density would give the same distribution).
 * @throws StatisticsError as checkCount (n), outOfRange (probability).
 */
export function drawBinomial(generator: RandomGenerator, n: number, probability: number): number {
  checkCount('n', n);
  if (!(probability >= 0 && probability <= 1)) {
    const message = `probability is ${probability}; give a fraction from 0 to 1.`;
    throw new StatisticsError('outOfRange', 'probability', undefined, message);
  }
  return binomial(generator, n, probability);
}

function binomial(generator: RandomGenerator, n: number, p: number): number {
  if (p > 0.5) return n - binomial(generator, n, 1 - p);
  if (p === 0) return 0;
  return n * p < FEW ? byInversion(generator, n, p) : byRejection(generator, n, p);
}

function byInversion(generator: RandomGenerator, n: number, p: number): number {
  const odds = p / (1 - p);
  let probability = Math.exp(n * Math.log1p(-p));
  let left = generator.uniform();
  let count = 0;
  // The last step is taken by rounding alone, with a chance below 1e-15.
  while (left > probability && count < n) {
    left -= probability;
    count += 1;
    probability *= ((n - count + 1) / count) * odds;
  }
  return count;
}

function byRejection(generator: RandomGenerator, n: number, p: number): number {
  const spread = Math.sqrt(n * p * (1 - p));
  const b = 1.15 + 2.53 * spread;
  const a = -0.0873 + 0.0248 * b + 0.01 * p;
  const centre = n * p + 0.5;
  const inner = 0.92 - 4.2 / b;
  const height = (2.83 + 5.1 / b) * spread;
  const mode = Math.floor((n + 1) * p);
  const logOdds = Math.log(p / (1 - p));
  const atMode = logGamma(mode + 1) + logGamma(n - mode + 1);
  for (;;) {
    const u = generator.uniform() - 0.5;
    const v = generator.uniform();
    const edge = 0.5 - Math.abs(u);
    const count = Math.floor(((2 * a) / edge + b) * u + centre);
    if (edge >= 0.07 && v <= inner) return count;
    if (count < 0 || count > n) continue;
    const logDensity = atMode - logGamma(count + 1) - logGamma(n - count + 1) + (count - mode) * logOdds;
    if (Math.log((v * height) / (a / (edge * edge) + b)) <= logDensity) return count;
  }
}

/**
 * How n trials fall into categories, whose probabilities are in proportion to `weights`: one binomial draw per category
 * from what the categories before it left.
 * @throws StatisticsError as checkCount (n), notFinite, negative (weights), outOfRange (no weight above 0).
 */
export function drawMultinomial(generator: RandomGenerator, n: number, weights: Column): Int32Array {
  checkCount('n', n);
  checkWeights(weights);
  let total = 0;
  for (let i = 0; i < weights.length; i += 1) total += weights[i];
  if (total <= 0) {
    const message = 'weights hold nothing above 0; give at least one category a chance.';
    throw new StatisticsError('outOfRange', 'weights', undefined, message);
  }
  const counts = new Int32Array(weights.length);
  fillMultinomial(generator, n, weights, counts);
  return counts;
}

/** The same into counts that are there; weights checked before. */
export function fillMultinomial(
  generator: RandomGenerator,
  n: number,
  weights: Column,
  counts: Int32Array,
): void {
  // Added from the end, so that the share of the last category with weight is exactly 1.
  const rest = new Float64Array(weights.length + 1);
  for (let i = weights.length - 1; i >= 0; i -= 1) rest[i] = rest[i + 1] + weights[i];
  let left = n;
  for (let i = 0; i < weights.length; i += 1) {
    counts[i] = weights[i] > 0 && left > 0 ? binomial(generator, left, weights[i] / rest[i]) : 0;
    left -= counts[i];
  }
}
