import { type Column, checkCodes, checkEqualLengths, checkTimes } from '../check-input';
import { StatisticsError } from '../errors';
import { mergeEqualTimes, placeOnGrid } from './equal-times';

/** The columns of one analysis. `code` is the outcome of each row (0 censored, 1.. kinds of event). */
export type EventColumns = {
  readonly timeDays: Column;
  readonly code: Column;
  readonly codeName: string;
  readonly group?: Column | undefined;
  readonly entryDays?: Column | undefined;
};

/**
 * Counts per distinct time, group and outcome: all that curves and tests need.
 * `exits[(j * groupCount + g) * codeCount + code]` and `entries[j * groupCount + g]` belong to `times[j]`.
 * Grid times without any exit occur and are passed over by the readers.
 */
export type EventTable = {
  readonly times: Float64Array;
  readonly groupCount: number;
  readonly codeCount: number;
  readonly exits: Int32Array;
  readonly entries: Int32Array | undefined;
};

/**
 * One pass over the rows into a table of counts. Whole-day times go straight into per-day cells; anything else (or
 * anything wrong) takes the careful path: every value checked, distinct times sorted and merged.
 */
export function tabulateEvents(columns: EventColumns, groupCount: number, codeCount: number): EventTable {
  const { timeDays, code, codeName, group, entryDays } = columns;
  checkEqualLengths({ timeDays, [codeName]: code, group, entryDays });
  return countByDay(columns, groupCount, codeCount) ?? countBySortedTime(columns, groupCount, codeCount);
}

/** Days up to this number get a cell each; longer grids would cost more than sorting. */
function longestGrid(rows: number, stride: number): number {
  const days = rows < 1024 ? Math.max(64, 4 * rows) : Math.max(4096, Math.min(4 * rows, 1 << 20));
  return Math.min(days, Math.floor((1 << 25) / stride));
}

/** The counting path: undefined as soon as a value is not a plain whole number in range. */
function countByDay(columns: EventColumns, groupCount: number, codeCount: number): EventTable | undefined {
  const { timeDays, code, group, entryDays } = columns;
  const rows = timeDays.length;
  const stride = groupCount * codeCount;
  const longest = longestGrid(rows, stride);
  let days = Math.min(longest, 4096);
  let exits = new Int32Array(days * stride);
  let entries = entryDays ? new Int32Array(days * groupCount) : undefined;
  let lastDay = -1;
  for (let i = 0; i < rows; i += 1) {
    const day = timeDays[i];
    const kind = code[i];
    const g = group === undefined ? 0 : group[i];
    if ((day | 0) !== day || (kind | 0) !== kind || (g | 0) !== g) return undefined;
    if (day < 0 || day >= longest || kind < 0 || kind >= codeCount || g < 0 || g >= groupCount)
      return undefined;
    if (day > lastDay) {
      lastDay = day;
      if (day >= days) {
        days = Math.min(longest, Math.max(day + 1, 2 * days));
        exits = enlarge(exits, days * stride);
        entries = entries && enlarge(entries, days * groupCount);
      }
    }
    exits[day * stride + g * codeCount + kind] += 1;
    if (entries && entryDays) {
      const entry = entryDays[i];
      if ((entry | 0) !== entry || entry < 0 || entry >= day) return undefined;
      entries[entry * groupCount + g] += 1;
    }
  }
  const gridLength = lastDay + 1;
  const times = new Float64Array(gridLength);
  for (let day = 0; day < gridLength; day += 1) times[day] = day;
  return { times, groupCount, codeCount, exits, entries };
}

function enlarge(cells: Int32Array<ArrayBuffer>, length: number): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(length);
  larger.set(cells);
  return larger;
}

/** The general path: any finite times of zero or more, equal times merged. Throws at the first bad value. */
function countBySortedTime(columns: EventColumns, groupCount: number, codeCount: number): EventTable {
  const { timeDays, code, codeName, group, entryDays } = columns;
  checkTimes('timeDays', timeDays);
  checkCodes(codeName, code, codeCount);
  if (group) checkCodes('group', group, groupCount);
  if (entryDays) checkEntries(entryDays, timeDays);
  const times = mergeEqualTimes(timeDays, entryDays);
  const exits = new Int32Array(times.length * groupCount * codeCount);
  const entries = entryDays && new Int32Array(times.length * groupCount);
  for (let i = 0; i < timeDays.length; i += 1) {
    const g = group === undefined ? 0 : group[i];
    const j = placeOnGrid(times, timeDays[i]);
    exits[(j * groupCount + g) * codeCount + code[i]] += 1;
    if (entries && entryDays) {
      const e = placeOnGrid(times, entryDays[i]);
      if (e >= j) throw entryNotBeforeExit(i, entryDays[i], timeDays[i], ' (they differ by rounding only)');
      entries[e * groupCount + g] += 1;
    }
  }
  return { times, groupCount, codeCount, exits, entries };
}

/** Throws at the first row that does not enter before it leaves. */
export function checkEntries(entryDays: Column, timeDays: Column): void {
  checkTimes('entryDays', entryDays);
  for (let i = 0; i < entryDays.length; i += 1) {
    if (entryDays[i] >= timeDays[i]) throw entryNotBeforeExit(i, entryDays[i], timeDays[i], '');
  }
}

function entryNotBeforeExit(i: number, entry: number, exit: number, detail: string): StatisticsError {
  return new StatisticsError(
    'entryNotBeforeExit',
    'entryDays',
    i,
    `entryDays[${i}] is ${entry} but timeDays[${i}] is ${exit}${detail}; a case must enter before it leaves, so leave this row out.`,
  );
}
