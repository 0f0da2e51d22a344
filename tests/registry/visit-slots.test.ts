import { describe, expect, it } from 'vitest';
import { calendarDay } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, planOf } from '@/lib/registry/follow-up-schedule';
import { slotWords, visitSlotsOf } from '@/lib/registry/visit-slots';

const PERFORMED = calendarDay('2024-01-10');
const planWithout = (...codes: string[]) =>
  planOf(
    PERFORMED,
    DEFAULT_SLOTS.filter(({ code }) => !codes.includes(code)),
  );

describe('what a visit may be entered as', () => {
  it('is the plan, then what nobody planned', () => {
    const slots = visitSlotsOf(PERFORMED, planWithout());
    expect(slots.map(({ code }) => code)).toEqual([...DEFAULT_SLOTS.map(({ code }) => code), 'unscheduled']);
    expect(slots[0]).toEqual({ code: 'day-7', label: 'Safety call, day 7', evidence: 'symptoms' });
    expect(slots.at(-1)).toEqual({ code: 'unscheduled', label: 'Not in the schedule', evidence: null });
  });

  it('keeps the safety checks that the schedule has dropped', () => {
    const codes = visitSlotsOf(PERFORMED, planWithout('day-60', 'month-3')).map(({ code }) => code);
    expect(codes).toContain('day-60');
    expect(codes).not.toContain('month-3');
  });

  it('keeps the slot of a stored visit that the plan has lost', () => {
    const slots = visitSlotsOf(PERFORMED, planWithout('month-18'), 'month-18');
    expect(slots.at(-1)).toEqual({
      code: 'month-18',
      label: 'Month 18, no longer in the schedule',
      evidence: null,
    });
    expect(visitSlotsOf(PERFORMED, planWithout(), 'month-18')).toEqual(
      visitSlotsOf(PERFORMED, planWithout()),
    );
    expect(visitSlotsOf(PERFORMED, planWithout(), 'unscheduled')).toHaveLength(DEFAULT_SLOTS.length + 1);
  });

  it.each([
    ['month-3', 'Visit, 3 months'],
    ['unscheduled', 'Not in the schedule'],
    ['day-14', 'Day 14, no longer in the schedule'],
  ])('%s is told as “%s”', (code, words) => {
    expect(slotWords(code, visitSlotsOf(PERFORMED, planWithout()))).toBe(words);
  });
});
