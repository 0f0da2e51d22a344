import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/records/actor';
import { addDays, type CalendarDay, calendarDay } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, type ScheduleSlot } from '@/lib/registry/follow-up-schedule';
import { entriesOfSlots, scheduleSaveSchema } from '@/lib/registry/forms/schedule-form';
import { countMoves, scheduleMoves } from '@/lib/registry/schedule-moves';
import { slotStatesOf } from '@/lib/registry/worklist';
import { key, typedPatient, typedProcedure } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let director: Actor;
beforeAll(async () => {
  lab = await openLab();
  director = await lab.person('director');
});
afterAll(() => lab.close());

const TODAY = calendarDay('2026-12-01');
const typed = (scope: string, follows: number, effectiveOn: CalendarDay, slots: readonly ScheduleSlot[]) =>
  scheduleSaveSchema.parse({
    scope,
    follows,
    effectiveOn,
    course: slots.length === 0 ? 'as-for-all' : 'own',
    slots: entriesOfSlots(slots),
  });
const without = (...codes: string[]) => DEFAULT_SLOTS.filter(({ code }) => !codes.includes(code));
const write = async (actor: Actor, form: ReturnType<typeof typed>, request = key()) => {
  const { recordSchedule } = await import('@/lib/records/schedules/write');
  return recordSchedule(actor, form, TODAY, request);
};
const stored = async () => {
  const { readStoredSchedules } = await import('@/lib/records/schedules/read');
  return readStoredSchedules(director);
};
const records = async () => {
  const { readFollowedRecords } = await import('@/lib/records/cases/followed');
  return readFollowedRecords(director);
};

describe('a new version of a schedule', () => {
  it('is stored beside the others, with who made it and an entry in the trail', async () => {
    const { id } = await write(director, typed('all', 1, addDays(TODAY, 9), without('month-18')));
    const versions = await stored();
    expect(versions[0]).toMatchObject({ strategy: null, versionNumber: 1, effectiveOn: null, madeBy: null });
    expect(versions[1]).toMatchObject({
      id,
      strategy: null,
      versionNumber: 2,
      effectiveOn: '2026-12-10',
      madeBy: director.code,
      slots: without('month-18'),
    });
    const { database } = await import('@/lib/records/database');
    const entry = await database().auditEntry.findFirstOrThrow({ orderBy: { seq: 'desc' } });
    expect(entry).toMatchObject({ action: 'schedule.record', entity: 'follow_up_schedules', entityId: id });
    expect(Buffer.from(entry.payload).toString()).toContain('"versionNumber":2');
  });

  it('sent twice is stored once', async () => {
    const form = typed('ostial', 0, TODAY, without('month-18'));
    const request = key();
    const first = await write(director, form, request);
    expect(await write(director, form, request)).toEqual(first);
    expect((await stored()).filter(({ strategy }) => strategy === 'ostial')).toHaveLength(1);
  });

  it('made by two people at once is stored by one; the other is told and keeps the draft', async () => {
    const { keepDraft } = await import('@/lib/records/drafts/write');
    const { readDraft } = await import('@/lib/records/drafts/read');
    const administrator = await lab.person('administrator');
    const draft = { form: 'schedule', subject: lab.labId } as const;
    expect(await keepDraft(administrator, { ...draft, values: { scope: 'mixed' } })).not.toBeNull();
    const outcomes = await Promise.allSettled([
      write(director, typed('mixed', 0, TODAY, without('month-18'))),
      write(administrator, typed('mixed', 0, TODAY, without('month-6'))),
    ]);
    expect(outcomes.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    const refused = outcomes.find((outcome) => outcome.status === 'rejected');
    expect(refused).toMatchObject({ reason: { kind: 'conflict', message: /^Version 1 was made meanwhile/ } });
    expect((await stored()).filter(({ strategy }) => strategy === 'mixed')).toHaveLength(1);
    expect(await readDraft(administrator, 'schedule', lab.labId)).toMatchObject({
      values: { scope: 'mixed' },
    });
  });

  it('is refused when it reaches back, whoever sends it', async () => {
    await expect(
      write(director, typed('single-shot', 0, addDays(TODAY, -1), without())),
    ).rejects.toMatchObject({
      kind: 'invalid',
      fields: [{ field: 'effectiveOn' }],
    });
    await expect(write(director, typed('ostial', 1, TODAY, without('month-18')))).rejects.toMatchObject({
      kind: 'invalid',
      fields: [{ field: 'slots' }],
    });
  });

  it('of another lab is not read', async () => {
    const { createLab } = await import('@/lib/records/labs/write');
    const { actorOfProgram } = await import('@/lib/records/actor-of-program');
    const { readSchedules } = await import('@/lib/records/schedules/read');
    const stranger = await actorOfProgram('test', await createLab('Another lab'));
    expect(await readSchedules(stranger)).toEqual([]);
  });

  it('a draft of it is kept for the lab of the person, and for nothing else', async () => {
    const { keepDraft } = await import('@/lib/records/drafts/write');
    expect(await keepDraft(director, { form: 'schedule', subject: randomUUID(), values: {} })).toBeNull();
  });
});

describe('what a version moves', () => {
  it('is foretold before it is saved: the plans after it differ by exactly that', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    for (const daysAgo of [2, 40, 100, 170, 400, 530, 800]) {
      const { id } = await createPatient(lab.program, typedPatient(), key());
      const form = {
        ...typedProcedure(addDays(TODAY, -daysAgo)),
        intendedStrategy: 'wide-with-lines' as const,
      };
      await recordProcedure(lab.program, id, form, key());
    }
    const schedules = await stored();
    const wider = without('month-12').map((slot) =>
      slot.code === 'month-6' ? { ...slot, windowAfterDays: 60 } : slot,
    );
    const effectiveOn = addDays(TODAY, 10);
    const before = await records();
    const version = { strategy: 'wide-with-lines', versionNumber: 1, effectiveOn, slots: wider };
    const foretold = scheduleMoves(before, schedules, [...schedules, version], TODAY);
    expect(countMoves(foretold).length).toBeGreaterThan(1);

    await write(director, typed('wide-with-lines', 0, effectiveOn, wider));
    const after = await records();
    const windowsOf = (cases: typeof after) =>
      cases
        .flatMap(({ followed }) =>
          slotStatesOf(followed, TODAY).map(({ procedureId, slot, opensOn, closesOn }) =>
            [procedureId, slot.code, opensOn, closesOn].join(' '),
          ),
        )
        .sort();
    const expected = new Set(windowsOf(before));
    for (const { procedureId, before: was } of foretold)
      if (was) expected.delete([procedureId, was.slot.code, was.opensOn, was.closesOn].join(' '));
    for (const { procedureId, after: will } of foretold)
      if (will) expected.add([procedureId, will.slot.code, will.opensOn, will.closesOn].join(' '));
    expect(windowsOf(after)).toEqual([...expected].sort());
    expect(windowsOf(after)).not.toEqual(windowsOf(before));
    expect(scheduleMoves(after, schedules, await stored(), TODAY)).toEqual(foretold);
  });

  it('a strategy that gives up its own follows the schedule for all again', async () => {
    await write(director, typed('wide-with-lines', 1, addDays(TODAY, 20), []));
    const versions = await stored();
    expect(versions.at(-1)).toMatchObject({ strategy: 'wide-with-lines', versionNumber: 2, slots: [] });
    const { planUnderVersions, versionsFor } = await import('@/lib/registry/schedule-versions');
    const late = addDays(TODAY, 30);
    expect(planUnderVersions(late, versionsFor('wide-with-lines', versions))).toEqual(
      planUnderVersions(late, versionsFor(null, versions)),
    );
  });
});
