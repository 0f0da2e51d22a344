import { StatisticsError } from '../errors';
import { type CoxCells, emptyCells, fillCells } from './cox-cells';
import { type CoxData, checkCoxData } from './cox-data';
import { buildDesign, type CoxDesign, selectColumns } from './cox-design';
import type { CoxFit } from './cox-result';

/** A fitted model beside its data: what its residuals, tests and curves are made from. */
export type RestoredCox = {
  /** The estimated columns only. */
  readonly design: CoxDesign;
  /** In units of the covariates, and of the scaled ones. */
  readonly coefficients: Float64Array;
  readonly beta: Float64Array;
  readonly cells: CoxCells;
};

/** Throws when the fit cannot be of these data: other covariates, other numbers of cases or events. */
export function restoreCox(data: CoxData, fit: CoxFit): RestoredCox {
  checkCoxData(data);
  const full = buildDesign(data);
  let n = 0;
  for (let i = 0; i < data.timeDays.length; i += 1) if (!data.weights || data.weights[i] > 0) n += 1;
  const eventTotal = full.sets.eventCounts.reduce((sum, count) => sum + count, 0);
  if (fit.coefficients.length !== data.covariates.length || fit.n !== n || fit.eventTotal !== eventTotal) {
    const message = `fit has ${fit.coefficients.length} covariates, ${fit.n} cases and ${fit.eventTotal} events but the data have ${data.covariates.length}, ${n} and ${eventTotal}; give the data it was fitted to.`;
    throw new StatisticsError('outOfRange', 'fit', undefined, message);
  }
  const whole = fit.estimated.length === full.columnCount;
  const design = whole ? full : selectColumns(full, fit.estimated);
  const coefficients = estimatedCoefficients(fit);
  const beta = coefficients.map((b, j) => b * design.scale[j]);
  const cells = emptyCells(design, fit.ties);
  fillCells(cells, design, beta);
  return { design, coefficients, beta, cells };
}

/** Those of `fit.estimated`, in its order. */
function estimatedCoefficients(fit: CoxFit): Float64Array {
  return Float64Array.from(fit.estimated, (column) => {
    const found = fit.coefficients[column];
    return found.kind === 'estimated' ? found.coefficient : 0;
  });
}
