import 'server-only';
import { type CalendarDay, calendarDay } from '../registry/calendar-day';

/** A `date` column as Prisma hands it over (UTC midnight) becomes a calendar day: the only place where the two meet. */
export function dayFromDate(date: Date): CalendarDay {
  return calendarDay(date.toISOString().slice(0, 10));
}

export function dayFromDateOrNull(date: Date | null): CalendarDay | null {
  return date === null ? null : dayFromDate(date);
}

export function dateFromDay(day: string): Date {
  return new Date(`${calendarDay(day)}T00:00:00Z`);
}

export function dateFromDayOrNull(day: string | null | undefined): Date | null {
  return day === null || day === undefined ? null : dateFromDay(day);
}
