import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  type CalendarDay,
  calendarDay,
  daysBetween,
  fromEpochDay,
  isCalendarDay,
  toEpochDay,
} from '@/lib/registry/calendar-day';

const EPOCH = Temporal.PlainDate.from('1970-01-01');
const plain = (day: string) => Temporal.PlainDate.from(day);
const epochDayOf = (date: Temporal.PlainDate) => EPOCH.until(date, { largestUnit: 'day' }).days;
const FIRST = epochDayOf(plain('1970-01-01'));
const LAST = epochDayOf(plain('2100-12-31'));
const anyDay = fc.integer({ min: FIRST, max: LAST }).map((days) => EPOCH.add({ days }).toString());

// The outside check is temporal-polyfill, an implementation of the ECMAScript Temporal proposal that computes dates
// without the Date object on which the product relies. Tests run in a time zone of +05:45.
describe('calendar days against Temporal', () => {
  it('agree on 100,000 pairs of days from 1970 to 2100', () => {
    fc.assert(
      fc.property(anyDay, anyDay, (from, to) => {
        const days = daysBetween(calendarDay(from), calendarDay(to));
        return (
          days === plain(from).until(plain(to), { largestUnit: 'day' }).days &&
          addDays(calendarDay(from), days) === to
        );
      }),
      { numRuns: 100_000, seed: 20_260_107 },
    );
  });
  it('agree on every day from 1970 to 2100, in order', () => {
    let date = EPOCH;
    for (let epochDay = FIRST; epochDay <= LAST; epochDay++) {
      const text = date.toString();
      if (fromEpochDay(epochDay) !== text || toEpochDay(calendarDay(text)) !== epochDay) {
        throw new Error(`${text} is not day ${epochDay}`);
      }
      date = date.add({ days: 1 });
    }
  });
  it('agree on so many months later, short months included', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -360, max: 360 }), (day, months) => {
        return addMonths(calendarDay(day), months) === plain(day).add({ months }).toString();
      }),
      { numRuns: 20_000, seed: 20_260_108 },
    );
  });
  it('accept exactly the days that exist', () => {
    const parts = fc.tuple(
      fc.integer({ min: 1790, max: 2210 }),
      fc.integer({ min: 0, max: 13 }),
      fc.integer({ min: 0, max: 32 }),
    );
    const two = (part: number) => String(part).padStart(2, '0');
    fc.assert(
      fc.property(parts, ([year, month, day]) => {
        const exists = (() => {
          try {
            return Temporal.PlainDate.from({ year, month, day }, { overflow: 'reject' }) !== null;
          } catch {
            return false;
          }
        })();
        return (
          isCalendarDay(`${year}-${two(month)}-${two(day)}`) === (exists && year >= 1800 && year <= 2199)
        );
      }),
      { numRuns: 20_000, seed: 20_260_109 },
    );
  });
});

describe('calendar days by hand', () => {
  it.each(['2026-2-01', '2026-02-1', ' 2026-02-01', '2026-02-01T00:00', '01.02.2026', '', '2026-02-01\n'])(
    '%j is not written as a day',
    (text) => {
      expect(isCalendarDay(text)).toBe(false);
      expect(() => calendarDay(text)).toThrow(/not a calendar day/);
    },
  );
  it.each([
    ['2024-02-29', true],
    ['2023-02-29', false],
    ['2000-02-29', true],
    ['1900-02-29', false],
    ['2100-02-29', false],
    ['1800-01-01', true],
    ['1799-12-31', false],
    ['2199-12-31', true],
    ['2200-01-01', false],
  ])('%s exists: %s', (text, exists) => {
    expect(isCalendarDay(text)).toBe(exists);
  });
  it('count across a leap day and keep the end of a month', () => {
    const day = (text: string): CalendarDay => calendarDay(text);
    expect(daysBetween(day('2024-02-28'), day('2024-03-01'))).toBe(2);
    expect(daysBetween(day('2023-02-28'), day('2023-03-01'))).toBe(1);
    expect(daysBetween(day('2026-03-10'), day('2026-03-09'))).toBe(-1);
    expect(addMonths(day('2024-01-31'), 1)).toBe('2024-02-29');
    expect(addMonths(day('2023-11-30'), 3)).toBe('2024-02-29');
    expect(addMonths(day('2024-02-29'), 12)).toBe('2025-02-28');
    expect(toEpochDay(day('1969-12-31'))).toBe(-1);
  });
  it('refuse a part of a day', () => {
    expect(() => fromEpochDay(0.5)).toThrow(/not a whole day/);
    expect(() => fromEpochDay(Number.NaN)).toThrow(/not a whole day/);
  });
});
