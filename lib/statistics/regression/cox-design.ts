import type { Column } from '../check-input';
import type { CoxData } from './cox-data';
import { buildRiskSets, type RiskSets } from './cox-risk-sets';
import { addWeightedRows } from './cox-row-sums';

/**
 * What the likelihood is computed from; rows are those of `sets`. Covariates are centred within each stratum and divided
 * by their range: no comparison changes by either, and nothing large is left to be exponentiated.
 */
export type CoxDesign = {
  readonly sets: RiskSets;
  readonly columnCount: number;
  /** rows x columns, by rows: (x - centre of the stratum) / scale. */
  readonly z: Float64Array;
  readonly scale: Float64Array;
  /** strata x columns, in the units of the covariates. */
  readonly centre: Float64Array;
  readonly weight: Float64Array;
  /** Centred within each stratum. */
  readonly offset: Float64Array | undefined;
  readonly offsetCentre: Float64Array;
  readonly eventSums: EventSums;
};

/** Weighted sums over the events of the (scaled) covariates and of the offset. */
type EventSums = { readonly linear: Float64Array; readonly offsetSum: number };

/** Columns checked before. */
export function buildDesign(data: CoxData): CoxDesign {
  const { covariates, weights, offset } = data;
  const { sets, stratum } = buildRiskSets(data);
  const { source, count } = sets.rows;
  const size = covariates.length;
  const strata = sets.strataCodes.length;
  const placed = covariates.map((column) => placeColumn(column, weights, stratum, strata));
  const z = standardise(covariates, placed, stratum, sets);
  const weight = weights ? Float64Array.from(source, (row) => weights[row]) : new Float64Array(count).fill(1);
  const offsetCentre = offset
    ? placeColumn(offset, weights, stratum, strata).centre
    : new Float64Array(strata);
  const centred =
    offset && Float64Array.from(source, (row) => offset[row] - offsetCentre[stratum ? stratum[row] : 0]);
  return {
    ...{ sets, columnCount: size, z, weight, offset: centred, offsetCentre },
    scale: Float64Array.from(placed, ({ scale }) => scale),
    centre: Float64Array.from(
      { length: strata * size },
      (_, k) => placed[k % size].centre[Math.floor(k / size)],
    ),
    eventSums: sumEvents(sets, size, z, weight, centred),
  };
}

type Placed = {
  /** Per stratum: the weighted mean; of a constant column the constant itself, so that centring leaves exact zeros. */
  readonly centre: Float64Array;
  readonly scale: number;
  readonly constant: boolean;
};

/** A column whose values differ by no more than this, relative to their size, is constant but for rounding. */
const ROUNDING = 2 ** -40;

function placeColumn(
  column: Column,
  weights: Column | undefined,
  stratum: Int32Array | undefined,
  strata: number,
): Placed {
  const { sum, total, least, most } =
    stratum || weights ? summarise(column, weights, stratum, strata) : summarisePlain(column);
  const range = most.reduce((widest, value, s) => Math.max(widest, value - least[s]), 0);
  const size = most.reduce((largest, value, s) => Math.max(largest, Math.abs(value), Math.abs(least[s])), 0);
  const constant = range <= ROUNDING * size;
  const centre = sum.map((value, s) =>
    least[s] === most[s] || total[s] === 0 ? least[s] : value / total[s],
  );
  return { centre, scale: constant ? 1 : range, constant };
}

type Summary = {
  readonly sum: Float64Array;
  readonly total: Float64Array;
  readonly least: Float64Array;
  readonly most: Float64Array;
};

function summarise(
  column: Column,
  weights: Column | undefined,
  stratum: Int32Array | undefined,
  strata: number,
): Summary {
  const sum = new Float64Array(strata);
  const total = new Float64Array(strata);
  const least = new Float64Array(strata).fill(Number.POSITIVE_INFINITY);
  const most = new Float64Array(strata).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < column.length; i += 1) {
    const s = stratum ? stratum[i] : 0;
    const value = column[i];
    const weight = weights ? weights[i] : 1;
    sum[s] += weight * value;
    total[s] += weight;
    if (value < least[s]) least[s] = value;
    if (value > most[s]) most[s] = value;
  }
  return { sum, total, least, most };
}

/** The same for one stratum of equal weights, in a fifth of the time. */
function summarisePlain(column: Column): Summary {
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < column.length; i += 1) {
    const value = column[i];
    sum += value;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  const alone = (value: number): Float64Array => Float64Array.of(value);
  return { sum: alone(sum), total: alone(column.length), least: alone(least), most: alone(most) };
}

/** Rows that are written column by column before the next ones: few enough to stay in the fastest memory. */
const BLOCK = 512;

function standardise(
  covariates: readonly Column[],
  placed: readonly Placed[],
  stratum: Int32Array | undefined,
  sets: RiskSets,
): Float64Array {
  const size = covariates.length;
  const rows = covariates[0].length;
  const { source, count } = sets.rows;
  const position = new Int32Array(rows).fill(-1);
  for (let k = 0; k < count; k += 1) position[source[k]] = k;
  const z = new Float64Array(count * size);
  const block = new Float64Array(BLOCK * size);
  for (let from = 0; from < rows; from += BLOCK) {
    const to = Math.min(rows, from + BLOCK);
    for (let j = 0; j < size; j += 1) {
      const { centre, scale, constant } = placed[j];
      const column = covariates[j];
      const factor = constant ? 0 : 1 / scale;
      for (let i = from, at = j; i < to; i += 1, at += size)
        block[at] = (column[i] - centre[stratum ? stratum[i] : 0]) * factor;
    }
    for (let i = from, at = 0; i < to; i += 1, at += size) {
      if (position[i] < 0) continue;
      const target = position[i] * size;
      for (let j = 0; j < size; j += 1) z[target + j] = block[at + j];
    }
  }
  return z;
}

function sumEvents(
  sets: RiskSets,
  size: number,
  z: Float64Array,
  weight: Float64Array,
  offset: Float64Array | undefined,
): EventSums {
  const { cellStart, eventStart } = sets.rows;
  const sums = new Float64Array(1 + size);
  let offsetSum = 0;
  for (let k = 0; k < sets.cellCount; k += 1) {
    addWeightedRows(sums, 0, size, weight, z, eventStart[k], cellStart[k + 1]);
    for (let i = eventStart[k]; offset && i < cellStart[k + 1]; i += 1) offsetSum += weight[i] * offset[i];
  }
  return { linear: sums.subarray(1), offsetSum };
}

/** The same design with some of its columns, in the order named. */
export function selectColumns(design: CoxDesign, columns: readonly number[]): CoxDesign {
  const { columnCount, z, scale, centre, sets, eventSums } = design;
  const size = columns.length;
  const { count } = sets.rows;
  const selected = new Float64Array(count * size);
  for (let i = 0; i < count; i += 1)
    for (let j = 0; j < size; j += 1) selected[i * size + j] = z[i * columnCount + columns[j]];
  return {
    ...design,
    columnCount: size,
    z: selected,
    scale: Float64Array.from(columns, (j) => scale[j]),
    centre: Float64Array.from({ length: sets.strataCodes.length * size }, (_, k) => {
      return centre[Math.floor(k / size) * columnCount + columns[k % size]];
    }),
    eventSums: { ...eventSums, linear: Float64Array.from(columns, (j) => eventSums.linear[j]) },
  };
}
