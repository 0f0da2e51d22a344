import { isCalendarDay, toEpochDay } from '@/lib/registry/calendar-day';

const WEEKDAYS = ['Thursday', 'Friday', 'Saturday', 'Sunday', 'Monday', 'Tuesday', 'Wednesday'];
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/**
 * The day as YYYY-MM-DD where the year is written first and the parts are plain ('20260514', '2026/5/14', '2026 05 14');
 * any other text comes back as it was, for the schema to refuse: 03/04/2026 is never guessed.
 */
export function tidyDay(text: string): string {
  const trimmed = text.trim();
  const match =
    /^(\d{4})(\d{2})(\d{2})$/.exec(trimmed) ?? /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})$/.exec(trimmed);
  if (!match) return text;
  const [, year = '', month = '', day = ''] = match;
  return `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
}

/** 'Thursday 14 May 2026', so that the eye can check what the hand typed; empty when the text is no day. */
export function spellDay(text: string): string {
  if (!isCalendarDay(text)) return '';
  const weekday = WEEKDAYS[((toEpochDay(text) % 7) + 7) % 7];
  return `${weekday} ${Number(text.slice(8))} ${MONTHS[Number(text.slice(5, 7)) - 1]} ${text.slice(0, 4)}`;
}
