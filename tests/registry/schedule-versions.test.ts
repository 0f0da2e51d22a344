import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, calendarDay, daysBetween } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, planOf, type ScheduleSlot } from '@/lib/registry/follow-up-schedule';
import { type FollowUpSchedule, planUnderVersions, versionsFor } from '@/lib/registry/schedule-versions';

const PERFORMED = calendarDay('2024-01-10');
const at = (days: number) => addDays(PERFORMED, days);
const slot = (amount: number, change: Partial<ScheduleSlot> = {}): ScheduleSlot => ({
  code: `day-${amount}`,
  label: `Day ${amount}`,
  kind: 'visit',
  due: { unit: 'days', amount },
  windowBeforeDays: 5,
  windowAfterDays: 10,
  evidence: 'ecg',
  ...change,
});

describe('the versions that hold for a strategy', () => {
  const version = (
    strategy: string | null,
    versionNumber: number,
    effective: number | null,
    days = [versionNumber],
  ): FollowUpSchedule => ({
    strategy,
    versionNumber,
    effectiveOn: effective === null ? null : at(effective),
    slots: days.map((day) => slot(day)),
  });
  const turnsOf = (strategy: string | null, schedules: readonly FollowUpSchedule[]) =>
    versionsFor(strategy, schedules).map(({ effectiveOn, slots }) => [
      effectiveOn === null ? null : daysBetween(PERFORMED, effectiveOn),
      slots === DEFAULT_SLOTS ? 'default' : slots.map(({ code }) => code).join(),
    ]);

  it.each<[string, string | null, readonly FollowUpSchedule[], (string | number | null)[][]]>([
    ['nothing stored: the default', null, [], [[null, 'default']]],
    ['nothing stored, for a strategy: the default', 'ostial', [], [[null, 'default']]],
    ['one for all', 'ostial', [version(null, 1, null)], [[null, 'day-1']]],
    [
      'a second one for all, in whatever order they are stored',
      null,
      [version(null, 2, 40), version(null, 1, null)],
      [
        [null, 'day-1'],
        [40, 'day-2'],
      ],
    ],
    [
      'two on one day: the later one alone',
      null,
      [version(null, 1, null), version(null, 2, 40), version(null, 3, 40)],
      [
        [null, 'day-1'],
        [40, 'day-3'],
      ],
    ],
    [
      'its own from its day on, whatever changes for all after it',
      'ostial',
      [version(null, 1, null), version('ostial', 1, 30, [11]), version(null, 2, 40)],
      [
        [null, 'day-1'],
        [30, 'day-11'],
      ],
    ],
    [
      'another strategy does not hear of it',
      'mixed',
      [version(null, 1, null), version('ostial', 1, 30, [11])],
      [[null, 'day-1']],
    ],
    [
      'no strategy recorded: what holds for all',
      null,
      [version(null, 1, null), version('ostial', 1, 30, [11])],
      [[null, 'day-1']],
    ],
    [
      'its own given up: what holds for all by then',
      'ostial',
      [
        version(null, 1, null),
        version('ostial', 1, 30, [11]),
        version(null, 2, 40),
        version('ostial', 2, 50, []),
      ],
      [
        [null, 'day-1'],
        [30, 'day-11'],
        [50, 'day-2'],
      ],
    ],
    [
      'its own given up on the day on which it began: as if there had been none',
      'ostial',
      [version(null, 1, null), version('ostial', 1, 30, [11]), version('ostial', 2, 30, [])],
      [[null, 'day-1']],
    ],
    [
      'only for a strategy: the default before it',
      'ostial',
      [version('ostial', 1, 30, [11])],
      [
        [null, 'default'],
        [30, 'day-11'],
      ],
    ],
  ])('%s', (_what, strategy, schedules, expected) => {
    expect(turnsOf(strategy, schedules)).toEqual(expected);
  });
});

describe('a plan under two versions', () => {
  const windowsOf = (before: ScheduleSlot[], effective: number, after: ScheduleSlot[]) =>
    planUnderVersions(PERFORMED, [
      { effectiveOn: null, slots: before },
      { effectiveOn: at(effective), slots: after },
    ]).map((planned) => [
      planned.slot.code,
      daysBetween(PERFORMED, planned.opensOn),
      daysBetween(PERFORMED, planned.closesOn),
    ]);
  const wide = (amount: number) => slot(amount, { windowBeforeDays: 20, windowAfterDays: 30 });

  // A slot of day 100 opens on day 95 and closes on day 110; a wide one opens on day 80 and closes on day 130.
  it.each<[string, ScheduleSlot[], number, ScheduleSlot[], (string | number)[][]]>([
    ['opened the day before: stays as it was', [slot(100)], 96, [wide(100)], [['day-100', 95, 110]]],
    [
      'to open on the day itself: follows the new one, and opens that day',
      [slot(100)],
      95,
      [wide(100)],
      [['day-100', 95, 130]],
    ],
    [
      'would be open already in the new one: opens on its day',
      [slot(100)],
      90,
      [wide(100)],
      [['day-100', 90, 130]],
    ],
    ['opens later in the new one', [slot(100)], 70, [wide(100)], [['day-100', 80, 130]]],
    [
      'open in the old one, not yet in the new one: stays, once',
      [wide(100)],
      90,
      [slot(100)],
      [['day-100', 80, 130]],
    ],
    ['narrower, not yet open in either', [wide(100)], 80, [slot(100)], [['day-100', 95, 110]]],
    ['dropped before it opens: gone', [slot(50), slot(100)], 60, [slot(50)], [['day-50', 45, 60]]],
    [
      'dropped while it is open: stays',
      [slot(50), slot(100)],
      100,
      [slot(50)],
      [
        ['day-50', 45, 60],
        ['day-100', 95, 110],
      ],
    ],
    [
      'added, its window still to open',
      [slot(50)],
      60,
      [slot(50), slot(70)],
      [
        ['day-50', 45, 60],
        ['day-70', 65, 80],
      ],
    ],
    [
      'added, opening on the day itself',
      [slot(50)],
      65,
      [slot(50), slot(70)],
      [
        ['day-50', 45, 60],
        ['day-70', 65, 80],
      ],
    ],
    [
      'added while its window would be open already: not begun',
      [slot(50)],
      66,
      [slot(50), slot(70)],
      [['day-50', 45, 60]],
    ],
    ['all replaced long before the procedure', [slot(50)], -300, [slot(70)], [['day-70', 65, 80]]],
    ['replaced on the day of the procedure', [slot(50)], 0, [slot(70)], [['day-70', 65, 80]]],
    ['replaced long after all is over', [slot(50)], 900, [slot(70)], [['day-50', 45, 60]]],
  ])('%s', (_what, before, effective, after, expected) => {
    expect(windowsOf(before, effective, after)).toEqual(expected);
  });

  it('keeps the evidence of the version that opened the slot, and takes that of the new one for what is to come', () => {
    const asks = (evidence: ScheduleSlot['evidence']) => [slot(50, { evidence }), slot(100, { evidence })];
    const plan = planUnderVersions(PERFORMED, [
      { effectiveOn: null, slots: asks('ecg') },
      { effectiveOn: at(60), slots: asks('7d') },
    ]);
    expect(plan.map((planned) => planned.slot.evidence)).toEqual(['ecg', '7d']);
  });

  it('goes through three versions one after the other', () => {
    const plan = planUnderVersions(PERFORMED, [
      { effectiveOn: null, slots: [slot(50), slot(100), slot(200)] },
      { effectiveOn: at(60), slots: [slot(120), slot(200)] },
      { effectiveOn: at(150), slots: [slot(100), slot(180)] },
    ]);
    expect(plan.map((planned) => planned.slot.code)).toEqual(['day-50', 'day-120', 'day-180']);
  });
});

const anySlots = fc
  .uniqueArray(
    fc.record({
      amount: fc.integer({ min: 1, max: 300 }),
      windowBeforeDays: fc.integer({ min: 0, max: 60 }),
      windowAfterDays: fc.integer({ min: 0, max: 60 }),
    }),
    { selector: ({ amount }) => amount, minLength: 1, maxLength: 8 },
  )
  .map((slots) =>
    slots.sort((a, b) => a.amount - b.amount).map(({ amount, ...windows }) => slot(amount, windows)),
  );
const anyTurns = fc.uniqueArray(fc.integer({ min: -50, max: 400 }), { maxLength: 4 });
const anyVersions = fc
  .tuple(
    anySlots,
    anyTurns.chain((turns) =>
      fc.tuple(...turns.sort((a, b) => a - b).map((turn) => fc.tuple(fc.constant(turn), anySlots))),
    ),
  )
  .map(([first, later]) => [
    { effectiveOn: null, slots: first },
    ...later.map(([turn, slots]) => ({ effectiveOn: at(turn), slots })),
  ]);

describe('a plan under any versions', () => {
  it('holds each code once, in order, each window open on its due day', () => {
    fc.assert(
      fc.property(anyVersions, (versions) => {
        const plan = planUnderVersions(PERFORMED, versions);
        expect(new Set(plan.map(({ slot: { code } }) => code)).size).toBe(plan.length);
        expect(plan.map(({ dueOn }) => dueOn)).toEqual(plan.map(({ dueOn }) => dueOn).sort());
        for (const { opensOn, dueOn, closesOn } of plan)
          expect(opensOn >= PERFORMED && opensOn <= dueOn && dueOn <= closesOn).toBe(true);
      }),
    );
  });

  it('never touches what was open when the last version took over', () => {
    fc.assert(
      fc.property(anyVersions, (versions) => {
        const last = versions.at(-1)?.effectiveOn ?? null;
        fc.pre(last !== null);
        const opened = (plan: ReturnType<typeof planOf>) =>
          plan.filter(({ opensOn }) => last !== null && opensOn < last);
        expect(opened(planUnderVersions(PERFORMED, versions))).toEqual(
          opened(planUnderVersions(PERFORMED, versions.slice(0, -1))),
        );
      }),
    );
  });

  it('drops nothing that every version asks for', () => {
    fc.assert(
      fc.property(anyVersions, (versions) => {
        const planned = new Set(planUnderVersions(PERFORMED, versions).map(({ slot: { code } }) => code));
        const always = versions[0]?.slots.filter(({ code }) =>
          versions.every(({ slots }) => slots.some((other) => other.code === code)),
        );
        for (const { code } of always ?? []) expect(planned).toContain(code);
      }),
    );
  });

  it('changes nothing when a version is stored again as it is', () => {
    fc.assert(
      fc.property(anySlots, fc.integer({ min: -50, max: 400 }), (slots, turn) => {
        const again = [
          { effectiveOn: null, slots },
          { effectiveOn: at(turn), slots: [...slots] },
        ];
        expect(planUnderVersions(PERFORMED, again)).toEqual(planOf(PERFORMED, slots));
      }),
    );
  });
});
