import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/records/actor';
import { calendarDay } from '@/lib/registry/calendar-day';
import { SAME_PERSON } from '@/lib/registry/forms/adjudication-form';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import { key, typedComplication, typedPatient, typedProcedure, typedVerdict } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let owner: pg.Client;
let app: pg.Client;
let coordinator: Actor;
let physician: Actor;

beforeAll(async () => {
  lab = await openLab();
  [owner, app] = [lab.database.ownerUrl, lab.database.appUrl].map(
    (connectionString) => new pg.Client({ connectionString }),
  );
  await Promise.all([owner.connect(), app.connect()]);
  coordinator = await lab.person('coordinator');
  physician = await lab.person('physician');
});
afterAll(async () => {
  await Promise.all([owner.end(), app.end()]);
  await lab.close();
});

async function newCase(performedOn = '2024-03-01') {
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  const patient = await createPatient(lab.program, typedPatient(), key());
  const procedure = await recordProcedure(lab.program, patient.id, typedProcedure(performedOn), key());
  return { patientId: patient.id, procedureId: procedure.id, performedOn };
}

const HAEMATOMA = {
  type: 'haematoma',
  onsetOn: calendarDay('2024-03-02'),
  harms: [],
  severity: 'minor',
} as const;

async function newHaematoma(reporter: Actor = coordinator) {
  const { reportComplication } = await import('@/lib/records/complications/write');
  const place = await newCase();
  const { id } = await reportComplication(
    reporter,
    place,
    typedComplication('haematoma', '2024-03-02'),
    key(),
  );
  return { ...place, id };
}

const read = async (id: string) => {
  const { readComplication } = await import('@/lib/records/complications/read');
  return readComplication(physician, id);
};
const write = () => import('@/lib/records/complications/write');

describe('a report', () => {
  it('stores why an unusual value stays, apart from those of other forms, and lets it go with the value', async () => {
    const { amendComplication, reportComplication } = await write();
    const { keptPrefix, readKeptValues } = await import('@/lib/records/kept-values/read');
    const place = await newCase();
    const form = typedComplication('haematoma', '2024-05-20');
    const kept = [{ field: 'onsetOn', value: '2024-05-20', reason: 'source-checked' }];
    const { id, version } = await reportComplication(coordinator, place, form, key(), kept);
    const reasons = () => readKeptValues(physician, place.procedureId, keptPrefix.complication(id));
    expect(await reasons()).toEqual([{ field: 'onsetOn', reason: 'source-checked' }]);
    expect(await readKeptValues(physician, place.procedureId, keptPrefix.verdict(id))).toEqual([]);
    const usual = {
      ...typedComplication('haematoma', '2024-03-02'),
      version,
      reason: 'typing-error' as const,
    };
    await amendComplication(coordinator, { id, patientId: place.patientId }, usual, key(), []);
    expect(await reasons()).toEqual([]);
  });

  it('stores what was typed, the severity of the rule, and who reported it, with its entry in the trail', async () => {
    const { reportComplication } = await write();
    const place = await newCase();
    const form = typedComplication('haematoma', '2024-03-02', {
      harms: harmTicks(['transfusion', 'readmission']),
      treatment: 'transfusion',
    });
    const { id } = await reportComplication(coordinator, place, form, key());
    expect(await read(id)).toMatchObject({
      reported: { type: 'haematoma', harms: ['readmission', 'transfusion'], severity: 'major' },
      reportedBy: coordinator.code,
      treatment: 'transfusion',
      adjudication: null,
      isVoided: false,
    });
    const { readHistory } = await import('@/lib/records/cases/history');
    const [entry] = await readHistory(physician, place.patientId);
    expect(entry).toMatchObject({
      who: `${coordinator.code}, coordinator`,
      action: 'complication.report',
      entity: 'complications',
    });
    expect(entry?.changes).toContainEqual({
      field: 'reportedById',
      from: '',
      to: `${coordinator.code}, coordinator`,
    });
  });

  it('keeps a severity that a person decided', async () => {
    const { reportComplication } = await write();
    const form = typedComplication('haematoma', '2024-03-02', { severity: 'major' });
    const { id } = await reportComplication(coordinator, await newCase(), form, key());
    expect((await read(id))?.reported).toMatchObject({ severity: 'major', harms: [] });
  });

  it('sent twice is stored once', async () => {
    const { reportComplication } = await write();
    const place = await newCase();
    const [form, twice] = [typedComplication('tia', '2024-03-02'), key()];
    const first = await reportComplication(coordinator, place, form, twice);
    expect(await reportComplication(coordinator, place, form, twice)).toEqual(first);
    const { readComplications } = await import('@/lib/records/complications/read');
    expect(await readComplications(physician, place.procedureId)).toHaveLength(1);
  });

  it('of another lab is not found', async () => {
    const { createLab } = await import('@/lib/records/labs/write');
    const { actorOfProgram } = await import('@/lib/records/actor-of-program');
    const { readComplication } = await import('@/lib/records/complications/read');
    const stranger = await actorOfProgram('test', await createLab('Another lab'));
    const { id, patientId } = await newHaematoma();
    expect(await readComplication(stranger, id)).toBeNull();
    const { voidComplication } = await write();
    await expect(
      voidComplication(stranger, { id, patientId }, { version: 1, reason: 'not-meant' }, key()),
    ).rejects.toMatchObject({ kind: 'not-found' });
  });

  it('changed in a stale version answers what is stored, by path', async () => {
    const { amendComplication } = await write();
    const one = await newHaematoma();
    const amend = (harm: 'transfusion' | 'intervention') =>
      amendComplication(
        coordinator,
        one,
        {
          ...typedComplication('haematoma', '2024-03-02', { harms: harmTicks([harm]) }),
          version: 1,
          reason: 'late-information',
        },
        key(),
      );
    await amend('transfusion');
    await expect(amend('intervention')).rejects.toMatchObject({
      storedVersion: 2,
      stored: {
        type: 'haematoma',
        'harms.transfusion': true,
        'harms.intervention': false,
        severity: 'by-rule',
      },
    });
  });
});

describe('an adjudication', () => {
  it('stands beside the report, which stays', async () => {
    const { adjudicateComplication } = await write();
    const one = await newHaematoma();
    const verdict = typedVerdict(HAEMATOMA, {
      verdict: 'reclassified',
      type: 'pseudo-aneurysm',
      harms: harmTicks(['intervention']),
    });
    await adjudicateComplication(physician, one, verdict, key());
    expect(await read(one.id)).toMatchObject({
      version: 2,
      reported: HAEMATOMA,
      reportedBy: coordinator.code,
      adjudication: {
        verdict: 'reclassified',
        facts: { type: 'pseudo-aneurysm', harms: ['intervention'], severity: 'major' },
      },
      adjudicatedBy: physician.code,
    });
  });

  it('is taken back when an earlier state of the case is opened', async () => {
    const { adjudicateComplication } = await write();
    const { readHistory } = await import('@/lib/records/cases/history');
    const { readCaseAt } = await import('@/lib/records/cases/earlier');
    const one = await newHaematoma();
    await adjudicateComplication(physician, one, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key());
    const trail = (await readHistory(physician, one.patientId)).filter(
      ({ entity }) => entity === 'complications',
    );
    const verdicts = trail.map(async ({ seq }) => {
      const earlier = await readCaseAt(physician, one.procedureId, BigInt(seq));
      return earlier?.rows.find(({ entity }) => entity === 'complications')?.row.adjudicatedVerdict;
    });
    expect(await Promise.all(verdicts)).toEqual(['confirmed', null]);
  });

  it('that confirms copies the report; one that refutes has no facts; both can be changed with a reason', async () => {
    const { adjudicateComplication } = await write();
    const one = await newHaematoma();
    await adjudicateComplication(physician, one, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key());
    expect((await read(one.id))?.adjudication).toEqual({ verdict: 'confirmed', facts: HAEMATOMA });
    const changed = { verdict: 'refuted', version: 2, reason: 'source-corrected' };
    await adjudicateComplication(physician, one, typedVerdict(HAEMATOMA, changed), key());
    expect((await read(one.id))?.adjudication).toEqual({ verdict: 'refuted' });
  });

  it('by the person who reported it is refused in words, and by the database itself', async () => {
    const { adjudicateComplication } = await write();
    const one = await newHaematoma(physician);
    await expect(
      adjudicateComplication(physician, one, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key()),
    ).rejects.toMatchObject({ kind: 'invalid', fields: [{ field: 'verdict', message: SAME_PERSON }] });
    await expect(
      app.query(
        `UPDATE complications SET adjudicated_by_id = reported_by_id, adjudicated_at = now(), adjudicated_verdict = 'refuted' WHERE id = $1`,
        [one.id],
      ),
    ).rejects.toMatchObject({ code: '23514', constraint: 'complications_two_people' });
    expect((await read(one.id))?.adjudication).toBeNull();
  });

  it('is for somebody else once a person has changed what is judged', async () => {
    const { adjudicateComplication, amendComplication } = await write();
    const one = await newHaematoma();
    const form = {
      ...typedComplication('av-fistula', '2024-03-02'),
      version: 1,
      reason: 'typing-error',
    } as const;
    await amendComplication(physician, one, form, key());
    expect((await read(one.id))?.reportedBy).toBe(physician.code);
    const verdict = typedVerdict({ ...HAEMATOMA, type: 'av-fistula' }, { verdict: 'confirmed', version: 2 });
    await expect(adjudicateComplication(physician, one, verdict, key())).rejects.toMatchObject({
      fields: [{ message: SAME_PERSON }],
    });
    await adjudicateComplication(await lab.person('director'), one, verdict, key());
  });

  it('does not change hands by a change of the course', async () => {
    const { adjudicateComplication, amendComplication } = await write();
    const one = await newHaematoma();
    const course = typedComplication('haematoma', '2024-03-02', {
      outcome: 'recovered',
      resolvedOn: '2024-03-09',
    });
    await amendComplication(physician, one, { ...course, version: 1, reason: 'late-information' }, key());
    expect((await read(one.id))?.reportedBy).toBe(coordinator.code);
    await adjudicateComplication(
      physician,
      one,
      typedVerdict(HAEMATOMA, { verdict: 'confirmed', version: 2 }),
      key(),
    );
  });

  it('of a report that changed meanwhile is a conflict that names the new report', async () => {
    const { adjudicateComplication, amendComplication } = await write();
    const one = await newHaematoma();
    const form = {
      ...typedComplication('av-fistula', '2024-03-02'),
      version: 1,
      reason: 'typing-error',
    } as const;
    await amendComplication(coordinator, one, form, key());
    const judge = (version: number) =>
      adjudicateComplication(
        physician,
        one,
        typedVerdict(HAEMATOMA, { verdict: 'confirmed', version }),
        key(),
      );
    const conflict = { storedVersion: 2, stored: { verdict: '', seenReport: 'av-fistula 2024-03-02 minor' } };
    await expect(judge(1)).rejects.toMatchObject(conflict);
    // Also when the newest version is named while the older report was read.
    await expect(judge(2)).rejects.toMatchObject(conflict);
  });

  it('freezes what was reported; the course may still change', async () => {
    const { adjudicateComplication, amendComplication } = await write();
    const one = await newHaematoma();
    await adjudicateComplication(physician, one, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key());
    const other = { ...typedComplication('tia', '2024-03-02'), version: 2, reason: 'typing-error' } as const;
    await expect(amendComplication(coordinator, one, other, key())).rejects.toMatchObject({
      kind: 'invalid',
      fields: [{ field: 'type' }],
    });
    const course = typedComplication('haematoma', '2024-03-02', { outcome: 'recovered' });
    await amendComplication(coordinator, one, { ...course, version: 2, reason: 'late-information' }, key());
    expect(await read(one.id)).toMatchObject({
      outcome: 'recovered',
      adjudication: { verdict: 'confirmed' },
    });
  });

  it('by a program is refused', async () => {
    const { adjudicateComplication } = await write();
    const one = await newHaematoma();
    await expect(
      adjudicateComplication(lab.program, one, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key()),
    ).rejects.toMatchObject({ kind: 'invalid' });
  });
});

describe('a wrong entry', () => {
  it('becomes void with its reason, stays readable, and changes no more', async () => {
    const { amendComplication, voidComplication } = await write();
    const one = await newHaematoma();
    await voidComplication(coordinator, one, { version: 1, reason: 'wrong-patient' }, key());
    expect(await read(one.id)).toMatchObject({
      isVoided: true,
      voidedReason: 'wrong-patient',
      reported: HAEMATOMA,
    });
    const form = { ...typedComplication('tia', '2024-03-02'), version: 2, reason: 'typing-error' } as const;
    await expect(amendComplication(coordinator, one, form, key())).rejects.toMatchObject({ kind: 'invalid' });
  });

  it('cannot become void once adjudicated, nor when it changed meanwhile', async () => {
    const { adjudicateComplication, voidComplication } = await write();
    const one = await newHaematoma();
    await adjudicateComplication(physician, one, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key());
    for (const version of [1, 2]) {
      await expect(
        voidComplication(coordinator, one, { version, reason: 'not-meant' }, key()),
      ).rejects.toMatchObject({ kind: 'invalid', fields: [{ field: 'reason' }] });
    }
  });

  it('is never taken away: the app has no right to', async () => {
    await newHaematoma();
    await expect(app.query('DELETE FROM complications')).rejects.toMatchObject({ code: '42501' });
    await expect(app.query('DELETE FROM readmissions')).rejects.toMatchObject({ code: '42501' });
  });
});

describe('the database refuses', () => {
  it.each([
    ['a verdict without its day', `adjudicated_verdict = 'refuted'`],
    ['a confirmed verdict without facts', `adjudicated_verdict = 'confirmed', adjudicated_at = now()`],
    [
      'a refuted one with facts',
      `adjudicated_verdict = 'refuted', adjudicated_at = now(), adjudicated_type = 'tia'`,
    ],
    ['a void without a day', `voided_reason = 'not-meant'`],
    [
      'a void that was adjudicated',
      `voided_reason = 'not-meant', voided_at = now(), adjudicated_verdict = 'refuted', adjudicated_at = now()`,
    ],
  ])('%s', async (_what, change) => {
    const { id } = await newHaematoma();
    await expect(app.query(`UPDATE complications SET ${change} WHERE id = $1`, [id])).rejects.toMatchObject({
      code: '23514',
    });
  });
});

describe('the list of what needs someone', () => {
  it('holds what is to adjudicate and what has no end, with the code of the case', async () => {
    const { adjudicateComplication, amendComplication, voidComplication } = await write();
    const { readOpenComplications } = await import('@/lib/records/complications/read');
    const [waiting, judged, refuted, ended, voided] = await Promise.all(
      [1, 2, 3, 4, 5].map(() => newHaematoma()),
    );
    await adjudicateComplication(physician, judged, typedVerdict(HAEMATOMA, { verdict: 'confirmed' }), key());
    await adjudicateComplication(physician, refuted, typedVerdict(HAEMATOMA, { verdict: 'refuted' }), key());
    const course = typedComplication('haematoma', '2024-03-02', { resolvedOn: '2024-03-09' });
    await amendComplication(coordinator, ended, { ...course, version: 1, reason: 'late-information' }, key());
    await voidComplication(coordinator, voided, { version: 1, reason: 'not-meant' }, key());
    const { toAdjudicate, unresolved } = await readOpenComplications(physician);
    const mine = [waiting, judged, refuted, ended, voided].map(({ id }) => id);
    const ids = (list: readonly { id: string }[]) =>
      list.map(({ id }) => id).filter((id) => mine.includes(id));
    expect(ids(toAdjudicate).sort()).toEqual([waiting.id, ended.id].sort());
    expect(ids(unresolved).sort()).toEqual([waiting.id, judged.id].sort());
    expect(toAdjudicate.every(({ caseCode }) => /^P-\w+-\w\/1$/.test(caseCode))).toBe(true);
  });
});

it('a procedure does not move past a complication, nor a death before one', async () => {
  const { readProcedurePlace } = await import('@/lib/records/procedures/context');
  const { readPatientContext } = await import('@/lib/records/patients/context');
  const one = await newHaematoma();
  expect(
    (await readProcedurePlace(physician, one.patientId, one.procedureId))?.context.firstDependentOn,
  ).toBe('2024-03-02');
  expect((await readPatientContext(physician, one.patientId)).lastSeenOn).toBe('2024-03-02');
});
