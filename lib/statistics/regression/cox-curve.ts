import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkConfidenceLevel, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import type { CoxData } from './cox-data';
import { type RestoredCox, restoreCox } from './cox-restore';
import type { CoxFit } from './cox-result';
import { cellMeans } from './cox-score-residuals';

/** One stratum's curve, by event time, ascending; before the first the hazard is 0 and survival 1. */
export type CoxCurve = {
  readonly kind: 'estimated';
  readonly stratum: number;
  readonly timeDays: Float64Array;
  readonly cumulativeHazard: Float64Array;
  readonly survival: Float64Array;
  readonly interval: CoxCurveInterval | NotEstimable;
};

export type CoxCurveInterval = {
  readonly kind: 'estimated';
  /** Of the cumulative hazard. */
  readonly standardError: Float64Array;
  /** Of survival. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
};

/** Values of all covariates, in the order of the fit, and of the offset (0 unless given). */
export type CovariatePattern = { readonly covariates: Column; readonly offset?: number };

/**
 * The cumulative hazard and survival that a Cox model predicts for one covariate pattern, per stratum; with all
 * covariates 0 the baseline.
 *
 * Formula: H(t | x) = exp(offset + b'x) sum of the hazard's steps up to t, d/S at Breslow's ties (Breslow 1974), sum
 * of w/(S - f D) at Efron's; survival exp(-H). Variance: exp(offset + b'x)^2 {sum w/(S - f D)^2 + q'Vq}, with V the covariance of
 * b that the fit holds and q the sum over steps of (xbar - x) times the step (Tsiatis, Ann Stat 1981;9:93; Therneau &
 * Grambsch 2000, 10.2). Limits H exp(-+ z se/H), turned into those of survival.
 * A covariate without a coefficient counts as the combination of others that it is. Strata without events have a
 * curve without times.
 * Not estimable: the interval when the fit has no covariance; the curve when its values are so far from the data that exp(b'x) is no
 * number. Shapes: one value per covariate; one curve per stratum, in order of codes (code 0 without strata).
 * @throws StatisticsError as fitCox, and outOfRange (`fit`, when it is not of these data), unequalLengths or notFinite (`pattern`).
 */
export function estimateCoxCurve(
  data: CoxData,
  fit: CoxFit,
  pattern: CovariatePattern,
  options: { readonly confidenceLevel?: number } = {},
): (CoxCurve | NotEstimable)[] {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  const offset = pattern.offset ?? 0;
  checkPattern(pattern.covariates, offset, data.covariates.length);
  const restored = restoreCox(data, fit);
  const quantile = normalUpperQuantile((1 - confidenceLevel) / 2);
  return restored.design.sets.strataCodes.map((code, s) => {
    const steps = stratumSteps(restored, fit, pattern.covariates, offset, s);
    return steps ? describeCurve(code, steps, fit, quantile) : notEstimable('farFromData');
  });
}

function checkPattern(covariates: Column, offset: number, count: number): void {
  checkFinite('pattern.covariates', covariates);
  checkFinite('pattern.offset', [offset]);
  if (covariates.length === count) return;
  const message = `pattern.covariates has ${covariates.length} values but the data have ${count} covariates; give one for each.`;
  throw new StatisticsError('unequalLengths', 'pattern.covariates', undefined, message);
}

type StratumSteps = {
  readonly timeDays: Float64Array;
  /** Up to each time: the hazard of the pattern, its variance without that of the coefficients ... */
  readonly hazard: Float64Array;
  readonly ownVariance: Float64Array;
  /** ... and minus its slopes in the coefficients; times x estimated covariates, by rows. */
  readonly slopes: Float64Array;
};

/** Undefined when the risk of the pattern is no number. */
function stratumSteps(
  { design, coefficients, cells }: RestoredCox,
  fit: CoxFit,
  covariates: Column,
  offset: number,
  s: number,
): StratumSteps | undefined {
  const { columnCount: size, centre, scale, offsetCentre, sets } = design;
  const from = sets.strataStart[s];
  const to = sets.strataStart[s + 1];
  const away = Float64Array.from(fit.estimated, (column, j) => covariates[column] - centre[s * size + j]);
  let eta = offset - offsetCentre[s];
  for (let j = 0; j < size; j += 1) eta += coefficients[j] * away[j];
  const risk = Math.exp(eta);
  if (!(risk > 0 && risk < Number.POSITIVE_INFINITY)) return undefined;
  const means = Array.from({ length: size }, (_, j) => cellMeans(cells, design, j).step);
  const hazard = new Float64Array(to - from);
  const ownVariance = new Float64Array(to - from);
  const slopes = new Float64Array((to - from) * size);
  for (let k = from, t = 0; k < to; k += 1, t += 1) {
    hazard[t] = (t > 0 ? hazard[t - 1] : 0) + risk * cells.hazard[k];
    ownVariance[t] = (t > 0 ? ownVariance[t - 1] : 0) + risk * risk * cells.a[k];
    for (let j = 0; j < size; j += 1) {
      const step = means[j][k] * scale[j] - away[j] * cells.hazard[k];
      slopes[t * size + j] = (t > 0 ? slopes[(t - 1) * size + j] : 0) + risk * step;
    }
  }
  return { timeDays: sets.cellTimes.slice(from, to), hazard, ownVariance, slopes };
}

function describeCurve(
  stratum: number,
  { timeDays, hazard, ownVariance, slopes }: StratumSteps,
  { covariance, estimated }: CoxFit,
  quantile: number,
): CoxCurve {
  const curve = {
    kind: 'estimated',
    ...{ stratum, timeDays, cumulativeHazard: hazard, survival: hazard.map((h) => Math.exp(-h)) },
  } as const;
  if (!(covariance instanceof Float64Array)) return { ...curve, interval: covariance };
  const size = estimated.length;
  const standardError = hazard.map((_, t) => {
    const slope = slopes.subarray(t * size, (t + 1) * size);
    return Math.sqrt(ownVariance[t] + squaredForm(covariance, slope));
  });
  const limit = (side: number): Float64Array =>
    hazard.map((h, t) => Math.exp(-h * Math.exp((side * quantile * standardError[t]) / h)));
  return { ...curve, interval: { kind: 'estimated', standardError, lower: limit(1), upper: limit(-1) } };
}

/** x' matrix x. */
function squaredForm(matrix: Float64Array, x: Float64Array): number {
  const size = x.length;
  let sum = 0;
  for (let j = 0; j < size; j += 1)
    for (let k = 0; k < size; k += 1) sum += x[j] * matrix[j * size + k] * x[k];
  return sum;
}
