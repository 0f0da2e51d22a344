import type { CoxDesign } from './cox-design';
import type { RiskSets } from './cox-risk-sets';
import { addLinearPredictors, addWeightedRows } from './cox-row-sums';

export type CoxTies = 'efron' | 'breslow';

/**
 * Sums at each event time (cell). With S the weighted risk of those at risk, D that of the m tied events and w their
 * mean weight, Efron's terms run over l = 0..m - 1 with f = l/m and s = S - f D; Breslow's all have f = 0. Writing
 * S1, D1 for the sums of risk times covariates, everything else follows from
 *   hazard = w sum 1/s, relief = w sum f/s, a = w sum 1/s^2, b = w sum f/s^2, c = w sum f^2/s^2:
 * the hazard's step is `hazard`, that of the tied events themselves `hazard - relief`, and the sum of the squares of
 * the mean covariates is a S1 S1' - b (S1 D1' + D1 S1') + c D1 D1'.
 */
export type CoxCells = {
  readonly ties: CoxTies;
  /** Per sorted row: weight times exp(linear predictor). */
  readonly risk: Float64Array;
  /** Per sorted row, for the events expected of it. */
  readonly expected: Float64Array;
  /** cells x (1 + columns): S, S1 of those at risk. */
  readonly atRisk: Float64Array;
  /** cells x (1 + columns): D, D1 of the tied events. */
  readonly tied: Float64Array;
  readonly hazard: Float64Array;
  readonly relief: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly c: Float64Array;
};

export function emptyCells(design: CoxDesign, ties: CoxTies): CoxCells {
  const { columnCount, sets } = design;
  const cells = sets.cellCount;
  const perCell = (): Float64Array => new Float64Array(cells);
  return {
    ties,
    risk: new Float64Array(sets.rows.count),
    expected: new Float64Array(sets.rows.count),
    atRisk: new Float64Array(cells * (1 + columnCount)),
    tied: new Float64Array(cells * (1 + columnCount)),
    ...{ hazard: perCell(), relief: perCell(), a: perCell(), b: perCell(), c: perCell() },
  };
}

/** Fills the cells for these coefficients and returns the log partial likelihood without its linear part. */
export function fillCells(cells: CoxCells, design: CoxDesign, beta: Float64Array): number {
  const { sets, columnCount, z } = design;
  const { risk, atRisk, tied } = cells;
  const { cellStart, eventStart } = sets.rows;
  fillRisk(risk, design, beta);
  atRisk.fill(0);
  tied.fill(0);
  const stride = 1 + columnCount;
  for (let k = 0; k < sets.cellCount; k += 1) {
    if (!sets.firstCell)
      addWeightedRows(atRisk, k * stride, columnCount, risk, z, cellStart[k], eventStart[k]);
    addWeightedRows(tied, k * stride, columnCount, risk, z, eventStart[k], cellStart[k + 1]);
  }
  if (sets.firstCell) addStays(atRisk, sets, sets.firstCell, columnCount, risk, z);
  else spreadOverRiskSets(atRisk, tied, sets, stride);
  return sumTies(cells, sets, stride);
}

function fillRisk(risk: Float64Array, design: CoxDesign, beta: Float64Array): void {
  const { z, weight, offset } = design;
  if (!offset && beta.every((b) => b === 0)) {
    risk.set(weight);
    return;
  }
  if (offset) risk.set(offset);
  else risk.fill(0);
  addLinearPredictors(risk, beta, z);
  for (let i = 0; i < risk.length; i += 1) risk[i] = weight[i] * Math.exp(risk[i]);
}

/** From those who leave at a cell to those at risk at it: everybody who leaves there or later in the stratum. */
function spreadOverRiskSets(
  atRisk: Float64Array,
  tied: Float64Array,
  { strataStart }: RiskSets,
  stride: number,
): void {
  for (let k = 0; k < atRisk.length; k += 1) atRisk[k] += tied[k];
  for (let s = 0; s + 1 < strataStart.length; s += 1) {
    const from = strataStart[s] * stride;
    for (let k = strataStart[s + 1] * stride - 1 - stride; k >= from; k -= 1) atRisk[k] += atRisk[k + stride];
  }
}

/**
 * Sums over the stay of each row by halving (a segment tree): a row is added to the few nodes that cover its cells, and
 * each cell collects the nodes above it. Nothing is subtracted, so a small risk set after a large one keeps its digits.
 */
function addStays(
  atRisk: Float64Array,
  sets: RiskSets,
  firstCell: Int32Array,
  size: number,
  risk: Float64Array,
  z: Float64Array,
): void {
  const { cellCount } = sets;
  const { cellStart } = sets.rows;
  const stride = 1 + size;
  const nodes = new Float64Array(2 * cellCount * stride);
  for (let cell = 0; cell < cellCount; cell += 1) {
    for (let i = cellStart[cell]; i < cellStart[cell + 1]; i += 1) {
      let low = firstCell[i] + cellCount;
      let high = cell + 1 + cellCount;
      while (low < high) {
        if (low & 1) addWeightedRows(nodes, low++ * stride, size, risk, z, i, i + 1);
        if (high & 1) addWeightedRows(nodes, --high * stride, size, risk, z, i, i + 1);
        low >>= 1;
        high >>= 1;
      }
    }
  }
  for (let node = 2; node < 2 * cellCount; node += 1)
    for (let j = 0; j < stride; j += 1) nodes[node * stride + j] += nodes[(node >> 1) * stride + j];
  atRisk.set(nodes.subarray(cellCount * stride));
}

function sumTies(cells: CoxCells, sets: RiskSets, stride: number): number {
  const { ties, atRisk, tied, hazard, relief, a, b, c } = cells;
  const { cellCount, eventCounts, eventWeights } = sets;
  let logSum = 0;
  for (let k = 0; k < cellCount; k += 1) {
    const count = eventCounts[k];
    const w = eventWeights[k] / count;
    const s0 = atRisk[k * stride];
    if (count === 1 || ties === 'breslow') {
      hazard[k] = eventWeights[k] / s0;
      a[k] = hazard[k] / s0;
      logSum += eventWeights[k] * Math.log(s0);
      relief[k] = 0;
      b[k] = 0;
      c[k] = 0;
      continue;
    }
    const step = tied[k * stride] / count;
    let [h, rel, sa, sb, sc, logs] = [0, 0, 0, 0, 0, 0];
    // Logarithms are the dear part: those of sixteen terms are taken of their product, each term relative to S.
    let product = 1;
    for (let l = 0; l < count; l += 1) {
      const s = s0 - l * step;
      const f = l / count;
      const inverse = 1 / s;
      const square = inverse * inverse;
      h += inverse;
      rel += f * inverse;
      sa += square;
      sb += f * square;
      sc += f * f * square;
      product *= s / s0;
      if ((l & 15) === 15) {
        logs += Math.log(product);
        product = 1;
      }
    }
    hazard[k] = w * h;
    relief[k] = w * rel;
    a[k] = w * sa;
    b[k] = w * sb;
    c[k] = w * sc;
    logSum += w * (logs + Math.log(product) + count * Math.log(s0));
  }
  return -logSum;
}
