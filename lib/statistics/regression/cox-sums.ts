import type { CoxCells } from './cox-cells';
import type { CoxDesign } from './cox-design';
import type { RiskSets } from './cox-risk-sets';
import { addSquares } from './cox-row-sums';

/** Derivatives of the log partial likelihood in the scaled covariates. */
export type CoxSums = {
  readonly gradient: Float64Array;
  /** columns x columns, by rows. */
  readonly information: Float64Array;
  /** What the diagonal of the information was before the mean squares were taken off: its scale of rounding. */
  readonly raw: Float64Array;
};

/**
 * Sums over event times t of gain(t) (covariates of the events less those expected), and of gain(t) times their
 * variance among those at risk. With gain 1 (left out) these are gradient and information.
 *
 * Second moments are taken over rows, not over risk sets: each row's squares times the hazard it has lived through.
 */
export function sumOverEvents(cells: CoxCells, design: CoxDesign, gain?: Float64Array): CoxSums {
  const { columnCount: size } = design;
  const information = new Float64Array(size * size);
  addSquares(information, expectedEvents(cells, design, gain), design.z, size);
  const raw = Float64Array.from({ length: size }, (_, j) => information[j * size + j]);
  const gradient = Float64Array.from(gain ? gainedEvents(design, gain) : design.eventSums.linear);
  takeOffMeans(gradient, information, cells, design, gain);
  for (let j = 0; j < size; j += 1)
    for (let k = 0; k < j; k += 1) information[k * size + j] = information[j * size + k];
  return { gradient, information, raw };
}

/** Per sorted row the events expected of it, weighted, each time by its gain: written over `cells.expected`. */
export function expectedEvents(cells: CoxCells, design: CoxDesign, gain?: Float64Array): Float64Array {
  const { sets } = design;
  const { risk, hazard, relief, expected } = cells;
  const { cellStart, eventStart } = sets.rows;
  const gained = (values: Float64Array): Float64Array =>
    gain ? values.map((value, k) => value * gain[k]) : values;
  const through = sumLived(gained(hazard), sets);
  const spared = gained(relief);
  for (let k = 0; k < sets.cellCount; k += 1) {
    for (let i = cellStart[k]; i < eventStart[k]; i += 1) expected[i] = risk[i] * through(i, k);
    for (let i = eventStart[k]; i < cellStart[k + 1]; i += 1)
      expected[i] = risk[i] * (through(i, k) - spared[k]);
  }
  return expected;
}

/** Covariates of the events, weighted and each time by its gain. */
function gainedEvents({ columnCount: size, z, weight, sets }: CoxDesign, gain: Float64Array): Float64Array {
  const { cellStart, eventStart } = sets.rows;
  const sums = new Float64Array(size);
  for (let k = 0; k < sets.cellCount; k += 1)
    for (let i = eventStart[k]; i < cellStart[k + 1]; i += 1)
      for (let j = 0; j < size; j += 1) sums[j] += gain[k] * weight[i] * z[i * size + j];
  return sums;
}

/** For a row and its last cell, the sum of a value over the event times at which the row was at risk. */
export function sumLived(values: Float64Array, sets: RiskSets): (row: number, lastCell: number) => number {
  const { strataStart, firstCell } = sets;
  if (firstCell) {
    const add = intervalAdder(values);
    return (row, lastCell) => add(firstCell[row], lastCell);
  }
  const through = Float64Array.from(values);
  for (let s = 0; s + 1 < strataStart.length; s += 1)
    for (let k = strataStart[s] + 1; k < strataStart[s + 1]; k += 1) through[k] += through[k - 1];
  return (_, lastCell) => through[lastCell];
}

/** Sums over any interval of cells without subtracting (a segment tree). */
function intervalAdder(values: Float64Array): (first: number, last: number) => number {
  const count = values.length;
  const nodes = new Float64Array(2 * count);
  nodes.set(values, count);
  for (let node = count - 1; node > 0; node -= 1) nodes[node] = nodes[2 * node] + nodes[2 * node + 1];
  return (first, last) => {
    let sum = 0;
    let low = first + count;
    let high = last + 1 + count;
    while (low < high) {
      if (low & 1) sum += nodes[low++];
      if (high & 1) sum += nodes[--high];
      low >>= 1;
      high >>= 1;
    }
    return sum;
  };
}

function takeOffMeans(
  gradient: Float64Array,
  information: Float64Array,
  cells: CoxCells,
  { sets, columnCount: size }: CoxDesign,
  gain: Float64Array | undefined,
): void {
  const { atRisk, tied, hazard, relief, a, b, c } = cells;
  const stride = 1 + size;
  for (let cell = 0; cell < sets.cellCount; cell += 1) {
    const g = gain ? gain[cell] : 1;
    const at = cell * stride + 1;
    for (let j = 0; j < size; j += 1) {
      const s = g * atRisk[at + j];
      const d = g * tied[at + j];
      gradient[j] -= hazard[cell] * s - relief[cell] * d;
      const ofRisk = a[cell] * s - b[cell] * d;
      const ofTied = c[cell] * d - b[cell] * s;
      for (let k = 0; k <= j; k += 1)
        information[j * size + k] -= ofRisk * atRisk[at + k] + ofTied * tied[at + k];
    }
  }
}
