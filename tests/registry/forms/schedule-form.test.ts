import { describe, expect, it } from 'vitest';
import { calendarDay as day } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, scheduleSlotsSchema } from '@/lib/registry/follow-up-schedule';
import { checkSchedule, type ScheduleContext } from '@/lib/registry/forms/schedule-checks';
import {
  emptySlot,
  entriesOfSlots,
  type ScheduleFormInput,
  scheduleFormSchema,
  scheduleSaveSchema,
  slotsOfForm,
  typedOfForm,
} from '@/lib/registry/forms/schedule-form';
import type { FollowUpSchedule } from '@/lib/registry/schedule-versions';
import { fieldsOf } from './findings-of';

const TODAY = day('2026-12-01');
const typed: ScheduleFormInput = {
  scope: 'all',
  effectiveOn: '2026-12-10',
  course: 'own',
  slots: entriesOfSlots(DEFAULT_SLOTS),
};
const row = (change: Record<string, unknown> = {}) => ({
  ...emptySlot,
  amount: '9',
  windowBeforeDays: '30',
  windowAfterDays: '45',
  ...change,
});
const errorsOf = (change: Record<string, unknown>) =>
  (scheduleFormSchema.safeParse({ ...typed, ...change }).error?.issues ?? []).map(
    ({ path, message }) => `${path.join('.')}: ${message}`,
  );

describe('a new version, as it is typed', () => {
  it('is read back as it was stored, whatever the order of its rows', () => {
    const form = scheduleFormSchema.parse(typed);
    expect(slotsOfForm(form)).toEqual(DEFAULT_SLOTS);
    const turned = scheduleFormSchema.parse({ ...typed, slots: [...typed.slots].reverse() });
    expect(slotsOfForm(turned)).toEqual(DEFAULT_SLOTS);
    expect(typedOfForm(form)).toEqual(typed);
  });

  it('makes slots that may be stored', () => {
    const form = scheduleFormSchema.parse({
      ...typed,
      slots: [row(), row({ amount: '14', unit: 'days' }), row({ amount: '1' }), row({ amount: '36' })],
    });
    const slots = slotsOfForm(form);
    expect(scheduleSlotsSchema.parse(slots)).toEqual(slots);
    expect(slots.map(({ code, label }) => [code, label])).toEqual([
      ['day-14', 'Visit, day 14'],
      ['month-1', 'Visit, 1 month'],
      ['month-9', 'Visit, 9 months'],
      ['month-36', 'Visit, 3 years'],
    ]);
  });

  it.each([
    ['nobody it is for', { scope: '' }, /^scope: For is missing/],
    ['an unknown strategy', { scope: 'zigzag' }, /^scope: For is none of the choices/],
    ['no day', { effectiveOn: '' }, /^effectiveOn: .*is missing/],
    ['a day that does not exist', { effectiveOn: '2026-02-30' }, /^effectiveOn: .*not a day of the calendar/],
    ['no contact', { slots: [] }, /^slots: Contacts: there is none/],
    [
      '41 contacts',
      { slots: Array.from({ length: 41 }, (_, i) => row({ amount: String(i + 1) })) },
      /at most 40/,
    ],
    ['a contact without a time', { slots: [row({ amount: '' })] }, /^slots\.0\.amount: .*is missing/],
    ['half a month', { slots: [row({ amount: '1.5' })] }, /^slots\.0\.amount: .*not a whole number/],
    ['day zero', { slots: [row({ amount: '0' })] }, /^slots\.0\.amount: .*not possible/],
    [
      'a contact beyond ten years',
      { slots: [row({ amount: '121' })] },
      /^slots\.0\.amount: .*beyond ten years/,
    ],
    ['a contact twice', { slots: [row(), row()] }, /^slots\.1\.amount: .*contact 1 is due then already/],
    [
      'a negative window',
      { slots: [row({ windowBeforeDays: '-1' })] },
      /^slots\.0\.windowBeforeDays: .*not possible/,
    ],
    [
      'a window of two years',
      { slots: [row({ windowAfterDays: '730' })] },
      /^slots\.0\.windowAfterDays: .*not possible/,
    ],
    [
      'unknown evidence',
      { slots: [row({ evidence: 'contact' })] },
      /^slots\.0\.evidence: .*none of the choices/,
    ],
    ['all going back to all', { course: 'as-for-all' }, /^course: .*no other to go back to/],
  ])('refuses %s', (_what, change, message) => {
    expect(errorsOf(change).join('\n')).toMatch(message);
  });

  it('asks nothing of the contacts when a strategy goes back to the schedule for all', () => {
    const form = scheduleFormSchema.parse({ ...typed, scope: 'ostial', course: 'as-for-all', slots: [] });
    expect(slotsOfForm(form)).toEqual([]);
    const kept = scheduleFormSchema.parse({ ...typed, scope: 'ostial', course: 'as-for-all' });
    expect(slotsOfForm(kept)).toEqual([]);
  });

  it('takes the same day as days and as months for two contacts', () => {
    expect(errorsOf({ slots: [row({ amount: '3' }), row({ amount: '3', unit: 'days' })] })).toEqual([]);
  });

  it('is saved with the number of the version that it follows', () => {
    expect(scheduleSaveSchema.safeParse({ ...typed, follows: 1 }).success).toBe(true);
    expect(scheduleSaveSchema.safeParse(typed).success).toBe(false);
    expect(scheduleSaveSchema.safeParse({ ...typed, follows: 1, slots: [] }).success).toBe(false);
  });
});

describe('a new version against what is stored', () => {
  const stored = (
    strategy: string | null,
    versionNumber: number,
    effectiveOn: string | null,
    slots = DEFAULT_SLOTS.slice(0, 6),
  ): FollowUpSchedule => ({
    strategy,
    versionNumber,
    effectiveOn: effectiveOn === null ? null : day(effectiveOn),
    slots,
  });
  const context = (...schedules: FollowUpSchedule[]): ScheduleContext => ({ today: TODAY, schedules });
  const check = (change: Partial<ScheduleFormInput>, ...schedules: FollowUpSchedule[]) =>
    checkSchedule(scheduleFormSchema.parse({ ...typed, ...change }), context(...schedules));
  const refused = (change: Partial<ScheduleFormInput>, ...schedules: FollowUpSchedule[]) =>
    fieldsOf(check(change, ...schedules), 'refusal');
  const warned = (change: Partial<ScheduleFormInput>, ...schedules: FollowUpSchedule[]) =>
    fieldsOf(check(change, ...schedules), 'warning');

  it('accepts the default in place of something else', () => {
    expect(check({}, stored(null, 1, null))).toEqual([]);
  });

  it.each([
    ['2026-11-30', ['effectiveOn']],
    ['2026-12-01', []],
    ['2026-12-02', []],
  ])('replans the future only: %s', (effectiveOn, fields) => {
    expect(refused({ effectiveOn }, stored(null, 1, null))).toEqual(fields);
  });

  it.each([
    ['2026-12-19', ['effectiveOn']],
    ['2026-12-20', []],
  ])('never takes effect before the version that it replaces: %s', (effectiveOn, fields) => {
    const schedules = [stored(null, 1, null), stored(null, 2, '2026-12-20')];
    expect(refused({ effectiveOn }, ...schedules)).toEqual(fields);
    // Each line by itself: another strategy's version is none of its business.
    expect(refused({ effectiveOn, scope: 'ostial' }, ...schedules)).toEqual([]);
  });

  it.each([
    ['2027-12-02', []],
    ['2027-12-03', ['effectiveOn']],
  ])('asks about a day more than a year ahead: %s', (effectiveOn, fields) => {
    expect(warned({ effectiveOn }, stored(null, 1, null))).toEqual(fields);
  });

  it('refuses a version that changes nothing', () => {
    expect(refused({}, stored(null, 1, null, [...DEFAULT_SLOTS]))).toEqual(['slots']);
    expect(refused({ scope: 'ostial' }, stored(null, 1, null, [...DEFAULT_SLOTS]))).toEqual([]);
  });

  it('goes back to the schedule for all only from one of its own', () => {
    const back = { scope: 'ostial', course: 'as-for-all' };
    const own = stored('ostial', 1, '2026-12-05');
    expect(refused(back, stored(null, 1, null))).toEqual(['course']);
    expect(refused(back, stored(null, 1, null), own)).toEqual([]);
    expect(refused(back, stored(null, 1, null), own, stored('ostial', 2, '2026-12-06', []))).toEqual([
      'course',
    ]);
  });

  it('asks about two windows of one kind that are open at once', () => {
    const slots = [row({ amount: '6' }), row({ amount: '9', windowBeforeDays: '46' }), row({ amount: '12' })];
    // Month 6 stays open to day 182.6 + 45 = 227.6; month 9 opens on day 273.9 - 46 = 227.9, or - 47 = 226.9.
    expect(warned({ slots }, stored(null, 1, null))).toEqual(['slots']);
    const wider = slots.map((slot) => (slot.amount === '9' ? { ...slot, windowBeforeDays: '47' } : slot));
    expect(warned({ slots: wider }, stored(null, 1, null))).toEqual(['slots.0.windowAfterDays', 'slots']);
    const turned = [...wider].reverse();
    expect(warned({ slots: turned }, stored(null, 1, null))).toEqual(['slots.2.windowAfterDays', 'slots']);
  });

  it('asks about safety checks that are left out', () => {
    const without = (...codes: string[]) => ({
      slots: entriesOfSlots(DEFAULT_SLOTS.filter(({ code }) => !codes.includes(code))),
    });
    const messages = (...codes: string[]) =>
      check(without(...codes), stored(null, 1, null)).map(({ message }) => message);
    expect(messages('month-18')).toEqual([]);
    expect(messages('day-60')[0]).toMatch(/none on day 60.*by a later check only/);
    expect(messages('day-30', 'day-90')[0]).toMatch(
      /none on day 30, day 90.*no case becomes safety-complete/,
    );
  });
});
