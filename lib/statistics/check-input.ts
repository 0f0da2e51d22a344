import { StatisticsError } from './errors';

/** One column of numbers: a typed array or a plain array. */
export type Column = ArrayLike<number>;

/** Throws unless every column has as many rows as the first. */
export function checkEqualLengths(columns: Readonly<Record<string, Column | undefined>>): void {
  const given = Object.entries(columns).flatMap(([name, column]) => (column ? [{ name, column }] : []));
  const [first, ...rest] = given;
  for (const { name, column } of rest) {
    if (first && column.length !== first.column.length) {
      throw new StatisticsError(
        'unequalLengths',
        name,
        undefined,
        `${name} has ${column.length} rows but ${first.name} has ${first.column.length}; give one value per case in each.`,
      );
    }
  }
}

/** Throws at the first value that is not a finite number (missing values included). */
export function checkFinite(name: string, column: Column): void {
  for (let i = 0; i < column.length; i += 1) {
    const value: unknown = column[i];
    if (typeof value !== 'number' || !Number.isFinite(value)) {
      throw new StatisticsError(
        'notFinite',
        name,
        i,
        `${name}[${i}] is ${String(value)}; leave out rows with missing values or supply a finite number.`,
      );
    }
  }
}

/** Throws at the first value that is not a finite number of days, zero or more. */
export function checkTimes(name: string, column: Column): void {
  checkFinite(name, column);
  for (let i = 0; i < column.length; i += 1) {
    if (column[i] < 0) {
      throw new StatisticsError(
        'negative',
        name,
        i,
        `${name}[${i}] is ${column[i]}; times are counted from zero, so give zero or more.`,
      );
    }
  }
}

/** Throws at the first value that is not one of the whole numbers 0 to count - 1. */
export function checkCodes(name: string, column: Column, count: number): void {
  checkFinite(name, column);
  for (let i = 0; i < column.length; i += 1) {
    if (!Number.isInteger(column[i]) || column[i] < 0 || column[i] >= count) {
      throw new StatisticsError(
        'unknownCode',
        name,
        i,
        `${name}[${i}] is ${column[i]}; the codes known here are the whole numbers 0 to ${count - 1}.`,
      );
    }
  }
}

/** Throws unless the confidence level lies strictly between 0 and 1. */
export function checkConfidenceLevel(level: number): void {
  if (!(level > 0 && level < 1)) {
    throw new StatisticsError(
      'outOfRange',
      'confidenceLevel',
      undefined,
      `confidenceLevel is ${level}; give a fraction between 0 and 1, such as 0.95.`,
    );
  }
}

/** Groups are told apart by small codes; more than this is a case number mistaken for a group. */
const MOST_CODES = 1024;

/** The number of codes: as given, or one more than the largest code found. Throws when that is no sensible count. */
export function countCodes(name: string, column: Column, given: number | undefined): number {
  let count = given;
  if (count === undefined) {
    let largest = 0;
    for (let i = 0; i < column.length; i += 1) if (column[i] > largest) largest = column[i];
    count = Math.floor(largest) + 1;
    // What is no number is passed over here and refused by whoever reads the column; infinity would hide behind a count.
    if (count > MOST_CODES) checkFinite(name, column);
  }
  if (!Number.isInteger(count) || count < 1 || count > MOST_CODES) {
    throw new StatisticsError(
      'outOfRange',
      name,
      undefined,
      `${name} would have ${count} codes; number them from 0 without gaps, at most ${MOST_CODES}.`,
    );
  }
  return count;
}
