import type { Column } from '../check-input';
import { gridPlaces } from './equal-times';
import type { EventColumns, EventTable } from './event-table';
import type { WeightCounts } from './weight-counts';

/** Sums per cell of a table of counts: of weights, of their squares, and of the rows that have a weight. */
export type WeightCells = {
  readonly weight: Float64Array;
  readonly square: Float64Array;
  readonly weighted: Int32Array;
};

/** One pass over rows that the table was made of and that have no delayed entry. */
export function addWeights(
  columns: EventColumns,
  weights: Column | undefined,
  table: EventTable,
): WeightCells {
  const { timeDays, code, group } = columns;
  const { groupCount, codeCount } = table;
  const placeOf = gridPlaces(table.times);
  const weight = new Float64Array(table.exits.length);
  const square = new Float64Array(table.exits.length);
  const weighted = new Int32Array(table.exits.length);
  for (let i = 0; i < timeDays.length; i += 1) {
    const place = placeOf ? placeOf(timeDays[i]) : timeDays[i];
    const cell = (place * groupCount + (group ? group[i] : 0)) * codeCount + code[i];
    const w = weights ? weights[i] : 1;
    weight[cell] += w;
    square[cell] += w * w;
    if (w > 0) weighted[cell] += 1;
  }
  return { weight, square, weighted };
}

export type CellSums = {
  readonly counts: WeightCounts;
  /** Per place of the grid: the robust variance of log S. */
  readonly logSurvival: Float64Array;
  readonly weightTotal: number;
  readonly squareTotal: number;
  readonly weightedTotal: number;
};

/**
 * The weights of one group, from a table with two outcomes, every row on its own. A row's influence on -log S is its share w/(N - D)
 * of its own event less w times the hazard sum A while it is at risk: those still there have w A, those gone stay as they were.
 */
export function sumCells(cells: WeightCells, { times, groupCount }: EventTable, g: number): CellSums {
  const length = times.length;
  const counts: WeightCounts = {
    ...{ atRisk: new Float64Array(length), events: new Float64Array(length) },
    ...{ own: new Float64Array(length), censored: new Float64Array(length) },
    allFail: new Uint8Array(length),
  };
  const logSurvival = new Float64Array(length);
  let weight = 0;
  let square = 0;
  let cases = 0;
  for (let j = length - 1; j >= 0; j -= 1) {
    const cell = 2 * (j * groupCount + g);
    counts.censored[j] = cells.weight[cell];
    counts.events[j] = cells.weight[cell + 1];
    counts.own[j] = counts.events[j];
    weight += counts.censored[j] + counts.events[j];
    square += cells.square[cell] + cells.square[cell + 1];
    cases += cells.weighted[cell] + cells.weighted[cell + 1];
    const failing = cells.weighted[cell + 1];
    counts.allFail[j] = failing > 0 && failing === cases ? 1 : 0;
    counts.atRisk[j] = counts.allFail[j] ? counts.events[j] : weight;
  }
  const totals = { weightTotal: weight, squareTotal: square, weightedTotal: cases };
  let hazard = 0;
  let gone = 0;
  for (let j = 0; j < length; j += 1) {
    const cell = 2 * (j * groupCount + g);
    const left = counts.atRisk[j] - counts.events[j];
    const fails = counts.events[j] > 0 && !counts.allFail[j];
    if (fails) hazard += counts.events[j] / counts.atRisk[j] / left;
    const own = fails ? 1 / left - hazard : 0;
    gone += cells.square[cell + 1] * own * own + cells.square[cell] * hazard * hazard;
    square -= cells.square[cell] + cells.square[cell + 1];
    logSurvival[j] = gone + Math.max(0, square) * hazard * hazard;
  }
  return { counts, logSurvival, ...totals };
}
