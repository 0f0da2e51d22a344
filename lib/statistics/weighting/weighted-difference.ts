import { type NotEstimable, notEstimable } from '../absence';
import {
  type Column,
  checkCodes,
  checkConfidenceLevel,
  checkEqualLengths,
  checkFinite,
} from '../check-input';
import { checkWeights } from '../check-weights';
import { chiSquareUpperTail } from '../special/chi-square';
import { normalUpperQuantile } from '../special/normal';

export type DifferenceInterval = {
  readonly kind: 'estimated';
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly z: number;
  readonly pValue: number;
};

export type WeightedDifference = {
  readonly kind: 'estimated';
  readonly treatedMean: number;
  readonly controlMean: number;
  /** Treated minus others; of an outcome of 0 and 1 the risk difference. */
  readonly difference: number;
  readonly interval: DifferenceInterval | NotEstimable;
};

/**
 * The difference of two weighted means, its variance taking the weights as known.
 *
 * Estimand: mean outcome of the treated minus that of the others in the population that the weights make.
 * Formula: weighted means sum wy/sum w; variance n/(n - 1) times the sum over rows of (w (y - mean)/sum w of the group)^2,
 * the sandwich of sampling with replacement (Binder, Int Stat Rev 1983;51:279). n counts all rows. Where the weights come
 * from an estimated propensity score, estimatePropensityWeightedDifference is the one to quote.
 * Not estimable: a group without rows or weight; the interval when the outcome does not vary within the groups.
 * @throws StatisticsError unequalLengths, notFinite, negative (weights), unknownCode (treated), outOfRange
 * (`confidenceLevel`).
 */
export function estimateWeightedDifference(
  data: { readonly outcome: Column; readonly treated: Column; readonly weights?: Column },
  options: { readonly confidenceLevel?: number } = {},
): WeightedDifference | NotEstimable {
  const { outcome, treated, weights } = data;
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkEqualLengths({ outcome, treated, weights });
  checkFinite('outcome', outcome);
  checkCodes('treated', treated, 2);
  if (weights) checkWeights(weights);
  const means = weightedMeans(outcome, treated, weights ?? new Float64Array(outcome.length).fill(1));
  if ('kind' in means) return means;
  const { difference, influence } = means;
  const n = outcome.length;
  let sum = 0;
  for (const value of influence) sum += value * value;
  return {
    kind: 'estimated',
    treatedMean: means.treatedMean,
    controlMean: means.controlMean,
    difference,
    interval: intervalAround(difference, (n / (n - 1)) * sum, confidenceLevel),
  };
}

export type WeightedMeans = {
  readonly treatedMean: number;
  readonly controlMean: number;
  readonly difference: number;
  /** Per row: how much the difference changes as the row's weight does, and that times the weight. */
  readonly slope: Float64Array;
  readonly influence: Float64Array;
};

/** Columns checked before. */
export function weightedMeans(
  outcome: Column,
  treated: Column,
  weights: Column,
): WeightedMeans | NotEstimable {
  const total = new Float64Array(2);
  const sum = new Float64Array(2);
  const rows = new Float64Array(2);
  for (let i = 0; i < outcome.length; i += 1) {
    rows[treated[i]] += 1;
    total[treated[i]] += weights[i];
    sum[treated[i]] += weights[i] * outcome[i];
  }
  if (rows[0] === 0 || rows[1] === 0) return notEstimable('emptyArm');
  if (total[0] === 0 || total[1] === 0) return notEstimable('allWeightsZero');
  const [controlMean, treatedMean] = [sum[0] / total[0], sum[1] / total[1]];
  const slope = new Float64Array(outcome.length);
  for (let i = 0; i < slope.length; i += 1)
    slope[i] =
      treated[i] === 1 ? (outcome[i] - treatedMean) / total[1] : (controlMean - outcome[i]) / total[0];
  const influence = slope.map((value, i) => value * weights[i]);
  return { treatedMean, controlMean, difference: treatedMean - controlMean, slope, influence };
}

export function intervalAround(
  difference: number,
  variance: number,
  confidenceLevel: number,
): DifferenceInterval | NotEstimable {
  // Rounding leaves something of a spread that is not there.
  if (!(variance > 1e-28)) return notEstimable('noSpread');
  const standardError = Math.sqrt(variance);
  const width = normalUpperQuantile((1 - confidenceLevel) / 2) * standardError;
  const z = difference / standardError;
  return {
    kind: 'estimated',
    standardError,
    lower: difference - width,
    upper: difference + width,
    z,
    pValue: chiSquareUpperTail(z * z, 1),
  };
}
