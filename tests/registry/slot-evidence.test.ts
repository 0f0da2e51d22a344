import { describe, expect, it } from 'vitest';
import { addDays, calendarDay, toEpochDay } from '@/lib/registry/calendar-day';
import { planOf, type ScheduleSlot } from '@/lib/registry/follow-up-schedule';
import { type EvidenceSpan, evidenceWords, hasEvidence } from '@/lib/registry/slot-evidence';
import { type FollowedCase, lossOf, slotStatesOf } from '@/lib/registry/worklist';

const PERFORMED = calendarDay('2024-01-10');
const START = toEpochDay(PERFORMED);
const slotOf = (evidence: ScheduleSlot['evidence'], amount = 100, windowBeforeDays = 5): ScheduleSlot => ({
  code: `day-${amount}`,
  label: 'Visit, day 100',
  kind: 'visit',
  due: { unit: 'days', amount },
  windowBeforeDays,
  windowAfterDays: 10,
  evidence,
});
/** A recording from one day after the procedure to another. */
const span = (
  first: number,
  last: number,
  grade: EvidenceSpan['grade'] = 'ecg',
  visitId: string | null = null,
): EvidenceSpan => ({ firstDay: START + first, lastDay: START + last, grade, visitId });
const isMet = (slot: ScheduleSlot, ...spans: EvidenceSpan[]) => {
  const [planned] = planOf(PERFORMED, [slot]);
  return planned ? hasEvidence(planned, START, ['own'], spans) : undefined;
};

describe('the evidence that a slot needs', () => {
  // The window of day 100 is open from day 95 to day 110.
  it.each<[string, boolean, ScheduleSlot, EvidenceSpan[]]>([
    ['asking is enough for a call', true, slotOf('symptoms'), []],
    ['a contact is enough where no more is asked', true, slotOf('contact'), []],
    ['nothing recorded', false, slotOf('ecg'), []],
    ['an ECG on the first day of the window', true, slotOf('ecg'), [span(95, 95)]],
    ['an ECG the day before the window', false, slotOf('ecg'), [span(94, 94)]],
    ['an ECG on the last day of the window', true, slotOf('ecg'), [span(110, 110)]],
    ['an ECG the day after the window', false, slotOf('ecg'), [span(111, 111)]],
    ['a recording that runs into the window', true, slotOf('7d'), [span(88, 95, '7d')]],
    ['a recording that runs out of the window', true, slotOf('7d'), [span(110, 117, '7d')]],
    ['a recording that spans the window', true, slotOf('continuous'), [span(1, 300, 'continuous')]],
    ['an ECG long after, entered at the visit', true, slotOf('ecg'), [span(150, 150, 'ecg', 'own')]],
    ['an ECG long after, entered at another visit', false, slotOf('ecg'), [span(150, 150, 'ecg', 'other')]],
    ['an ECG of another visit within the window', true, slotOf('ecg'), [span(97, 97, 'ecg', 'other')]],
    ['on the day of the procedure', false, slotOf('ecg', 3), [span(0, 0)]],
    ['the day after the procedure', true, slotOf('ecg', 3), [span(1, 1)]],
    ['before the procedure and after it', true, slotOf('24h', 3), [span(-1, 1, '24h')]],
    [
      'seven days, one recording each day',
      false,
      slotOf('7d'),
      [95, 96, 97].map((day) => span(day, day, '24h')),
    ],
  ])('%s: %s', (_what, met, slot, spans) => {
    expect(isMet(slot, ...spans)).toBe(met);
  });

  const GRADES = ['ecg', '24h', '7d', '14d', 'continuous'] as const;
  it.each(GRADES.flatMap((needed, i) => GRADES.map((given, j) => [needed, given, j >= i] as const)))(
    '%s is needed, %s is there: %s',
    (needed, given, met) => {
      expect(isMet(slotOf(needed), span(100, 100, given))).toBe(met);
    },
  );

  it('is told in words', () => {
    expect(
      (['symptoms', 'ecg', '24h', 'continuous'] as const).map((evidence) => evidenceWords({ evidence })),
    ).toEqual(['Symptoms asked', 'ECG', '24 h', 'Continuous']);
  });
});

describe('a visit without the recording that it needs', () => {
  const followed: FollowedCase = {
    procedureId: 'procedure-1',
    caseCode: 'P-2345-F/1',
    performedOn: PERFORMED,
    plan: planOf(PERFORMED, [slotOf('ecg')]),
    visits: [
      { id: 'later', slot: 'day-100' },
      { id: 'earlier', slot: 'day-100' },
    ],
    recordings: [],
    diedOn: null,
    consentWithdrawnOn: null,
    transferredOn: null,
    nextPerformedOn: null,
  };
  const on = (day: number, change: Partial<FollowedCase> = {}) =>
    slotStatesOf({ ...followed, ...change }, addDays(PERFORMED, day));

  it('stays on the list, and leads to its latest visit', () => {
    const [item] = on(100);
    expect(item).toMatchObject({ awaits: 'recording', visitId: 'later', state: 'in-window', daysLeft: 10 });
    expect(item && lossOf(item)).toBe('The window closes in 10 days.');
    expect(on(111)[0]).toMatchObject({ awaits: 'recording', state: 'overdue', daysOverdue: 1 });
  });

  it('is done once the recording is there', () => {
    expect(on(100, { recordings: [span(101, 101)] })).toEqual([]);
  });

  it('awaits the contact when only the recording is there', () => {
    expect(on(100, { visits: [], recordings: [span(101, 101)] })[0]).toMatchObject({
      awaits: 'contact',
      visitId: null,
    });
  });
});
