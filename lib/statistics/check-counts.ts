import type { Column } from './check-input';
import { StatisticsError } from './errors';

/** Throws unless the value is a whole number of zero or more. */
export function checkCount(name: string, value: number, index?: number): void {
  const where = [name, index] as const;
  const said = index === undefined ? `${name} is ${value}` : `${name}[${index}] is ${value}`;
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new StatisticsError('notFinite', ...where, `${said}; give a number of cases.`);
  }
  if (value < 0) throw new StatisticsError('negative', ...where, `${said}; a count is zero or more.`);
  if (!Number.isInteger(value)) {
    throw new StatisticsError('notInteger', ...where, `${said}; give a whole number of cases.`);
  }
}

/** Throws unless both are counts and the events are no more than the cases. */
export function checkEventsAmong(
  eventsName: string,
  events: number,
  casesName: string,
  cases: number,
  index?: number,
): void {
  checkCount(eventsName, events, index);
  checkCount(casesName, cases, index);
  if (events > cases) {
    const message = `${eventsName} is ${events} but ${casesName} is ${cases}; events are counted among the cases.`;
    throw new StatisticsError('outOfRange', eventsName, index, message);
  }
}

/**
 * The size of a table of counts given as rows, checked: rows of equal length, at least `smallest` rows and columns, as
 * many rows as columns when it must be square. The index of a mistake is the row's.
 * @throws StatisticsError as checkCount, unequalLengths, outOfRange.
 */
export function checkTable(
  name: string,
  table: readonly Column[],
  smallest: number,
  square = false,
): { readonly rows: number; readonly columns: number } {
  const rows = table.length;
  const columns = rows > 0 ? table[0].length : 0;
  if (rows < smallest || columns < smallest) {
    const message = `${name} has ${rows} rows and ${columns} columns; give at least ${smallest} of each.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
  if (square && rows !== columns) {
    const message = `${name} has ${rows} rows but ${columns} columns; give the same categories in both.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
  for (const [i, row] of table.entries()) {
    if (row.length !== columns) {
      const message = `${name}[${i}] has ${row.length} columns but ${name}[0] has ${columns}; give one count per column in each row.`;
      throw new StatisticsError('unequalLengths', name, i, message);
    }
    for (let j = 0; j < columns; j += 1) checkCount(`${name}[${i}]`, row[j], j);
  }
  return { rows, columns };
}
