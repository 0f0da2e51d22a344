import { describe, expect, it } from 'vitest';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import { planOf, type ScheduleSlot } from '@/lib/registry/follow-up-schedule';
import { packEvidence, packRecording } from '@/lib/registry/rhythm-evidence';
import { type WatchedCase, watchedSlotsOf } from '@/lib/registry/watched-slots';
import { recorded } from './time-to-event-cases';

const PERFORMED = calendarDay('2024-01-01');
/** Day 100, from 90 to 110, an ECG; day 300, from 250 to 349, 7 days. */
const slots: ScheduleSlot[] = [
  {
    code: 'day-100',
    label: 'First',
    kind: 'visit',
    due: { unit: 'days', amount: 100 },
    windowBeforeDays: 10,
    windowAfterDays: 10,
    evidence: 'ecg',
  },
  {
    code: 'day-300',
    label: 'Second',
    kind: 'visit',
    due: { unit: 'days', amount: 300 },
    windowBeforeDays: 50,
    windowAfterDays: 49,
    evidence: '7d',
  },
];
const on = (
  day: number,
  more: Partial<WatchedCase> & { items?: Parameters<typeof packRecording>[0][] } = {},
) => {
  const { items = [], ...rest } = more;
  return watchedSlotsOf(
    {
      performedOn: PERFORMED,
      plan: planOf(PERFORMED, slots),
      evidence: packEvidence(items.map(packRecording)),
      daysToNext: null,
      daysToDeath: null,
      ...rest,
    },
    addDays(PERFORMED, day),
  ).map(({ code, grade, verdict }) => [code, grade, verdict]);
};
const ecg = (day: number) => recorded('sinus', day);
const days = (from: number, to: number) =>
  recorded('sinus', from, { grade: 'continuous', endDay: to, recordedToDay: to });

describe('how the windows of planned follow-ups were watched', () => {
  it.each<[string, number, Parameters<typeof on>[1], unknown[]]>([
    ['nothing before the first window opens', 89, {}, []],
    ['the day on which it opens', 90, {}, [['day-100', 'none', 'open']]],
    ['the last day on which it is open', 110, {}, [['day-100', 'none', 'open']]],
    ['the day after', 111, {}, [['day-100', 'none', 'short']]],
    ['an ECG in it', 111, { items: [ecg(95)] }, [['day-100', 'ecg', 'enough']]],
    ['an ECG before it', 111, { items: [ecg(89)] }, [['day-100', 'none', 'short']]],
    [
      'less than the second asks for',
      350,
      { items: [ecg(95), ecg(300)] },
      [
        ['day-100', 'ecg', 'enough'],
        ['day-300', 'ecg', 'short'],
      ],
    ],
    [
      'a device is judged by the days that have passed',
      269,
      { items: [days(0, 269)] },
      [
        ['day-100', 'continuous', 'enough'],
        ['day-300', 'continuous', 'enough'],
      ],
    ],
    ['a next procedure in the window cuts it', 400, { daysToNext: 105 }, [['day-100', 'none', 'ended']]],
    [
      'what was recorded before the cut is enough',
      400,
      { daysToNext: 105, items: [ecg(104)] },
      [['day-100', 'ecg', 'enough']],
    ],
    [
      'what was recorded after it is not this case’s',
      400,
      { daysToNext: 105, items: [ecg(106)] },
      [['day-100', 'none', 'ended']],
    ],
    ['death before the window leaves it out', 400, { daysToDeath: 80 }, []],
  ])('%s', (_what, today, more, expected) => {
    expect(on(today, more)).toEqual(expected);
  });
});
