import type { CoxCells } from './cox-cells';
import type { CoxDesign } from './cox-design';
import { sumLived } from './cox-sums';

/**
 * Per sorted row (rows x columns, in the scaled covariates) its part of the gradient, before its own weight: the covariates
 * less their mean among those at risk at its event, less the same over all the hazard it has lived through
 * (Therneau & Grambsch 2000, equation 7.4; tied events by Efron's reduced steps).
 */
export function scoreResiduals(cells: CoxCells, design: CoxDesign): Float64Array {
  const { columnCount: size, z, weight, sets } = design;
  const { risk, hazard, relief } = cells;
  const { count, cellStart, eventStart } = sets.rows;
  const lived = sumLived(hazard, sets);
  const residuals = new Float64Array(count * size);
  for (let j = 0; j < size; j += 1) {
    const { atEvent, step, stepRelief } = cellMeans(cells, design, j);
    const livedMean = sumLived(step, sets);
    for (let k = 0; k < sets.cellCount; k += 1) {
      for (let i = cellStart[k]; i < cellStart[k + 1]; i += 1) {
        const value = z[i * size + j];
        const isEvent = i >= eventStart[k];
        const through = lived(i, k) - (isEvent ? relief[k] : 0);
        const expected = livedMean(i, k) - (isEvent ? stepRelief[k] : 0);
        const own = isEvent ? value - atEvent[k] : 0;
        residuals[i * size + j] = own - (risk[i] / weight[i]) * (value * through - expected);
      }
    }
  }
  return residuals;
}

type CellMeans = {
  /** The mean of a covariate among those at risk, averaged over the tied events. */
  readonly atEvent: Float64Array;
  /** The same mean times the hazard's step, and what of it the tied events are spared. */
  readonly step: Float64Array;
  readonly stepRelief: Float64Array;
};

/** Per cell, for one covariate (see CoxCells for the sums these are made of). */
export function cellMeans(cells: CoxCells, design: CoxDesign, j: number): CellMeans {
  const { cellCount, eventWeights } = design.sets;
  const { atRisk, tied, hazard, relief, a, b, c } = cells;
  const stride = 1 + design.columnCount;
  const perCell = (formula: (cell: number, ofRisk: number, ofTied: number) => number): Float64Array =>
    Float64Array.from({ length: cellCount }, (_, k) =>
      formula(k, atRisk[k * stride + 1 + j], tied[k * stride + 1 + j]),
    );
  return {
    atEvent: perCell((k, s1, d1) => (hazard[k] * s1 - relief[k] * d1) / eventWeights[k]),
    step: perCell((k, s1, d1) => a[k] * s1 - b[k] * d1),
    stepRelief: perCell((k, s1, d1) => b[k] * s1 - c[k] * d1),
  };
}
