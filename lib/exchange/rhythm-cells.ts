import { type CalendarDay, daysBetween } from '../registry/calendar-day';
import type { Rhythm, Sex } from '../registry/vocabulary';
import type { RefusalCode } from './import-finding';
import type { ColumnRole, RhythmMapping } from './rhythm-mapping';

/** A cell that cannot be read: which column, why, how to mend it. */
interface CellRefusal {
  readonly role: ColumnRole;
  readonly code: RefusalCode;
  readonly reason: string;
  readonly cure: string;
}

export interface RowFacts {
  /** Time as the file gives it; two readings of a patient at the very same time are compared by it. */
  readonly time: number;
  /** Whole days since day 0. */
  readonly day: number;
  readonly rhythm: Rhythm;
}

/** What a row says about its patient; null: it says nothing. */
export interface PatientFacts {
  readonly tag: string | null;
  readonly sex: Sex | null;
  readonly ageYears: number | null;
  readonly birthYear: number | null;
}

type Read<T> = { readonly value: T } | { readonly refusal: CellRefusal };
export type CellOf = (role: ColumnRole) => string;

const TIME = /^[+-]?(?:\d{1,7}(?:\.\d{0,20})?|\.\d{1,20})(?:e[+-]?\d{1,2})?$/i;
const AGE = /^\d{1,3}(?:[.,]\d{1,10})?$/;
const YEAR = /^\d{4}$/;
/** What the registry stores. */
export const EARLIEST_BIRTH_YEAR = 1890;
/** A hundred years: later readings are a slip of the column or the unit. */
const MAX_DAYS = 36_525;

const refuse = (
  role: ColumnRole,
  code: RefusalCode,
  reason: string,
  cure: string,
): { refusal: CellRefusal } => ({
  refusal: { role, code, reason, cure },
});

/** The reading of a row, or its first refusal. `today` bounds the day: nobody is recorded tomorrow. */
export function readRow(cell: CellOf, mapping: RhythmMapping, today: CalendarDay): Read<RowFacts> {
  const time = readTime(cell('time'), mapping);
  if ('refusal' in time) return time;
  const day = dayOfTime(time.value, mapping);
  if (day > MAX_DAYS) {
    return refuse(
      'time',
      'time-too-late',
      'It lies more than a hundred years after day 0.',
      'Check the unit of the time in the mapping.',
    );
  }
  if (day > daysBetween(mapping.dayZero, today)) {
    return refuse(
      'time',
      'day-in-the-future',
      `It would lie after today, ${today}.`,
      'Mend the time, or give an earlier day zero in the mapping.',
    );
  }
  const rhythm = lookUp(mapping.rhythms, cell('rhythm'));
  if (rhythm === undefined) {
    return refuse(
      'rhythm',
      'rhythm-unknown',
      'The mapping does not say which rhythm this is.',
      'Mend the cell, or add the code to "rhythms".',
    );
  }
  return { value: { time: time.value, day, rhythm } };
}

/**
 * Whole days of a time in the file: months x daysPerMonth, or days as they are; "nearest" sends a half up, "down" cuts.
 */
export function dayOfTime(time: number, { time: rule }: Pick<RhythmMapping, 'time'>): number {
  const days = rule.unit === 'months' ? time * rule.daysPerMonth : time;
  return (rule.rounding === 'nearest' ? Math.round(days) : Math.floor(days)) + 0;
}

function readTime(text: string, { decimalMark }: RhythmMapping): Read<number> {
  const plain = decimalMark === ',' && !text.includes('.') ? text.replace(',', '.') : text;
  const isNumber = TIME.test(plain) && !(decimalMark === ',' && text.includes('.'));
  const time = Number(plain);
  if (!isNumber || !Number.isFinite(time)) {
    return refuse(
      'time',
      'time-not-a-number',
      'The time is not a number.',
      `Write it in figures with "${decimalMark}" before the decimals.`,
    );
  }
  if (time < 0) {
    return refuse(
      'time',
      'time-before-day-zero',
      'The time lies before day 0.',
      'Mend it; recordings before the procedure are entered by hand.',
    );
  }
  return { value: time };
}

/** What a row says about its patient, or its first refusal. */
export function readPatientFacts(cell: CellOf, mapping: RhythmMapping): Read<PatientFacts> {
  const tag = lookUpOrBlank(mapping.groups, cell('group'));
  if (tag === undefined) {
    return refuse(
      'group',
      'group-unknown',
      'The mapping does not know this group.',
      'Mend the cell, or add the code to "groups".',
    );
  }
  const sex = lookUpOrBlank(mapping.sexes, cell('sex'));
  if (sex === undefined) {
    return refuse(
      'sex',
      'sex-unknown',
      'The mapping does not know this code.',
      'Mend the cell, or add the code to "sexes".',
    );
  }
  const age = cell('age');
  const ageYears = AGE.test(age) ? Math.floor(Number(age.replace(',', '.'))) : null;
  if (age !== '' && (ageYears === null || ageYears > 120)) {
    return refuse(
      'age',
      'age-impossible',
      'It is not an age in years from 0 to 120.',
      'Mend the age, or leave the cell blank.',
    );
  }
  const born = cell('birthYear');
  const latestBirthYear = Number(mapping.dayZero.slice(0, 4));
  const birthYear = YEAR.test(born) ? Number(born) : null;
  if (born !== '' && (birthYear === null || birthYear < EARLIEST_BIRTH_YEAR || birthYear > latestBirthYear)) {
    return refuse(
      'birthYear',
      'birth-year-impossible',
      `It is not a year of birth from ${EARLIEST_BIRTH_YEAR} to ${latestBirthYear}.`,
      'Write the year alone, in four figures, or leave the cell blank.',
    );
  }
  return { value: { tag, sex, ageYears, birthYear } };
}

/** The meaning of a code; undefined when the table has none. Names that every object has are no codes. */
function lookUp<Meaning>(table: Readonly<Record<string, Meaning>>, code: string): Meaning | undefined {
  return Object.hasOwn(table, code) ? table[code] : undefined;
}

function lookUpOrBlank<Meaning>(
  table: Readonly<Record<string, Meaning>> | undefined,
  code: string,
): Meaning | null | undefined {
  const meaning = lookUp(table ?? {}, code);
  return meaning === undefined && code === '' ? null : meaning;
}

/**
 * The likelier birth year of somebody of that age, in completed years, on a day: before July most have not had this
 * year's birthday. It may be off by one; the age itself is kept beside it.
 */
export function birthYearOfAge(day: CalendarDay, ageYears: number): number {
  const hadBirthday = Number(day.slice(5, 7)) >= 7 ? 0 : 1;
  return Number(day.slice(0, 4)) - ageYears - hadBirthday;
}
