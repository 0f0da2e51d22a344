import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import { planOf, type ScheduleSlot, slotOf } from '@/lib/registry/follow-up-schedule';
import {
  countMoves,
  keyOfMove,
  lineOfMove,
  movesOfPlan,
  type StrategyCase,
  scheduleMoves,
} from '@/lib/registry/schedule-moves';
import type { FollowUpSchedule } from '@/lib/registry/schedule-versions';
import type { FollowedCase } from '@/lib/registry/worklist';

const PERFORMED = calendarDay('2024-01-10');
const at = (days: number) => addDays(PERFORMED, days);
const visit = (amount: number, change: Partial<ScheduleSlot> = {}): ScheduleSlot =>
  slotOf({
    kind: 'visit',
    due: { unit: 'days', amount },
    windowBeforeDays: 5,
    windowAfterDays: 10,
    evidence: 'ecg',
    ...change,
  });
const plan = (...slots: ScheduleSlot[]) => planOf(PERFORMED, slots);
const said = (before: ScheduleSlot[], after: ScheduleSlot[]) =>
  movesOfPlan(plan(...before), plan(...after)).map(
    (move) => `${move.change} ${move.before?.slot.code ?? '-'} ${move.after?.slot.code ?? '-'}`,
  );

describe('what moves in one plan', () => {
  it.each<[string, ScheduleSlot[], ScheduleSlot[], string[]]>([
    ['nothing', [visit(50)], [visit(50)], []],
    ['one more contact', [visit(50)], [visit(50), visit(90)], ['added - day-90']],
    ['one less', [visit(50), visit(90)], [visit(50)], ['dropped day-90 -']],
    // Day 50 is open from day 45 to 60, day 65 from 60 to 75: they meet on day 60.
    ['another day, the windows meeting', [visit(50)], [visit(65)], ['moved day-50 day-65']],
    [
      'another day, the windows apart by a day',
      [visit(50)],
      [visit(66)],
      ['dropped day-50 -', 'added - day-66'],
    ],
    ['the same earlier, the windows meeting', [visit(65)], [visit(50)], ['moved day-65 day-50']],
    [
      'another day and another kind',
      [visit(50)],
      [visit(55, { kind: 'safety-call' })],
      ['dropped day-50 -', 'added - day-55'],
    ],
    [
      'two in place of one: one moves, one is added',
      [visit(50)],
      [visit(48), visit(53)],
      ['moved day-50 day-48', 'added - day-53'],
    ],
    [
      'one in place of two: one moves, one is dropped',
      [visit(48), visit(53)],
      [visit(50)],
      ['moved day-48 day-50', 'dropped day-53 -'],
    ],
    ['a wider window', [visit(50)], [visit(50, { windowAfterDays: 11 })], ['window day-50 day-50']],
    ['other evidence', [visit(50)], [visit(50, { evidence: '7d' })], ['evidence day-50 day-50']],
    ['another kind', [visit(50)], [visit(50, { kind: 'safety-call' })], ['kind day-50 day-50']],
    [
      'window and evidence at once',
      [visit(50)],
      [visit(50, { evidence: '7d', windowBeforeDays: 1 })],
      ['window day-50 day-50', 'evidence day-50 day-50'],
    ],
  ])('%s', (_what, before, after, expected) => {
    expect(said(before, after)).toEqual(expected);
  });
});

const followed = (change: Partial<FollowedCase> = {}): FollowedCase => ({
  procedureId: 'procedure-1',
  caseCode: 'P-2345-F/1',
  performedOn: PERFORMED,
  plan: [],
  visits: [],
  recordings: [],
  diedOn: null,
  consentWithdrawnOn: null,
  transferredOn: null,
  nextPerformedOn: null,
  ...change,
});
const forAll = (
  versionNumber: number,
  effectiveOn: FollowUpSchedule['effectiveOn'],
  ...slots: ScheduleSlot[]
) => ({
  strategy: null,
  versionNumber,
  effectiveOn,
  slots,
});

describe('what moves in a lab', () => {
  const before = [forAll(1, null, visit(50), visit(100))];
  const after = [...before, forAll(2, at(60), visit(50), visit(120))];
  const moves = (change: Partial<FollowedCase> = {}, strategy: string | null = null) =>
    scheduleMoves([{ strategy, followed: followed(change) }], before, after, at(55)).map(
      (move) => `${move.change} ${move.before?.dueOn ?? '-'} ${move.after?.dueOn ?? '-'}`,
    );

  it('is what is still to come, with its days', () => {
    expect(moves()).toEqual([`dropped ${at(100)} -`, `added - ${at(120)}`]);
  });

  it('leaves out contacts that took place', () => {
    expect(moves({ visits: [{ id: 'v', slot: 'day-100' }] })).toEqual([`added - ${at(120)}`]);
  });

  it('leaves out cases whose plan has ended', () => {
    for (const field of ['diedOn', 'consentWithdrawnOn', 'transferredOn', 'nextPerformedOn'] as const) {
      expect(moves({ [field]: at(55) })).toEqual([]);
      expect(moves({ [field]: at(56) })).toHaveLength(2);
    }
  });

  it('leaves out what lies open already', () => {
    expect(moves({ performedOn: at(-40) })).toEqual([`added - ${at(80)}`]);
  });

  it('concerns a strategy only where its schedule changes', () => {
    const own: FollowUpSchedule = {
      strategy: 'ostial',
      versionNumber: 1,
      effectiveOn: at(60),
      slots: [visit(120)],
    };
    const cases: StrategyCase[] = ['ostial', 'mixed', null].map((strategy) => ({
      strategy,
      followed: followed(),
    }));
    const found = scheduleMoves(cases, before, [...before, own], at(55));
    expect(found).toHaveLength(2);
  });

  it('counts the cases of each change, and finds them again by its key', () => {
    const cases: StrategyCase[] = ['a', 'b', 'c'].map((caseCode, index) => ({
      strategy: null,
      followed: followed({ caseCode, procedureId: caseCode, performedOn: at(-index * 20) }),
    }));
    const found = scheduleMoves(cases, before, after, at(55));
    const counts = countMoves(found);
    expect(
      counts.map(({ change, before: was, after: will, cases: n }) => [change, was?.code, will?.code, n]),
    ).toEqual([
      ['added', undefined, 'day-120', 3],
      ['dropped', 'day-100', undefined, 2],
    ]);
    for (const count of counts)
      expect(found.filter((move) => lineOfMove(move) === keyOfMove(count))).toHaveLength(count.cases);
  });
});

const anySlots = fc
  .uniqueArray(
    fc.record({
      amount: fc.integer({ min: 1, max: 40 }),
      kind: fc.constantFrom('visit' as const, 'safety-call' as const),
      windowBeforeDays: fc.nat(10),
      windowAfterDays: fc.nat(10),
      evidence: fc.constantFrom('ecg' as const, '7d' as const),
    }),
    { selector: ({ amount }) => amount, minLength: 1, maxLength: 6 },
  )
  .map((slots) =>
    slots
      .sort((a, b) => a.amount - b.amount)
      .map(({ amount, ...rest }) =>
        visit(amount, { ...rest, due: { unit: 'days', amount }, code: `day-${amount}` }),
      ),
  );

describe('any change of any schedule', () => {
  it('leads from one plan to the other: taking the moves of the old plan gives the new one', () => {
    fc.assert(
      fc.property(anySlots, anySlots, (before, after) => {
        const [old, next] = [plan(...before), plan(...after)];
        const result = new Map(old.map((planned) => [planned.slot.code, planned]));
        for (const move of movesOfPlan(old, next)) {
          if (move.before) result.delete(move.before.slot.code);
        }
        for (const move of movesOfPlan(old, next)) {
          if (move.after) result.set(move.after.slot.code, move.after);
        }
        const byCode = (a: { slot: ScheduleSlot }, b: { slot: ScheduleSlot }) =>
          a.slot.code < b.slot.code ? -1 : 1;
        const strip = ({ slot: { label: _label, ...slot }, ...days }: (typeof next)[number]) => ({
          ...days,
          slot,
        });
        expect([...result.values()].sort(byCode).map(strip)).toEqual([...next].sort(byCode).map(strip));
      }),
    );
  });

  it('moves nothing that was open before its day', () => {
    fc.assert(
      fc.property(anySlots, anySlots, fc.integer({ min: -10, max: 60 }), (first, second, turn) => {
        const before = [forAll(1, null, ...first)];
        const after = [...before, forAll(2, at(turn), ...second)];
        for (const move of scheduleMoves(
          [{ strategy: null, followed: followed() }],
          before,
          after,
          at(-20),
        )) {
          for (const planned of [move.before, move.after]) {
            if (planned) expect(planned.opensOn >= at(turn)).toBe(true);
          }
        }
      }),
    );
  });
});
