import { type Column, checkCodes, checkEqualLengths, checkTimes } from '../check-input';
import { mergeEqualTimes, placeOnGrid } from './equal-times';
import { checkEntries, type EventColumns, type EventTable, tabulateEvents } from './event-table';

type StratifiedColumns = EventColumns & { readonly group: Column; readonly strata: Column };

/** Whole numbers below this differ by more than the tolerance for equal times, whatever their mean. */
const EXACT_DAYS = 2 ** 25;
const ANY_CODE = 2 ** 31;

/**
 * One table of counts per stratum, in order of first appearance; equal times are merged over all strata first.
 * The times of these tables are ranks where days are not whole: good for tests, which use the order alone.
 * @throws StatisticsError with the row of the whole input.
 */
export function* tabulateStrata(
  columns: StratifiedColumns,
  groupCount: number,
  codeCount: number,
): Generator<EventTable> {
  const { timeDays, code, codeName, group, entryDays, strata } = columns;
  checkEqualLengths({ timeDays, [codeName]: code, group, entryDays, strata });
  checkTimes('timeDays', timeDays);
  checkCodes(codeName, code, codeCount);
  checkCodes('group', group, groupCount);
  checkCodes('strata', strata, ANY_CODE);
  if (entryDays) checkEntries(entryDays, timeDays);
  const ranked = rankTimes(timeDays, entryDays);
  if (ranked.entryDays) checkEntries(ranked.entryDays, ranked.timeDays);
  for (const rows of rowsByStratum(strata)) {
    const part = {
      timeDays: pick(ranked.timeDays, rows),
      code: pick(code, rows),
      codeName,
      group: pick(group, rows),
      entryDays: ranked.entryDays && pick(ranked.entryDays, rows),
    };
    yield tabulateEvents(part, groupCount, codeCount);
  }
}

function rankTimes(
  timeDays: Column,
  entryDays: Column | undefined,
): Pick<EventColumns, 'timeDays' | 'entryDays'> {
  if (areWholeDays(timeDays) && (!entryDays || areWholeDays(entryDays))) return { timeDays, entryDays };
  const grid = mergeEqualTimes(timeDays, entryDays);
  return {
    timeDays: Int32Array.from(timeDays, (time) => placeOnGrid(grid, time)),
    entryDays: entryDays && Int32Array.from(entryDays, (time) => placeOnGrid(grid, time)),
  };
}

function areWholeDays(times: Column): boolean {
  for (let i = 0; i < times.length; i += 1)
    if (times[i] >= EXACT_DAYS || times[i] !== Math.floor(times[i])) return false;
  return true;
}

function rowsByStratum(strata: Column): Iterable<number[]> {
  const rows = new Map<number, number[]>();
  for (let i = 0; i < strata.length; i += 1) {
    const known = rows.get(strata[i]);
    if (known) known.push(i);
    else rows.set(strata[i], [i]);
  }
  return rows.values();
}

function pick(column: Column, rows: readonly number[]): Int32Array {
  const picked = new Int32Array(rows.length);
  for (let i = 0; i < rows.length; i += 1) picked[i] = column[rows[i]];
  return picked;
}
