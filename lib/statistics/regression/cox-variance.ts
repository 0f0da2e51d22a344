import { factorSymmetric, inverseQuadratic, invertSymmetric, type SymmetricFactor } from './cholesky';
import type { CoxCells } from './cox-cells';
import type { CoxDesign } from './cox-design';
import { scoreResiduals } from './cox-score-residuals';

/** The inverse of the information, in the units of the covariates; columns x columns, by rows. */
export function modelCovariance(factor: SymmetricFactor, design: CoxDesign): Float64Array {
  return inCovariateUnits(invertSymmetric(factor), design.scale);
}

/**
 * Score residuals times case weights, summed by cluster: clusters x columns, in the scaled covariates. `cluster` numbers
 * the clusters of the sorted rows.
 */
export function clusterScores(cells: CoxCells, design: CoxDesign, cluster: Int32Array): Float64Array {
  const { columnCount: size, weight } = design;
  let clusters = 0;
  for (const code of cluster) clusters = Math.max(clusters, code + 1);
  const residuals = scoreResiduals(cells, design);
  const sums = new Float64Array(clusters * size);
  for (let i = 0; i < weight.length; i += 1)
    for (let j = 0; j < size; j += 1) sums[cluster[i] * size + j] += weight[i] * residuals[i * size + j];
  return sums;
}

/** D'D for D = scores times the inverse information (Lin & Wei 1989), in the units of the covariates. */
export function robustCovariance(
  scores: Float64Array,
  factor: SymmetricFactor,
  design: CoxDesign,
): Float64Array {
  const size = design.columnCount;
  const inverse = invertSymmetric(factor);
  const influence = new Float64Array(scores.length);
  for (let at = 0; at < scores.length; at += size)
    for (let j = 0; j < size; j += 1)
      for (let k = 0; k < size; k += 1) influence[at + j] += scores[at + k] * inverse[k * size + j];
  return inCovariateUnits(crossProducts(influence, size), design.scale);
}

/**
 * The score statistic with the clusters' own variance, undefined when they are too few for one: with as many clusters as
 * columns it would be their number, whatever the data.
 */
export function robustScore(scores: Float64Array, size: number): number | undefined {
  if (scores.length <= size * size) return undefined;
  const total = new Float64Array(size);
  for (let k = 0; k < scores.length; k += 1) total[k % size] += scores[k];
  const factor = factorSymmetric(crossProducts(scores, size), size, SINGULAR);
  return factor.rank === size ? inverseQuadratic(factor, total) : undefined;
}

/** estimate' V^-1 estimate, undefined when V has no inverse. */
export function waldStatistic(estimate: Float64Array, covariance: Float64Array): number | undefined {
  const factor = factorSymmetric(covariance, estimate.length, SINGULAR);
  return factor.rank === estimate.length ? inverseQuadratic(factor, estimate) : undefined;
}

const SINGULAR = 1e-11;

function crossProducts(rows: Float64Array, size: number): Float64Array {
  const sums = new Float64Array(size * size);
  for (let at = 0; at < rows.length; at += size)
    for (let j = 0; j < size; j += 1)
      for (let k = 0; k < size; k += 1) sums[j * size + k] += rows[at + j] * rows[at + k];
  return sums;
}

function inCovariateUnits(matrix: Float64Array, scale: Float64Array): Float64Array {
  const size = scale.length;
  return matrix.map((value, k) => value / scale[Math.floor(k / size)] / scale[k % size]);
}
