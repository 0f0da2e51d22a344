import { expect, it } from 'vitest';
import { calendarDay } from '@/lib/registry/calendar-day';
import { readmissionTiming } from '@/lib/registry/readmission';

const performedOn = calendarDay('2024-03-01');

it.each([
  ['2024-03-03', '2024-03-03', { days: 0, from: 'discharge', isEarly: true }],
  ['2024-03-03', '2024-04-02', { days: 30, from: 'discharge', isEarly: true }],
  ['2024-03-03', '2024-04-03', { days: 31, from: 'discharge', isEarly: false }],
  [null, '2024-03-31', { days: 30, from: 'procedure', isEarly: true }],
  [null, '2024-04-01', { days: 31, from: 'procedure', isEarly: false }],
])('home on %s, back on %s', (dischargedOn, admittedOn, timing) => {
  const home = dischargedOn === null ? null : calendarDay(dischargedOn);
  expect(readmissionTiming(calendarDay(admittedOn), { performedOn, dischargedOn: home })).toEqual(timing);
});
