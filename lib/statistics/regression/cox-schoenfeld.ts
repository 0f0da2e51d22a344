import type { CoxData } from './cox-data';
import { restoreCox } from './cox-restore';
import type { CoxFit } from './cox-result';
import { cellMeans } from './cox-score-residuals';

export type SchoenfeldResiduals = {
  /** Per event: its row in the data and its time, stratum by stratum in order of time. */
  readonly rows: Int32Array;
  readonly timeDays: Float64Array;
  /** events x estimated covariates (`fit.estimated`), by rows, in the units of the covariates. */
  readonly residuals: Float64Array;
};

/**
 * Schoenfeld's residuals: for each event its covariates less their mean, weighted by risk, among those at risk.
 *
 * Formula: x - xbar(t) at the fitted coefficients (Schoenfeld, Biometrika 1982;69:239); with Efron's ties xbar is the
 * average over the terms of the tied events. Not multiplied by case weights: weighted, they sum to 0.
 * Order: stratum code, time, row. Events of weight 0 have none.
 * @throws StatisticsError as fitCox, and outOfRange (`fit`) when the fit is not of these data.
 */
export function deriveSchoenfeldResiduals(data: CoxData, fit: CoxFit): SchoenfeldResiduals {
  const { design, cells } = restoreCox(data, fit);
  const { columnCount: size, z, scale, sets } = design;
  const { cellStart, eventStart, source } = sets.rows;
  const means = Array.from({ length: size }, (_, j) => cellMeans(cells, design, j).atEvent);
  const rows: number[] = [];
  const timeDays: number[] = [];
  const residuals: number[] = [];
  for (let k = 0; k < sets.cellCount; k += 1) {
    for (let i = eventStart[k]; i < cellStart[k + 1]; i += 1) {
      rows.push(source[i]);
      timeDays.push(sets.cellTimes[k]);
      for (let j = 0; j < size; j += 1) residuals.push((z[i * size + j] - means[j][k]) * scale[j]);
    }
  }
  return {
    rows: Int32Array.from(rows),
    timeDays: Float64Array.from(timeDays),
    residuals: Float64Array.from(residuals),
  };
}
