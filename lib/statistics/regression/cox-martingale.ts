import type { CoxData } from './cox-data';
import { restoreCox } from './cox-restore';
import type { CoxFit } from './cox-result';
import { expectedEvents } from './cox-sums';

/**
 * Martingale residuals: for each row of the data its event (1 or 0) less the events expected of it by the model.
 *
 * Formula: event - exp(offset + b'x) H(t), H the baseline hazard lived through since entry; a tied event counts its own
 * time at Efron's reduced steps (Barlow & Prentice, Biometrika 1988;75:65; Therneau, Grambsch & Fleming, Biometrika
 * 1990;77:147). Not multiplied by case weights: weighted, they sum to 0 in each stratum. At most 1, without a lower bound.
 * Rows at risk at no event time have 0 exactly, as have rows of weight 0, which take no part.
 * @throws StatisticsError as fitCox, and outOfRange (`fit`) when the fit is not of these data.
 */
export function deriveMartingaleResiduals(data: CoxData, fit: CoxFit): Float64Array {
  const { design, cells } = restoreCox(data, fit);
  const { sets, weight } = design;
  const { cellStart, eventStart, source } = sets.rows;
  const expected = expectedEvents(cells, design);
  const residuals = new Float64Array(data.timeDays.length);
  for (let k = 0; k < sets.cellCount; k += 1)
    for (let i = cellStart[k]; i < cellStart[k + 1]; i += 1)
      residuals[source[i]] = (i >= eventStart[k] ? 1 : 0) - expected[i] / weight[i];
  return residuals;
}
