import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths } from '../check-input';
import { chiSquareUpperTail } from '../special/chi-square';
import { type InfluenceRows, influenceRowsByGroup, sortByPlace } from './influence-rows';
import { tabulateWeighted } from './weighted-kaplan-meier';

export type WeightedLogRankData = {
  readonly timeDays: Column;
  readonly event: Column;
  /** 0 or 1. */
  readonly group: Column;
  readonly weights: Column;
};

export type WeightedLogRankVariance = 'permutation' | 'sampling';

export type WeightedLogRankTest = {
  readonly kind: 'tested';
  /** Weighted events in group 1 beyond those expected. */
  readonly score: number;
  readonly variance: number;
  /** Above 0 when group 1 has more events than expected. */
  readonly z: number;
  readonly chiSquare: number;
  readonly pValue: number;
};

/**
 * The log-rank test of two groups of weighted cases, made comparable by inverse-probability or overlap weights.
 *
 * Estimand: the hypothesis that both groups share one hazard in the population the weights carry the sample to.
 * Formula, 'permutation' (default): U = sum of D1 - N1 D/N (weighted sums); variance sum of d (n - d)/(n (n - 1)) x ((N0/N)^2 times
 * the squared weights at risk in group 1 + (N1/N)^2 times those in group 0), d and n counts of cases, nothing at n = 1
 * (Xie & Liu, Stat Med 2005;24:3089, from memory). With weights 1 it is not quite the log-rank test: the variance is
 * another.
 * 'sampling': U = sum of weighted score residuals of Cox's model at 0, ties by Efron, its variance n/(n - 1) times the sum of their
 * squares about the mean: cases as draws with known weights (Binder, Biometrika 1992;79:139; survey sampling). The two scores
 * differ at ties only.
 * Ties, risk set: as estimateKaplanMeier. Cases of weight 0 take no part, except in the counts d and n of 'permutation'.
 * Not estimable: a group without weight, no events with weight, groups never at risk together at one while others
 * remain; draws whose residuals are all alike.
 * Shapes: columns of equal length. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode.
 */
export function testWeightedLogRank(
  data: WeightedLogRankData,
  options: { readonly variance?: WeightedLogRankVariance } = {},
): WeightedLogRankTest | NotEstimable {
  const { timeDays, event, group, weights } = data;
  const { columns, table } = tabulateWeighted({ timeDays, event, weights }, undefined, 1);
  const rows = influenceRowsByGroup(columns, { weights }, table);
  checkEqualLengths({ timeDays, group });
  checkCodes('group', group, 2);
  const [all] = rows;
  const arm = Uint8Array.from(group);
  const present = [0, 1].filter((code) => arm.some((own, i) => own === code && all.weight[i] > 0));
  if (present.length < 2) return notEstimable('fewerThanTwoGroups');
  if (!all.weight.some((w, i) => w > 0 && all.code[i] === 1)) return notEstimable('noEvents');
  const permuted = sumPermutation(all, arm, table.times.length);
  if (permuted.variance === 0) return notEstimable('noOverlap');
  const sums = options.variance === 'sampling' ? sumScoreResiduals(all, arm, table.times.length) : permuted;
  if (sums.variance === 0) return notEstimable('tooFewClusters');
  const z = sums.score / Math.sqrt(sums.variance);
  return { kind: 'tested', ...sums, z, chiSquare: z * z, pValue: chiSquareUpperTail(z * z, 1) };
}

/** Residuals that differ by less than this share of their squares are alike. */
const ROUNDING = 1e-14;

type Sums = { readonly score: number; readonly variance: number };

function sumPermutation(rows: InfluenceRows, arm: Uint8Array, placeCount: number): Sums {
  const { rows: order, from } = sortByPlace(rows.exit, placeCount);
  const weight = [0, 0];
  const squares = [0, 0];
  let n = 0;
  let score = 0;
  let variance = 0;
  for (let j = placeCount - 1; j >= 0; j -= 1) {
    const failing = [0, 0];
    let d = 0;
    for (let k = from[j]; k < from[j + 1]; k += 1) {
      const i = order[k];
      weight[arm[i]] += rows.weight[i];
      squares[arm[i]] += rows.weight[i] ** 2;
      n += 1;
      if (rows.code[i] === 0) continue;
      failing[arm[i]] += rows.weight[i];
      d += 1;
    }
    const total = weight[0] + weight[1];
    if (d === 0 || total === 0) continue;
    score += failing[1] - (weight[1] / total) * (failing[0] + failing[1]);
    if (n > 1)
      variance +=
        ((d * (n - d)) / n / (n - 1)) *
        ((weight[0] / total) ** 2 * squares[1] + (weight[1] / total) ** 2 * squares[0]);
  }
  return { score, variance };
}

/** Score residuals at 0: (x - mean) dN less the sum of (x - mean) dH over the times at risk, means and dH by Efron's terms. */
function sumScoreResiduals(rows: InfluenceRows, arm: Uint8Array, placeCount: number): Sums {
  const { rows: order, from } = sortByPlace(rows.exit, placeCount);
  const mean = new Float64Array(placeCount);
  const hazard = new Float64Array(placeCount);
  const weight = [0, 0];
  for (let j = placeCount - 1; j >= 0; j -= 1) {
    const failing = [0, 0];
    let d = 0;
    for (let k = from[j]; k < from[j + 1]; k += 1) {
      const i = order[k];
      weight[arm[i]] += rows.weight[i];
      if (rows.code[i] === 0 || rows.weight[i] === 0) continue;
      failing[arm[i]] += rows.weight[i];
      d += 1;
    }
    for (let k = 0; k < d; k += 1) {
      const left = weight[0] + weight[1] - (k / d) * (failing[0] + failing[1]);
      mean[j] += (weight[1] - (k / d) * failing[1]) / left / d;
      hazard[j] += (failing[0] + failing[1]) / d / left;
    }
  }
  const residuals = new Float64Array(rows.exit.length);
  let [sumHazard, sumMean] = [0, 0];
  for (let j = 0; j < placeCount; j += 1) {
    sumHazard += hazard[j];
    sumMean += hazard[j] * mean[j];
    for (let k = from[j]; k < from[j + 1]; k += 1) {
      const i = order[k];
      const own = rows.code[i] === 0 ? 0 : arm[i] - mean[j];
      residuals[i] = rows.weight[i] * (own - (arm[i] * sumHazard - sumMean));
    }
  }
  const drawn = residuals.filter((_, i) => rows.weight[i] > 0);
  const n = drawn.length;
  const score = drawn.reduce((sum, value) => sum + value, 0);
  const spread = drawn.reduce((sum, value) => sum + (value - score / n) ** 2, 0);
  const size = drawn.reduce((sum, value) => sum + value * value, 0);
  return { score, variance: spread > ROUNDING * size ? (n / (n - 1)) * spread : 0 };
}
