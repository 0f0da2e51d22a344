/** A day of the Gregorian calendar as 'YYYY-MM-DD'. Days carry no time and no zone; instants are UTC elsewhere. */
export type CalendarDay = string & { readonly __brand: 'CalendarDay' };

/** Whole days since 1970-01-01; negative before. */
export type EpochDay = number;

const MS_PER_DAY = 86_400_000;
const SHAPE = /^(\d{4})-(\d{2})-(\d{2})$/;

/** True when the text is an existing day from 1800-01-01 to 2199-12-31 written YYYY-MM-DD. */
export function isCalendarDay(text: string): text is CalendarDay {
  const match = SHAPE.exec(text);
  if (!match) return false;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < 1800 || year > 2199) return false;
  const date = new Date(Date.UTC(year, month - 1, day));
  return date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

/** The day, or a RangeError that names the text: for values that code has already checked. */
export function calendarDay(text: string): CalendarDay {
  if (!isCalendarDay(text)) throw new RangeError(`not a calendar day: ${text.slice(0, 40)}`);
  return text;
}

/** Days since 1970-01-01 of a day. */
export function toEpochDay(day: CalendarDay): EpochDay {
  return (
    Date.UTC(Number(day.slice(0, 4)), Number(day.slice(5, 7)) - 1, Number(day.slice(8, 10))) / MS_PER_DAY
  );
}

/** Days that were written before, by their distance from 1970-01-01: a plan of 10,000 cases writes the same few thousand again and again. */
const WRITTEN = new Map<EpochDay, CalendarDay>();

/** The day that lies so many whole days after 1970-01-01. */
export function fromEpochDay(epochDay: EpochDay): CalendarDay {
  const written = WRITTEN.get(epochDay);
  if (written !== undefined) return written;
  if (!Number.isInteger(epochDay)) throw new RangeError(`not a whole day: ${epochDay}`);
  const day = calendarDay(new Date(epochDay * MS_PER_DAY).toISOString().slice(0, 10));
  WRITTEN.set(epochDay, day);
  return day;
}

/** The day `days` later (earlier when negative). */
export function addDays(day: CalendarDay, days: number): CalendarDay {
  return fromEpochDay(toEpochDay(day) + days);
}

/** Days from one day to another: positive when `to` is later. */
export function daysBetween(from: CalendarDay, to: CalendarDay): number {
  return toEpochDay(to) - toEpochDay(from);
}

/** The same day so many months later; the last day of a month that is too short (31 Jan + 1 month = 28 or 29 Feb). */
export function addMonths(day: CalendarDay, months: number): CalendarDay {
  const year = Number(day.slice(0, 4));
  const month = Number(day.slice(5, 7)) - 1 + months;
  const lastOfMonth = new Date(Date.UTC(year, month + 1, 0)).getUTCDate();
  const epochMs = Date.UTC(year, month, Math.min(Number(day.slice(8, 10)), lastOfMonth));
  return fromEpochDay(epochMs / MS_PER_DAY);
}
