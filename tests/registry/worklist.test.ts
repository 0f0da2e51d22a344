import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  type CalendarDay,
  calendarDay,
  fromEpochDay,
  toEpochDay,
} from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, planOf, type ScheduleSlot } from '@/lib/registry/follow-up-schedule';
import {
  type FollowedCase,
  lossOf,
  slotStatesOf,
  type WorklistItem,
  worklistOf,
} from '@/lib/registry/worklist';

const PERFORMED = calendarDay('2024-01-10');
const START = toEpochDay(PERFORMED);
const followed = (change: Partial<FollowedCase> = {}): FollowedCase => ({
  procedureId: 'procedure-1',
  caseCode: 'P-2345-F/1',
  performedOn: PERFORMED,
  plan: planOf(PERFORMED, DEFAULT_SLOTS),
  visits: [],
  recordings: [],
  diedOn: null,
  consentWithdrawnOn: null,
  transferredOn: null,
  nextPerformedOn: null,
  ...change,
});
/** A device that watches for ten years: no visit lacks its recording. */
const WATCHED: FollowedCase['recordings'] = [
  { firstDay: START + 1, lastDay: START + 4000, grade: 'continuous', visitId: null },
];
const seenAt = (...slots: string[]) => slots.map((slot) => ({ id: `visit of ${slot}`, slot }));
const onDay = (days: number): CalendarDay => addDays(PERFORMED, days);
const stateOf = (code: string, day: number, change: Partial<FollowedCase> = {}) =>
  slotStatesOf(followed(change), onDay(day)).find((item) => item.slot.code === code);

describe('the state of a slot', () => {
  // Windows after 2024-01-10, by hand: day-7 opens 4, closes 14; day-30 23 to 44; day-60 53 to 74; day-90 83 to 111;
  // month-3 (due 10 April, day 91) 77 to 136; month-6 (due 10 July, day 182) 152 to 227; month-120 (day 3653) 3593 to 3743.
  it.each([
    ['day-7', 0, 'upcoming', 0, 4],
    ['day-7', 3, 'upcoming', 0, 1],
    ['day-7', 4, 'in-window', 0, 10],
    ['day-7', 14, 'in-window', 0, 0],
    ['day-7', 15, 'overdue', 1, 14],
    ['day-7', 28, 'overdue', 14, 1],
    ['day-7', 29, 'missed', 15, 0],
    ['day-30', 23, 'in-window', 0, 21],
    ['day-30', 45, 'overdue', 1, 14],
    // Fourteen days late on day 58 while day-60 is open since day 53: missed from the day after.
    ['day-30', 58, 'overdue', 14, 1],
    ['day-30', 59, 'missed', 15, 0],
    // The last call waits for the first window that opens after its own has closed: month 6 on day 152.
    ['day-90', 112, 'overdue', 1, 40],
    ['day-90', 151, 'overdue', 40, 1],
    ['day-90', 152, 'missed', 41, 0],
    // Month 6 opens on day 152, within the fourteen days of grace after day 136 have passed: 151.
    ['month-3', 137, 'overdue', 1, 15],
    ['month-3', 151, 'overdue', 15, 1],
    ['month-3', 152, 'missed', 16, 0],
    // Nothing follows month 120: a year of grace.
    ['month-120', 3744, 'overdue', 1, 365],
    ['month-120', 4108, 'overdue', 365, 1],
    ['month-120', 4109, 'missed', 366, 0],
  ])('%s on day %i is %s', (code, day, state, daysOverdue, daysLeft) => {
    expect(stateOf(code, day)).toMatchObject({ state, daysOverdue, daysLeft });
  });

  it('waits for a window that opens after its own has closed, not on the same day', () => {
    const slot = (kind: 'safety-call' | 'visit', amount: number): ScheduleSlot => ({
      code: `day-${amount}`,
      label: `Day ${amount}`,
      kind,
      due: { unit: 'days', amount },
      windowBeforeDays: 0,
      windowAfterDays: 10,
      evidence: 'ecg',
    });
    // The call closes on day 20, when the first visit opens; the second visit opens on day 60.
    const slots = [slot('safety-call', 10), slot('visit', 20), slot('visit', 60)];
    const change = { plan: planOf(PERFORMED, slots) };
    expect(stateOf('day-10', 59, change)).toMatchObject({ state: 'overdue', daysLeft: 1 });
    expect(stateOf('day-10', 60, change)).toMatchObject({ state: 'missed' });
  });

  it('is not on the list once done', () => {
    expect(stateOf('day-7', 10, { visits: seenAt('day-7') })).toBeUndefined();
    expect(stateOf('day-30', 30, { visits: seenAt('day-7') })).toMatchObject({ state: 'in-window' });
  });

  it.each(['diedOn', 'consentWithdrawnOn', 'transferredOn', 'nextPerformedOn'] as const)(
    'ends with %s: the day itself included, the day before not',
    (field) => {
      const change = { [field]: onDay(40) };
      expect(slotStatesOf(followed(change), onDay(39))).not.toEqual([]);
      expect(slotStatesOf(followed(change), onDay(40))).toEqual([]);
      expect(worklistOf([followed(change)], onDay(40))).toEqual({
        items: [],
        missed: [],
        ended: 1,
        nextOpensOn: null,
      });
    },
  );

  it('starts again with the next procedure', () => {
    const first = followed({ nextPerformedOn: onDay(40) });
    const performedOn = onDay(40);
    const plan = planOf(performedOn, DEFAULT_SLOTS);
    const second = followed({ procedureId: 'procedure-2', caseCode: 'P-2345-F/2', performedOn, plan });
    const { items } = worklistOf([first, second], onDay(45));
    expect(items[0]).toMatchObject({
      procedureId: 'procedure-2',
      state: 'in-window',
      slot: { code: 'day-7' },
    });
    expect(new Set(items.map((item) => item.procedureId))).toEqual(new Set(['procedure-2']));
  });
});

describe('the order of the list', () => {
  it('puts first what is lost first', () => {
    const at = (caseCode: string, performedOn: CalendarDay, ...undone: string[]) =>
      followed({
        caseCode,
        procedureId: caseCode,
        performedOn,
        plan: planOf(performedOn, DEFAULT_SLOTS),
        visits: seenAt(...DEFAULT_SLOTS.map((slot) => slot.code).filter((code) => !undone.includes(code))),
        recordings: WATCHED,
      });
    const cases = [
      at('upcoming', onDay(-10), 'day-30'),
      at('window wide open', onDay(-80), 'month-3'),
      at('visit overdue', onDay(-140), 'month-3'),
      at('window closing', onDay(-12), 'day-7'),
      at('window closing sooner', onDay(-14), 'day-7'),
      at('call overdue', onDay(-46), 'day-30'),
      at('call overdue, missed sooner', onDay(-58), 'day-30'),
    ];
    expect(worklistOf(cases, PERFORMED).items.map((item) => item.caseCode)).toEqual([
      'call overdue, missed sooner',
      'call overdue',
      'window closing sooner',
      'window closing',
      'visit overdue',
      'window wide open',
      'upcoming',
    ]);
  });

  it.each([
    [7, ['closing', 'overdue']],
    [8, ['overdue', 'closing']],
  ])('puts a window that closes in %i days in this place: %j', (daysLeft, order) => {
    const only = (caseCode: string, performedOn: CalendarDay, code: string) =>
      followed({
        caseCode,
        performedOn,
        plan: planOf(performedOn, DEFAULT_SLOTS).filter(({ slot }) => slot.code === code),
      });
    const list = worklistOf(
      [only('overdue', onDay(-140), 'month-3'), only('closing', onDay(daysLeft - 136), 'month-3')],
      PERFORMED,
    );
    expect(list.items.map((item) => item.caseCode)).toEqual(order);
    expect(list.items.find((item) => item.caseCode === 'closing')?.daysLeft).toBe(daysLeft);
  });

  it('says in words what is lost', () => {
    const loss = (code: string, day: number) => {
      const item = stateOf(code, day);
      return item ? lossOf(item) : null;
    };
    expect(loss('day-7', 3)).toBe('The window opens in 1 day.');
    expect(loss('day-7', 4)).toBe('The window closes in 10 days.');
    expect(loss('day-7', 14)).toBe('The window closes today.');
    expect(loss('day-7', 28)).toBe('14 days overdue; counted as missed in 1 day.');
    expect(loss('day-7', 29)).toBe('Missed: the window closed 15 days ago.');
  });

  it('lists upcoming slots within the horizon only, and says when the next one opens', () => {
    const list = worklistOf([followed()], onDay(0), 30);
    expect(list.items.map((item) => item.slot.code)).toEqual(['day-7', 'day-30']);
    expect(list.nextOpensOn).toBe(onDay(53));
    expect(worklistOf([], onDay(0)).nextOpensOn).toBeNull();
  });
});

/** Written from the rule, day by day and in whole numbers, without the functions under test (but `planOf`, tested elsewhere). */
function oracle(one: FollowedCase, today: CalendarDay): string[] {
  const now = toEpochDay(today);
  const ends = [one.diedOn, one.consentWithdrawnOn, one.transferredOn, one.nextPerformedOn];
  if (ends.some((day) => day !== null && toEpochDay(day) <= now)) return [];
  const windows = one.plan.map(({ slot, dueOn, opensOn, closesOn }) => ({
    slot,
    due: toEpochDay(dueOn),
    opens: toEpochDay(opensOn),
    closes: toEpochDay(closesOn),
  }));
  const order = ['symptoms', 'ecg', '24h', '7d', '14d', 'continuous'];
  const isDone = ({ slot, opens, closes }: (typeof windows)[number]) => {
    const own = one.visits.filter((visit) => visit.slot === slot.code).map((visit) => visit.id);
    if (own.length === 0) return false;
    if (slot.evidence === 'symptoms') return true;
    return one.recordings.some(({ firstDay, lastDay, grade, visitId }) => {
      if (order.indexOf(grade) < order.indexOf(slot.evidence)) return false;
      if (own.some((id) => id === visitId)) return true;
      for (let day = firstDay; day <= lastDay; day += 1) {
        if (day > toEpochDay(one.performedOn) && day >= opens && day <= closes) return true;
      }
      return false;
    });
  };
  return windows
    .filter((window) => !isDone(window))
    .map((window) => {
      if (now < window.opens) return `${window.slot.code} upcoming`;
      if (now <= window.closes) return `${window.slot.code} in-window`;
      const following = windows.filter((other) => other.due > window.due);
      const ofKind = following.filter((other) => other.slot.kind === window.slot.kind);
      const after = ofKind.length > 0 ? ofKind : following.filter((other) => other.opens > window.closes);
      const late = now - window.closes;
      const isMissed = after.length > 0 ? late > 14 && after.some((other) => other.opens <= now) : late > 365;
      return `${window.slot.code} ${isMissed ? 'missed' : 'overdue'}`;
    });
}

const anySlots: fc.Arbitrary<ScheduleSlot[]> = fc
  .uniqueArray(
    fc.record({
      amount: fc.integer({ min: 1, max: 300 }),
      kind: fc.constantFrom('safety-call' as const, 'visit' as const),
      windowBeforeDays: fc.integer({ min: 0, max: 40 }),
      windowAfterDays: fc.integer({ min: 0, max: 60 }),
      evidence: fc.constantFrom('symptoms', 'ecg', '24h', '14d', 'continuous'),
    }),
    { selector: (slot) => slot.amount, minLength: 1, maxLength: 8 },
  )
  .map((slots) =>
    slots
      .sort((a, b) => a.amount - b.amount)
      .map(({ amount, ...rest }) => ({
        ...rest,
        code: `day-${amount}`,
        label: `Day ${amount}`,
        due: { unit: 'days' as const, amount },
      })),
  );
const maybeDay = fc.option(fc.integer({ min: START, max: START + 500 }).map(fromEpochDay), { freq: 6 });
const anyRecording = fc
  .record({
    firstDay: fc.integer({ min: START - 20, max: START + 500 }),
    length: fc.nat(20),
    grade: fc.constantFrom('ecg', '24h', '7d', '14d', 'continuous'),
    visitId: fc.option(fc.constantFrom('visit 0', 'visit 1', 'visit 2', 'visit 3')),
  })
  .map(({ length, ...rest }) => ({ ...rest, lastDay: rest.firstDay + length }));
const anyCase: fc.Arbitrary<FollowedCase> = fc
  .tuple(anySlots, fc.integer({ min: START, max: START + 200 }).map(fromEpochDay))
  .chain(([slots, performedOn]) =>
    fc.record({
      procedureId: fc.uuid(),
      caseCode: fc.stringMatching(/^P-[2-9]{4}$/),
      performedOn: fc.constant(performedOn),
      plan: fc.constant(planOf(performedOn, slots)),
      visits: fc
        .array(fc.constantFrom('unscheduled', ...slots.map((slot) => slot.code)), { maxLength: 6 })
        .map((codes) => codes.map((slot, index) => ({ id: `visit ${index}`, slot }))),
      recordings: fc.array(anyRecording, { maxLength: 6 }),
      diedOn: maybeDay,
      consentWithdrawnOn: maybeDay,
      transferredOn: maybeDay,
      nextPerformedOn: maybeDay,
    }),
  );
const anyToday = fc.integer({ min: START, max: START + 900 }).map(fromEpochDay);

describe('any lab on any day', () => {
  it('agrees with the rule, case by case', () => {
    fc.assert(
      fc.property(anyCase, anyToday, (one, today) => {
        expect(slotStatesOf(one, today).map((item) => `${item.slot.code} ${item.state}`)).toEqual(
          oracle(one, today),
        );
      }),
      { numRuns: 1000 },
    );
  });

  it('keeps every undone slot of a running plan: listed, missed, or beyond the horizon', () => {
    fc.assert(
      fc.property(fc.array(anyCase, { maxLength: 6 }), anyToday, fc.nat(60), (cases, today, horizon) => {
        const list = worklistOf(cases, today, horizon);
        const all = cases.flatMap((one) => slotStatesOf(one, today));
        const beyond = all.filter((item) => item.state === 'upcoming' && item.daysLeft > horizon);
        expect(list.items.length + list.missed.length + beyond.length).toBe(all.length);
        expect(list.nextOpensOn).toBe(beyond.map((item) => item.opensOn).sort()[0] ?? null);
      }),
    );
  });

  it('does not depend on the order of the cases', () => {
    const cases = fc.uniqueArray(anyCase, { maxLength: 6, selector: (one) => one.caseCode });
    fc.assert(
      fc.property(cases, anyToday, (some, today) => {
        expect(worklistOf([...some].reverse(), today)).toEqual(worklistOf(some, today));
      }),
    );
  });

  it('moves every slot forward only, one day at a time, and counts its days down', () => {
    const rank = { upcoming: 0, 'in-window': 1, overdue: 2, missed: 3 };
    fc.assert(
      fc.property(anyCase, anyToday, (one, today) => {
        const before = slotStatesOf(one, today);
        const after = new Map<string, WorklistItem>(
          slotStatesOf(one, addDays(today, 1)).map((item) => [item.slot.code, item]),
        );
        for (const item of before) {
          const next = after.get(item.slot.code);
          if (!next) continue;
          expect(rank[next.state]).toBeGreaterThanOrEqual(rank[item.state]);
          if (next.state === item.state && item.state !== 'missed')
            expect(next.daysLeft).toBe(item.daysLeft - 1);
        }
      }),
    );
  });
});
