import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { quadraticForm } from './cholesky';
import { type CoxTies, emptyCells, fillCells } from './cox-cells';
import { type CoxData, checkCoxData } from './cox-data';
import { buildDesign, type CoxDesign } from './cox-design';
import { type CoxLimit, followRecession } from './cox-limit';
import { type CoxSolution, maximiseCox } from './cox-newton';
import { type CoxFit, type CoxMonotone, type CoxVariance, describeCoefficient, testedBy } from './cox-result';
import { clusterScores, modelCovariance, robustCovariance, robustScore, waldStatistic } from './cox-variance';

export type CoxOptions = {
  readonly ties?: CoxTies;
  /** Robust when clusters are given, from the model otherwise. */
  readonly variance?: CoxVariance;
  readonly confidenceLevel?: number;
};

/**
 * Cox's proportional hazards regression.
 *
 * Estimand: log hazard ratios b in hazard(t | x) = h(t) exp(offset + b'x), with h(t) free, one per stratum.
 * Formula: the maximum of the log partial likelihood (Cox, JRSS B 1972;34:187), ties by Efron (JASA 1977;72:557; m tied
 * events have their mean weight at each of m terms, the k-th with k/m of their risk removed) or Breslow (Biometrics
 * 1974;30:89). Standard errors from the inverse information or, robust, from D'D with D the weighted score residuals
 * times the inverse information, summed within clusters (a cluster per row without clusters; Lin & Wei, JASA
 * 1989;84:1074; no small-sample factor). Limits exp(b -+ z se). Wald's test uses the variance asked for, likelihood
 * ratio and score test (at b = 0) the model.
 * Conventions: risk set, equal times and delayed entry as estimateKaplanMeier. With Breslow's ties whole weights are
 * counts of equal rows; with Efron's they are not.
 * Not estimable: no rows, no event, no covariate that varies among those at risk, no convergence; a coefficient
 * whose covariate is a combination of earlier ones; with robust variance, intervals and tests from too few clusters.
 * A monotone likelihood (no finite maximum) is a result of its own kind, with the limit of the likelihood.
 * Shapes: columns of equal length. Units: days; coefficients per unit of their covariate. Coefficients are right to 1e-10
 * in units of the spread of their covariate.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function fitCox(data: CoxData, options: CoxOptions = {}): CoxFit | CoxMonotone | NotEstimable {
  const { confidenceLevel = 0.95, ties = 'efron' } = options;
  const variance = options.variance ?? (data.cluster ? 'robust' : 'model');
  checkConfidenceLevel(confidenceLevel);
  checkCoxData(data);
  const design = buildDesign(data);
  const cluster = variance === 'robust' ? clustersOf(data) : undefined;
  const quantile = normalUpperQuantile((1 - confidenceLevel) / 2);
  return fitDesign(design, countRows(data), { ties, cluster, quantile });
}

type DesignOptions = {
  readonly ties: CoxTies;
  /** Per row of the data, from 0 without gaps: robust variance. */
  readonly cluster: Int32Array | undefined;
  readonly quantile: number;
};

/** fitCox once columns are checked and prepared. */
export function fitDesign(
  design: CoxDesign,
  n: number,
  options: DesignOptions,
): CoxFit | CoxMonotone | NotEstimable {
  if (n === 0) return notEstimable('noRows');
  if (design.sets.cellCount === 0) return notEstimable('noEvents');
  const solution = maximiseCox(design, options.ties);
  if (solution.kind === 'noInformation') return notEstimable('noVariationAtRisk');
  if (solution.kind === 'noConvergence') return notEstimable('noConvergence');
  if (solution.kind === 'converged') return describeFit(design, solution, n, options);
  const limit = followRecession(solution.design, solution.recession, options.ties, solution.kept);
  return limit ? describeLimit(design, solution, limit, n, options) : notEstimable('noConvergence');
}

function basisOf(
  design: CoxDesign,
  { null: nothing }: CoxSolution,
  logLikelihood: number,
  n: number,
  { ties, cluster }: DesignOptions,
): Pick<
  CoxFit,
  | 'n'
  | 'eventTotal'
  | 'ties'
  | 'variance'
  | 'nullLogLikelihood'
  | 'logLikelihood'
  | 'likelihoodRatio'
  | 'score'
> {
  const { rank } = nothing.factor;
  return {
    n,
    eventTotal: design.sets.eventCounts.reduce((sum, count) => sum + count, 0),
    ties,
    variance: cluster ? 'robust' : 'model',
    nullLogLikelihood: nothing.logLikelihood,
    logLikelihood,
    likelihoodRatio: testedBy(2 * (logLikelihood - nothing.logLikelihood), rank),
    score: testedBy(nothing.score, rank),
  };
}

function describeFit(
  full: CoxDesign,
  solution: Extract<CoxSolution, { kind: 'converged' }>,
  n: number,
  options: DesignOptions,
): CoxFit {
  const { design, kept, beta, logLikelihood } = solution;
  const size = kept.length;
  const coefficient = beta.map((b, j) => b / design.scale[j]);
  const { model, covariance, scores } = covariancesOf(solution, options.cluster);
  const wald = waldOf(solution, coefficient, scores && covariance);
  return {
    kind: 'fitted',
    ...basisOf(full, solution, logLikelihood, n, options),
    coefficients: Array.from({ length: full.columnCount }, (_, column) => {
      const j = kept.indexOf(column);
      if (j < 0) return notEstimable('collinear');
      const variance = covariance instanceof Float64Array ? covariance[j * size + j] : covariance;
      return describeCoefficient(coefficient[j], variance, options.quantile);
    }),
    estimated: kept,
    covariance,
    modelCovariance: model,
    wald: wald === undefined ? notEstimable('tooFewClusters') : testedBy(wald, size),
    ...(scores ? { robustScore: robustScoreTest(solution, options) } : {}),
  };
}

/** From the information itself unless another covariance is given: its inverse has lost digits. */
function waldOf(
  { factor, beta }: Extract<CoxSolution, { kind: 'converged' }>,
  coefficient: Float64Array,
  covariance: Float64Array | NotEstimable | undefined,
): number | undefined {
  if (!covariance) return quadraticForm(factor, beta);
  return covariance instanceof Float64Array ? waldStatistic(coefficient, covariance) : undefined;
}

/** A robust variance is gone when it is this part of the model's, or less. */
const ROUNDING = 1e-22;

type Covariances = {
  readonly model: Float64Array;
  readonly covariance: Float64Array | NotEstimable;
  readonly scores: Float64Array | undefined;
};

function covariancesOf(
  { design, cells, factor }: Extract<CoxSolution, { kind: 'converged' }>,
  cluster: Int32Array | undefined,
): Covariances {
  const model = modelCovariance(factor, design);
  if (!cluster) return { model, covariance: model, scores: undefined };
  const scores = clusterScores(cells, design, clusterOfRows(design, cluster));
  const robust = robustCovariance(scores, factor, design);
  // The scores of all clusters sum to zero: with one cluster, or with clusters all alike, only rounding is left.
  const seen = design.scale.every((_, j) => {
    const at = j * (design.columnCount + 1);
    return robust[at] > ROUNDING * model[at];
  });
  const covariance = seen ? robust : notEstimable('tooFewClusters');
  return { model, covariance, scores };
}

function robustScoreTest(
  { design }: Extract<CoxSolution, { kind: 'converged' }>,
  { ties, cluster }: DesignOptions,
): CoxFit['wald'] {
  if (!cluster) return notEstimable('tooFewClusters');
  const cells = emptyCells(design, ties);
  fillCells(cells, design, new Float64Array(design.columnCount));
  const statistic = robustScore(
    clusterScores(cells, design, clusterOfRows(design, cluster)),
    design.columnCount,
  );
  return statistic === undefined ? notEstimable('tooFewClusters') : testedBy(statistic, design.columnCount);
}

function describeLimit(
  full: CoxDesign,
  solution: CoxSolution,
  limit: CoxLimit,
  n: number,
  options: DesignOptions,
): CoxMonotone {
  const { infinite, rest, open } = limit;
  const { cluster } = options;
  const covariance = rest && covariancesOf(rest.solution, cluster).covariance;
  const size = rest ? rest.columns.length : 0;
  return {
    kind: 'monotone',
    reason: notEstimable('monotoneLikelihood').reason,
    ...basisOf(full, solution, limit.logLikelihood, n, options),
    coefficients: Array.from({ length: full.columnCount }, (_, column) => {
      const sign = infinite.get(column);
      if (sign !== undefined) return { kind: 'infinite', sign };
      const j = rest ? rest.columns.indexOf(column) : -1;
      if (!rest || !covariance || j < 0 || open.has(column)) return notEstimable('collinear');
      const { beta, design } = rest.solution;
      const variance = covariance instanceof Float64Array ? covariance[j * size + j] : covariance;
      return describeCoefficient(beta[j] / design.scale[j], variance, options.quantile);
    }),
  };
}

function countRows({ timeDays, weights }: CoxData): number {
  if (!weights) return timeDays.length;
  let count = 0;
  for (let i = 0; i < weights.length; i += 1) if (weights[i] > 0) count += 1;
  return count;
}

function clusterOfRows({ sets }: CoxDesign, cluster: Int32Array): Int32Array {
  return sets.rows.source.map((row) => cluster[row]);
}

/** Clusters numbered from 0 without gaps; a cluster per row unless given. */
function clustersOf({ cluster, timeDays }: CoxData): Int32Array {
  if (!cluster) return Int32Array.from({ length: timeDays.length }, (_, i) => i);
  const numberOf = new Map<number, number>();
  return Int32Array.from(cluster, (code) => {
    const known = numberOf.get(code) ?? numberOf.size;
    numberOf.set(code, known);
    return known;
  });
}
