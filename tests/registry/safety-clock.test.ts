import { describe, expect, it } from 'vitest';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, planOf } from '@/lib/registry/follow-up-schedule';
import { type ClockedCase, SAFETY_CHECK_DAYS, safetyClockOf } from '@/lib/registry/safety-clock';

const performedOn = calendarDay('2024-03-01');
const at = (day: number) => addDays(performedOn, day);
const check = (day: number, on = day) => ({ slot: `day-${day}`, visitedOn: at(on) });
const ALL = SAFETY_CHECK_DAYS.map((day) => check(day));
const one = (over: Partial<ClockedCase> = {}): ClockedCase => ({
  performedOn,
  plan: planOf(performedOn, DEFAULT_SLOTS),
  visits: [],
  diedOn: null,
  consentWithdrawnOn: null,
  transferredOn: null,
  nextPerformedOn: null,
  ...over,
});
const stateOf = (over: Partial<ClockedCase>, day: number) => safetyClockOf(one(over), at(day)).state;
const checksOf = (over: Partial<ClockedCase>, day: number) =>
  safetyClockOf(one(over), at(day)).checks.map(({ state }) => state);

describe('safety-complete', () => {
  // Only after day 90: the check of day 90 may be made up to seven days early.
  it.each([
    [89, 'running'],
    [90, 'running'],
    [91, 'complete'],
    [2000, 'complete'],
  ])('with every check done, on day %i: %s', (day, state) => {
    const early = [check(7), check(30), check(60), check(90, 88)];
    expect(stateOf({ visits: early }, day)).toBe(state);
  });

  it.each([
    [89, 'running'],
    [90, 'running'],
    [91, 'incomplete'],
  ])('without the last check, on day %i: %s', (day, state) => {
    expect(stateOf({ visits: ALL.slice(0, 3) }, day)).toBe(state);
  });

  it('says so in words', () => {
    expect(safetyClockOf(one({ visits: ALL }), at(91)).sentence).toBe('Harm was asked for through day 90.');
    expect(safetyClockOf(one({ visits: [check(7)] }), at(40)).sentence).toBe(
      'Day 40, complete after day 90 at the earliest. Still to ask: day 30, day 60 and day 90.',
    );
    expect(safetyClockOf(one({ visits: ALL.slice(0, 2) }), at(200)).sentence).toBe(
      'No check of day 60 and day 90.',
    );
    expect(safetyClockOf(one({ visits: ALL }), at(90)).sentence).toBe(
      'Day 90. Every check is done; the case is complete after day 90.',
    );
  });
});

describe('a check', () => {
  // Windows of the default schedule: day 30 from 23 to 44.
  it.each([
    [22, 'upcoming'],
    [23, 'in-window'],
    [44, 'in-window'],
    [45, 'overdue'],
  ])('that nobody made is, on day %i: %s', (day, state) => {
    expect(checksOf({}, day)[1]).toBe(state);
  });

  it('is done by a visit of its own, early within its window, or late', () => {
    expect(checksOf({ visits: [check(30, 23)] }, 50)[1]).toBe('done');
    expect(checksOf({ visits: [check(30, 75)] }, 80)[1]).toBe('done');
  });

  it('is not done by a visit before its window, nor by one of another kind', () => {
    expect(checksOf({ visits: [check(30, 22)] }, 50)[1]).toBe('overdue');
    expect(stateOf({ visits: [...ALL.slice(0, 3), { slot: 'month-3', visitedOn: at(95) }] }, 100)).toBe(
      'incomplete',
    );
  });

  it('that was missed is made good by a later check, never by an earlier one', () => {
    const clock = safetyClockOf(one({ visits: [check(7), check(90)] }), at(91));
    expect(clock.checks.map(({ state }) => state)).toEqual(['done', 'made-good', 'made-good', 'done']);
    expect(clock.checks[1]?.askedOn).toBe(at(90));
    expect(clock.state).toBe('complete');
    expect(checksOf({ visits: [check(7), check(30), check(60)] }, 120)[3]).toBe('overdue');
  });

  it('is asked for even where the schedule of the lab has dropped it', () => {
    const plan = planOf(performedOn, DEFAULT_SLOTS).filter(({ slot }) => slot.code !== 'day-60');
    expect(safetyClockOf(one({ plan }), at(70)).checks.map(({ day }) => day)).toEqual([7, 30, 60, 90]);
    expect(checksOf({ plan }, 70)[2]).toBe('in-window');
  });
});

describe('what ends the asking', () => {
  it.each([
    [90, 'closed-by-death'],
    [91, 'ended'],
  ])('death on day %i without checks: %s', (day, state) => {
    expect(stateOf({ diedOn: at(day) }, 400)).toBe(state);
  });

  it('death counts although the patient had withdrawn before', () => {
    expect(stateOf({ consentWithdrawnOn: at(20), diedOn: at(50) }, 400)).toBe('closed-by-death');
  });

  it('death after day 90 takes nothing from a case that was complete', () => {
    expect(stateOf({ visits: ALL, diedOn: at(300) }, 400)).toBe('complete');
  });

  it.each(['consentWithdrawnOn', 'transferredOn', 'nextPerformedOn'] as const)(
    '%s leaves it incomplete',
    (field) => {
      expect(stateOf({ visits: [check(7)], [field]: at(40) }, 39)).toBe('running');
      expect(stateOf({ visits: [check(7)], [field]: at(40) }, 40)).toBe('ended');
      expect(checksOf({ visits: [check(7)], [field]: at(40) }, 100)).toEqual([
        'done',
        'not-possible',
        'not-possible',
        'not-possible',
      ]);
    },
  );

  it('is named, the first that came', () => {
    const clock = safetyClockOf(one({ transferredOn: at(40), nextPerformedOn: at(80) }), at(100));
    expect(clock.sentence).toContain(`the transfer on ${at(40)} ended the asking`);
  });

  it('lies in the future until its day', () => {
    expect(stateOf({ diedOn: at(50) }, 49)).toBe('running');
  });
});
