import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calendarDay, daysBetween, fromEpochDay } from '@/lib/registry/calendar-day';
import {
  DEFAULT_SLOTS,
  planOf,
  type ScheduleSlot,
  scheduleSlotsSchema,
} from '@/lib/registry/follow-up-schedule';

const anyDay = fc.integer({ min: 0, max: 40_000 }).map(fromEpochDay);
const slot = (change: Partial<ScheduleSlot> = {}): ScheduleSlot => ({
  code: 'month-3',
  label: 'Visit, 3 months',
  kind: 'visit',
  due: { unit: 'months', amount: 3 },
  windowBeforeDays: 14,
  windowAfterDays: 45,
  evidence: 'ecg',
  ...change,
});
const messagesOf = (slots: unknown) =>
  scheduleSlotsSchema.safeParse(slots).error?.issues.map((issue) => issue.message) ?? [];

describe('the default schedule', () => {
  it('has safety calls at days 7, 30, 60, 90 and visits at months 3 to 24, then yearly to 120', () => {
    const codes = (kind: string) => DEFAULT_SLOTS.filter((one) => one.kind === kind).map((one) => one.code);
    expect(codes('safety-call')).toEqual(['day-7', 'day-30', 'day-60', 'day-90']);
    expect(codes('visit')).toEqual(
      [3, 6, 12, 18, 24, 36, 48, 60, 72, 84, 96, 108, 120].map((month) => `month-${month}`),
    );
  });

  it('is itself a schedule that may be stored', () => {
    expect(scheduleSlotsSchema.parse(JSON.parse(JSON.stringify(DEFAULT_SLOTS)))).toEqual(DEFAULT_SLOTS);
  });

  it('asks calls for symptoms and visits for an ECG', () => {
    for (const one of DEFAULT_SLOTS)
      expect(one.evidence).toBe(one.kind === 'safety-call' ? 'symptoms' : 'ecg');
  });

  it('never has two open windows of the same kind, whatever the procedure day', () => {
    fc.assert(
      fc.property(anyDay, fc.constantFrom('safety-call', 'visit'), (performedOn, kind) => {
        const plan = planOf(performedOn, DEFAULT_SLOTS).filter((planned) => planned.slot.kind === kind);
        plan.slice(1).forEach((later, index) => {
          expect(daysBetween(plan[index]?.closesOn ?? later.opensOn, later.opensOn)).toBeGreaterThan(0);
        });
      }),
    );
  });
});

describe('the plan of a procedure', () => {
  // Hand-worked on a calendar: 2024 is a leap year.
  it.each([
    ['2024-01-31', 'day-7', '2024-02-07', '2024-02-04', '2024-02-14'],
    ['2024-01-31', 'day-30', '2024-03-01', '2024-02-23', '2024-03-15'],
    ['2023-01-31', 'day-30', '2023-03-02', '2023-02-23', '2023-03-16'],
    ['2023-11-30', 'month-3', '2024-02-29', '2024-02-15', '2024-04-14'],
    ['2022-11-30', 'month-3', '2023-02-28', '2023-02-14', '2023-04-14'],
    ['2024-02-29', 'month-12', '2025-02-28', '2025-01-14', '2025-04-29'],
    ['2024-02-29', 'month-48', '2028-02-29', '2027-12-31', '2028-05-29'],
  ])('%s, %s: due %s, %s to %s', (performedOn, code, dueOn, opensOn, closesOn) => {
    const planned = planOf(calendarDay(performedOn), DEFAULT_SLOTS).find((one) => one.slot.code === code);
    expect(planned).toMatchObject({ dueOn, opensOn, closesOn });
  });

  it('never opens before the procedure', () => {
    const early = slot({ code: 'day-2', due: { unit: 'days', amount: 2 }, windowBeforeDays: 30 });
    expect(planOf(calendarDay('2024-05-10'), [early])[0]).toMatchObject({
      opensOn: '2024-05-10',
      dueOn: '2024-05-12',
    });
  });

  it('opens on or before the day it is due, and closes on or after it', () => {
    fc.assert(
      fc.property(anyDay, (performedOn) => {
        for (const { opensOn, dueOn, closesOn } of planOf(performedOn, DEFAULT_SLOTS)) {
          expect(opensOn >= performedOn && opensOn <= dueOn && dueOn <= closesOn).toBe(true);
        }
      }),
    );
  });
});

describe('a stored schedule', () => {
  it.each([
    ['no slot', [], /at least one slot/],
    [
      '41 slots',
      Array.from({ length: 41 }, (_, i) =>
        slot({ code: `day-${i + 1}`, due: { unit: 'days', amount: i + 1 } }),
      ),
      /at most 40/,
    ],
    ['a code that says another time', [slot({ code: 'month-6' })], /due as month-3/],
    ['the same slot twice', [slot(), slot()], /there twice/],
    [
      'slots out of order',
      [slot({ code: 'month-6', due: { unit: 'months', amount: 6 } }), slot()],
      /Put them in order/,
    ],
    [
      'a slot beyond ten years',
      [slot({ code: 'month-121', due: { unit: 'months', amount: 121 } })],
      /beyond 120 months/,
    ],
  ])('refuses %s', (_what, slots, message) => {
    expect(messagesOf(slots).join('\n')).toMatch(message);
  });

  it.each([
    ['a negative window', { ...slot(), windowAfterDays: -1 }],
    ['a window of two years', { ...slot(), windowAfterDays: 730 }],
    ['an unknown kind', { ...slot(), kind: 'letter' }],
    ['unknown evidence', { ...slot(), evidence: 'holter' }],
    ['a half day', { ...slot(), windowBeforeDays: 0.5 }],
    ['a field too many', { ...slot(), colour: 'blue' }],
    ['a label without end', { ...slot(), label: 'x'.repeat(61) }],
  ])('refuses %s', (_what, bad) => {
    expect(messagesOf([bad])).not.toEqual([]);
  });
});
