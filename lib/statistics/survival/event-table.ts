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
  const exits = countExits(timeDays, code, group, groupCount, codeCount);
  if (!exits) return undefined;
  const days = exits.length / (groupCount * codeCount);
  const entries = entryDays && countEntries(timeDays, entryDays, group, groupCount, days);
  if (entryDays && !entries) return undefined;
  let cells = exits.length;
  while (cells > 0 && exits[cells - 1] === 0) cells -= 1;
  const times = new Float64Array(Math.ceil(cells / (groupCount * codeCount)));
  for (let day = 0; day < times.length; day += 1) times[day] = day;
  return { times, groupCount, codeCount, exits, entries };
}

function countExits(
  timeDays: Column,
  code: Column,
  group: Column | undefined,
  groupCount: number,
  codeCount: number,
): Int32Array | undefined {
  const rows = timeDays.length;
  const stride = groupCount * codeCount;
  const longest = longestGrid(rows, stride);
  let days = Math.min(longest, 4096);
  let exits = new Int32Array(days * stride);
  let i = 0;
  for (;;) {
    i = group
      ? countGroupedRows(exits, timeDays, code, group, i, days, codeCount, groupCount)
      : countRows(exits, timeDays, code, i, days, codeCount);
    if (i === rows) return exits;
    const day = timeDays[i];
    if (!(day >= days && day < longest)) return undefined;
    days = Math.min(longest, Math.max(Math.floor(day) + 1, 2 * days));
    exits = enlarge(exits, days * stride);
  }
}

/** -1 unless all three are whole numbers in range. `value | 0` differs from anything else, missing values included. */
function cellOf(
  day: number,
  g: number,
  kind: number,
  days: number,
  groupCount: number,
  codeCount: number,
): number {
  const whole = (day | 0) === day && (g | 0) === g && (kind | 0) === kind;
  if (!whole || day < 0 || day >= days || g < 0 || g >= groupCount || kind < 0 || kind >= codeCount)
    return -1;
  return (Math.imul(Math.imul(day, groupCount) + g, codeCount) + kind) | 0;
}

/**
 * Counts rows from `from` on and returns the first that has no cell. Four rows a step take half the time of one; told
 * that the sizes are whole numbers (`| 0`), the compiler checks them once and not in every row.
 */
function countGroupedRows(
  exits: Int32Array,
  timeDays: Column,
  code: Column,
  group: Column,
  from: number,
  dayCount: number,
  codes: number,
  groups: number,
): number {
  const rows = timeDays.length;
  const days = dayCount | 0;
  const codeCount = codes | 0;
  const groupCount = groups | 0;
  let i = from | 0;
  for (; i + 3 < rows; i += 4) {
    const a = cellOf(timeDays[i], group[i], code[i], days, groupCount, codeCount);
    const b = cellOf(timeDays[i + 1], group[i + 1], code[i + 1], days, groupCount, codeCount);
    const c = cellOf(timeDays[i + 2], group[i + 2], code[i + 2], days, groupCount, codeCount);
    const d = cellOf(timeDays[i + 3], group[i + 3], code[i + 3], days, groupCount, codeCount);
    if ((a | b | c | d) < 0) break;
    exits[a] += 1;
    exits[b] += 1;
    exits[c] += 1;
    exits[d] += 1;
  }
  for (; i < rows; i += 1) {
    const cell = cellOf(timeDays[i], group[i], code[i], days, groupCount, codeCount);
    if (cell < 0) return i;
    exits[cell] += 1;
  }
  return rows;
}

function countRows(
  exits: Int32Array,
  timeDays: Column,
  code: Column,
  from: number,
  days: number,
  codeCount: number,
): number {
  for (let i = from; i < timeDays.length; i += 1) {
    const cell = cellOf(timeDays[i], 0, code[i], days, 1, codeCount);
    if (cell < 0) return i;
    exits[cell] += 1;
  }
  return timeDays.length;
}

/** Times and groups are known to be in range here. */
function countEntries(
  timeDays: Column,
  entryDays: Column,
  group: Column | undefined,
  groupCount: number,
  days: number,
): Int32Array | undefined {
  const entries = new Int32Array(days * groupCount);
  for (let i = 0; i < entryDays.length; i += 1) {
    const entry = entryDays[i];
    if (entry >>> 0 !== entry || entry >= timeDays[i]) return undefined;
    entries[entry * groupCount + (group === undefined ? 0 : group[i])] += 1;
  }
  return entries;
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
