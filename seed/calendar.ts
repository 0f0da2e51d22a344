import { addDays, type CalendarDay, toEpochDay } from '../lib/registry/calendar-day';
import { LAB_DAYS } from './parameters';

/**
 * Days of the demo lab are counted from its first Monday: 0 to LAB_DAYS - 1. The last is the Sunday on or before the
 * anchor day, so that procedures fall on working days whatever the anchor.
 */
export type LabDay = number;

export const LAST_DAY: LabDay = LAB_DAYS - 1;

/** The calendar day of the lab's day 0 for an anchor day (the day on which the demo is loaded). */
export function firstMonday(anchor: CalendarDay): CalendarDay {
  // 1970-01-04 was a Sunday: epoch day 3.
  const sinceSunday = (((toEpochDay(anchor) - 3) % 7) + 7) % 7;
  return addDays(anchor, -sinceSunday - LAST_DAY);
}

/** True from Monday to Friday. */
export const isWorkingDay = (day: LabDay): boolean => ((day % 7) + 7) % 7 < 5;

/** The day itself, or the Monday after it. */
export function workingDayFrom(day: LabDay): LabDay {
  const whole = Math.floor(day);
  return isWorkingDay(whole) ? whole : whole + 7 - (((whole % 7) + 7) % 7);
}

/** Years since the lab's first day. */
export const yearsOf = (day: LabDay): number => day / 365.25;
