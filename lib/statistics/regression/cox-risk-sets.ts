import type { Column } from '../check-input';
import type { CoxData } from './cox-data';
import { rankTimes } from './cox-times';

/**
 * Who is at risk when. Only times with an event matter, stratum by stratum: each is a cell, numbered through the strata
 * in order of their codes and within each in order of time. Rows are sorted by the last cell at which they are at risk,
 * those with an event there behind the others; rows that take no part (weight 0, or never at risk) are left out.
 */
export type RiskSets = {
  readonly cellCount: number;
  /** Per cell; time is 0 where it was not asked for. */
  readonly cellTimes: Float64Array;
  readonly eventCounts: Float64Array;
  readonly eventWeights: Float64Array;
  /** Per stratum: its code and its first cell; `strataStart` ends with the number of cells. */
  readonly strataCodes: readonly number[];
  readonly strataStart: Int32Array;
  readonly rows: SortedRows;
  /** Per sorted row, the first cell at which it is at risk; undefined when that is the first of its stratum for all. */
  readonly firstCell: Int32Array | undefined;
};

export type SortedRows = {
  readonly count: number;
  /** Per cell its first row, and the first of its rows with an event; `cellStart` ends with the number of rows. */
  readonly cellStart: Int32Array;
  readonly eventStart: Int32Array;
  /** The row of the data that each sorted row comes from. */
  readonly source: Int32Array;
};

/** Columns checked before. `stratum` numbers the strata of all rows of the data, for those that look at them all. */
export function buildRiskSets(data: Omit<CoxData, 'covariates'>): {
  readonly sets: RiskSets;
  readonly stratum: Int32Array | undefined;
} {
  const { timeDays, event, entryDays, weights, strata } = data;
  const rows = timeDays.length;
  const ranks = rankTimes(timeDays, entryDays);
  const { codes, stratum } = numberStrata(strata);
  const keyCount = ranks.count * codes.length;
  const { exit, entry } = ranks;
  const exitKeys = stratum ? Float64Array.from(exit, (rank, i) => stratum[i] * ranks.count + rank) : exit;
  const isEvent = new Uint8Array(rows);
  for (let i = 0; i < rows; i += 1) isEvent[i] = event[i] === 1 && !(weights && weights[i] === 0) ? 1 : 0;
  const keys = distinctKeys(exitKeys, isEvent, keyCount);
  const through = keyCounter(keys, keyCount, rows);
  const strataStart = Int32Array.from({ length: codes.length + 1 }, (_, s) => through(s * ranks.count - 1));
  const lastCell = new Int32Array(rows);
  const firstOfRow = new Int32Array(entry ? rows : 0);
  for (let i = 0; i < rows; i += 1) {
    const s = stratum ? stratum[i] : 0;
    const first = entry ? through(s * ranks.count + entry[i]) : strataStart[s];
    const last = through(exitKeys[i]) - 1;
    lastCell[i] = last < first || (weights && weights[i] === 0) ? -1 : last;
    if (entry) firstOfRow[i] = first;
  }
  const sorted = sortRows(lastCell, isEvent, keys.length);
  const { source, eventStart, cellStart } = sorted;
  const eventWeights = new Float64Array(keys.length);
  for (let k = 0; k < keys.length; k += 1)
    for (let i = eventStart[k]; i < cellStart[k + 1]; i += 1)
      eventWeights[k] += weights ? weights[source[i]] : 1;
  const sets = {
    cellCount: keys.length,
    cellTimes: keys.map((key) => ranks.timeOf(key % ranks.count)),
    eventCounts: Float64Array.from(eventStart, (start, k) => cellStart[k + 1] - start),
    eventWeights,
    ...{ strataCodes: codes, strataStart, rows: sorted },
    firstCell: entry && source.map((row) => firstOfRow[row]),
  };
  return { sets, stratum };
}

/** Sorts rows by last cell and event (a counting sort: equal ones keep their order); last cell -1 is left out. */
export function sortRows(lastCell: Int32Array, isEvent: ArrayLike<number>, cellCount: number): SortedRows {
  const start = new Int32Array(2 * cellCount + 1);
  for (let i = 0; i < lastCell.length; i += 1)
    if (lastCell[i] >= 0) start[2 * lastCell[i] + isEvent[i] + 1] += 1;
  for (let k = 1; k < start.length; k += 1) start[k] += start[k - 1];
  const count = start[2 * cellCount];
  const source = new Int32Array(count);
  const next = start.slice();
  for (let i = 0; i < lastCell.length; i += 1)
    if (lastCell[i] >= 0) source[next[2 * lastCell[i] + isEvent[i]]++] = i;
  return {
    count,
    source,
    cellStart: Int32Array.from({ length: cellCount + 1 }, (_, k) => start[2 * k]),
    eventStart: Int32Array.from({ length: cellCount }, (_, k) => start[2 * k + 1]),
  };
}

/** Strata numbered in order of their codes. */
function numberStrata(strata: CoxData['strata']): {
  readonly codes: readonly number[];
  readonly stratum: Int32Array | undefined;
} {
  if (!strata) return { codes: [0], stratum: undefined };
  const found = new Set<number>();
  for (let i = 0; i < strata.length; i += 1) found.add(strata[i]);
  const codes = [...found].sort((a, b) => a - b);
  const numberOf = new Map(codes.map((code, s) => [code, s]));
  return { codes, stratum: Int32Array.from(strata, (code) => numberOf.get(code) ?? 0) };
}

/** The distinct keys of the events, ascending. */
function distinctKeys(exitKeys: Column, isEvent: Uint8Array, keyCount: number): Float64Array {
  if (fitsTable(keyCount, exitKeys.length)) {
    const seen = new Uint8Array(keyCount);
    for (let i = 0; i < exitKeys.length; i += 1) if (isEvent[i]) seen[exitKeys[i]] = 1;
    return Float64Array.from(Array.from(seen.keys()).filter((key) => seen[key] === 1));
  }
  const sorted = Float64Array.from(exitKeys)
    .filter((_, i) => isEvent[i] === 1)
    .sort();
  return sorted.filter((key, k) => k === 0 || key !== sorted[k - 1]);
}

/** How many sorted keys are at or below a key: by table where keys are few, else by bisection. */
function keyCounter(keys: Float64Array, keyCount: number, rows: number): (key: number) => number {
  if (fitsTable(keyCount, rows)) {
    const table = new Int32Array(keyCount + 1);
    for (const key of keys) table[key + 1] += 1;
    for (let k = 1; k <= keyCount; k += 1) table[k] += table[k - 1];
    return (key) => table[key + 1];
  }
  return (key) => {
    let low = 0;
    let high = keys.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (keys[middle] <= key) low = middle + 1;
      else high = middle;
    }
    return low;
  };
}

function fitsTable(keyCount: number, rows: number): boolean {
  return keyCount <= 4 * rows + 4096;
}
