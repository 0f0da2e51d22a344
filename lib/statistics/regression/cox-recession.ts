import type { CoxDesign } from './cox-design';
import { type RiskSets, sortRows } from './cox-risk-sets';

/**
 * A direction in which the partial likelihood rises for ever: along it, nobody at risk at the time of an event lies
 * beyond the cases that have it, and somebody lies behind.
 */
export type Recession = {
  /** Per column, of the scaled covariates; exactly 0 where the column takes no part. */
  readonly direction: Float64Array;
  /** Per sorted row: its place along the direction. */
  readonly place: Float64Array;
  /** Per cell: the furthest place of those at risk. */
  readonly furthest: Float64Array;
  /** Places closer than this are one. */
  readonly tolerance: number;
};

/** Newton's steps end in such a direction, each ten times nearer to it than the last by two or three steps. */
const NEARNESS = 1e-6;
/** What arithmetic leaves of equal places. */
const ROUNDING = 1e-10;

/** Whether a step of Newton's method has become a direction without a maximum; undefined when it has not. */
export function findRecession(design: CoxDesign, step: Float64Array): Recession | undefined {
  const largest = step.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) return undefined;
  const near = placeRows(
    design,
    step.map((value) => value / largest),
    NEARNESS,
  );
  if (!risesForEver(design.sets, near)) return undefined;
  const exact = placeRows(design, levelDirection(design, near), ROUNDING);
  return risesForEver(design.sets, exact) ? exact : undefined;
}

function placeRows(design: CoxDesign, direction: Float64Array, nearness: number): Recession {
  const { columnCount, z, sets } = design;
  const place = new Float64Array(sets.rows.count);
  let spread = 0;
  for (let i = 0, at = 0; i < place.length; i += 1, at += columnCount) {
    for (let j = 0; j < columnCount; j += 1) place[i] += direction[j] * z[at + j];
    spread = Math.max(spread, Math.abs(place[i]));
  }
  return { direction, place, furthest: furthestAtRisk(place, sets), tolerance: nearness * spread };
}

function risesForEver(sets: RiskSets, { place, furthest, tolerance }: Recession): boolean {
  const { cellStart, eventStart } = sets.rows;
  for (let k = 0; k < sets.cellCount; k += 1)
    for (let i = eventStart[k]; i < cellStart[k + 1]; i += 1)
      if (place[i] < furthest[k] - tolerance) return false;
  const behind = furthestAtRisk(
    place.map((value) => -value),
    sets,
  );
  return behind.some((least, k) => -least < furthest[k] - tolerance);
}

/**
 * The direction without its parts along the differences between rows that are all but level with the furthest: in the
 * limit they are level exactly, and a part that would vanish must not be taken for one that grows.
 */
function levelDirection(design: CoxDesign, near: Recession): Float64Array {
  const { columnCount: size, z, sets } = design;
  const { eventStart } = sets.rows;
  const basis: Float64Array[] = [];
  const addDifference = (a: number, b: number): void => {
    if (basis.length === size) return;
    const difference = Float64Array.from({ length: size }, (_, j) => z[a * size + j] - z[b * size + j]);
    const length = norm(difference);
    // Twice, for what the first time leaves by rounding.
    takeOff(difference, basis);
    takeOff(difference, basis);
    const left = norm(difference);
    if (left > NEARNESS * length) basis.push(difference.map((value) => value / left));
  };
  const joins = new Int32Array(sets.cellCount + 1);
  for (const { row, first, last } of furthestRuns(sets, near)) {
    addDifference(row, eventStart[last]);
    joins[first + 1] += 1;
    joins[last + 1] -= 1;
  }
  for (let k = 1; k < sets.cellCount; k += 1) {
    joins[k] += joins[k - 1];
    if (joins[k] > 0) addDifference(eventStart[k], eventStart[k - 1]);
  }
  const direction = Float64Array.from(near.direction);
  takeOff(direction, basis);
  takeOff(direction, basis);
  return direction.map((value) => (Math.abs(value) > ROUNDING ? value : 0));
}

function takeOff(vector: Float64Array, basis: readonly Float64Array[]): void {
  for (const unit of basis) {
    let along = 0;
    for (let j = 0; j < unit.length; j += 1) along += unit[j] * vector[j];
    for (let j = 0; j < unit.length; j += 1) vector[j] -= along * unit[j];
  }
}

function norm(vector: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < vector.length; j += 1) sum += vector[j] * vector[j];
  return Math.sqrt(sum);
}

/** The largest place among those at risk at each cell. */
function furthestAtRisk(place: Float64Array, sets: RiskSets): Float64Array {
  const { cellCount, firstCell, strataStart } = sets;
  const { cellStart } = sets.rows;
  const nodes = new Float64Array(2 * cellCount).fill(Number.NEGATIVE_INFINITY);
  for (let k = 0; k < cellCount; k += 1) {
    for (let i = cellStart[k]; i < cellStart[k + 1]; i += 1) {
      let low = (firstCell ? firstCell[i] : k) + cellCount;
      let high = k + 1 + cellCount;
      while (low < high) {
        if (low & 1) nodes[low] = Math.max(nodes[low++], place[i]);
        if (high & 1) nodes[--high] = Math.max(nodes[high], place[i]);
        low >>= 1;
        high >>= 1;
      }
    }
  }
  for (let node = 2; node < 2 * cellCount; node += 1) nodes[node] = Math.max(nodes[node], nodes[node >> 1]);
  const found = nodes.slice(cellCount);
  for (let s = 0; !firstCell && s + 1 < strataStart.length; s += 1)
    for (let k = strataStart[s + 1] - 2; k >= strataStart[s]; k -= 1)
      found[k] = Math.max(found[k], found[k + 1]);
  return found;
}

/**
 * The design in the limit along a recession: at each time only those furthest along it are still at risk. Its rows
 * are stretches of the rows before, so `source` of its sorted rows leads to the data as before.
 */
export function limitDesign(design: CoxDesign, recession: Recession): CoxDesign {
  const { columnCount: size, z, weight, offset, sets } = design;
  const runs = furthestRuns(sets, recession);
  const isEvent = runs.map(({ isEvent: event }) => (event ? 1 : 0));
  const sorted = sortRows(
    Int32Array.from(runs, ({ last }) => last),
    isEvent,
    sets.cellCount,
  );
  const parts = Array.from(sorted.source, (run) => runs[run]);
  const rows = { ...sorted, source: Int32Array.from(parts, ({ row }) => sets.rows.source[row]) };
  const copied = new Float64Array(parts.length * size);
  for (const [k, { row }] of parts.entries()) copied.set(z.subarray(row * size, (row + 1) * size), k * size);
  return {
    ...design,
    z: copied,
    weight: Float64Array.from(parts, ({ row }) => weight[row]),
    offset: offset && Float64Array.from(parts, ({ row }) => offset[row]),
    sets: { ...sets, rows, firstCell: Int32Array.from(parts, ({ first }) => first) },
  };
}

type Run = { readonly row: number; readonly first: number; readonly last: number; readonly isEvent: boolean };

/** The stretches of time during which each row is among the furthest. */
function furthestRuns(sets: RiskSets, { place, furthest, tolerance }: Recession): Run[] {
  const { cellCount, firstCell, strataStart } = sets;
  const { cellStart, eventStart } = sets.rows;
  const runs: Run[] = [];
  let stratum = 0;
  for (let k = 0; k < cellCount; k += 1) {
    while (k >= strataStart[stratum + 1]) stratum += 1;
    for (let row = cellStart[k]; row < cellStart[k + 1]; row += 1) {
      const isAmong = (cell: number): boolean => place[row] >= furthest[cell] - tolerance;
      const isEvent = row >= eventStart[k];
      if (firstCell) addRuns(runs, row, firstCell[row], k, isAmong, isEvent);
      else if (isAmong(k)) {
        // Without late entries the risk sets only grow backwards in time, and with them the furthest place.
        const first = firstAmong(strataStart[stratum], k, isAmong);
        runs.push({ row, first, last: k, isEvent });
      }
    }
  }
  return runs;
}

/** The first of the cells up to `last` that are, as `last` is; those before are not. */
function firstAmong(from: number, last: number, isAmong: (cell: number) => boolean): number {
  let low = from;
  let high = last;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isAmong(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

function addRuns(
  runs: Run[],
  row: number,
  start: number,
  end: number,
  isAmong: (cell: number) => boolean,
  isEvent: boolean,
): void {
  let last = -1;
  for (let cell = end; cell >= start - 1; cell -= 1) {
    const among = cell >= start && isAmong(cell);
    if (among && last < 0) last = cell;
    if (!among && last >= 0) {
      runs.push({ row, first: cell + 1, last, isEvent: last === end && isEvent });
      last = -1;
    }
  }
}
