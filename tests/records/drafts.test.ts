import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { key, typedComplication, typedPatient, typedProcedure, typedReadmission } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;

beforeAll(async () => {
  lab = await openLab();
});
afterAll(() => lab.close());

describe('a draft', () => {
  it('is kept for one person, form and subject, the last values in place of those before', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { dropDraft, keepDraft } = await import('@/lib/records/drafts/write');
    const { readDraft } = await import('@/lib/records/drafts/read');
    const [physician, director] = [await lab.person('physician'), await lab.person('director')];
    const { id: subject } = await createPatient(physician, typedPatient(), key());
    const place = { form: 'procedure-new', subject } as const;
    await keepDraft(physician, { ...place, values: { ageYears: '6' } });
    const at = await keepDraft(physician, { ...place, values: { ageYears: '63', baseline: { drugs: [] } } });
    expect(await readDraft(physician, 'procedure-new', subject)).toEqual({
      values: { ageYears: '63', baseline: { drugs: [] } },
      at: at?.toISOString(),
    });
    expect(await readDraft(director, 'procedure-new', subject)).toBeNull();
    expect(await readDraft(physician, 'procedure', subject)).toBeNull();
    await dropDraft(director, place);
    expect(await readDraft(physician, 'procedure-new', subject)).not.toBeNull();
    await dropDraft(physician, place);
    await dropDraft(physician, place);
    expect(await readDraft(physician, 'procedure-new', subject)).toBeNull();
  });

  it('of a complication or a readmission goes with their patient', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { reportComplication } = await import('@/lib/records/complications/write');
    const { recordReadmission } = await import('@/lib/records/readmissions/write');
    const { keepDraft } = await import('@/lib/records/drafts/write');
    const physician = await lab.person('physician');
    const { id: patientId } = await createPatient(physician, typedPatient(), key());
    const procedure = await recordProcedure(physician, patientId, typedProcedure('2024-03-01'), key());
    const place = { patientId, procedureId: procedure.id, performedOn: '2024-03-01' };
    const tia = typedComplication('tia', '2024-03-02');
    const complication = await reportComplication(physician, place, tia, key());
    const readmission = await recordReadmission(physician, place, typedReadmission('2024-03-20'), key());
    const drafts = [
      ['complication-new', procedure.id],
      ['readmission-new', procedure.id],
      ['complication', complication.id],
      ['adjudication', complication.id],
      ['readmission', readmission.id],
    ] as const;
    for (const [form, subject] of drafts) {
      expect(await keepDraft(physician, { form, subject, values: {} })).not.toBeNull();
    }
    const owner = new pg.Client({ connectionString: lab.database.ownerUrl });
    await owner.connect();
    const { rows } = await owner.query('SELECT count(*)::int AS n FROM drafts WHERE patient_id = $1', [
      patientId,
    ]);
    await owner.end();
    expect(rows[0].n).toBe(drafts.length);
  });

  it('about something that the lab does not have is not kept', async () => {
    const { keepDraft } = await import('@/lib/records/drafts/write');
    const physician = await lab.person('physician');
    const harm = [
      'complication-new',
      'complication',
      'adjudication',
      'readmission-new',
      'readmission',
    ] as const;
    for (const form of [...harm, 'procedure-new', 'procedure', 'visit-new', 'visit'] as const) {
      expect(await keepDraft(physician, { form, subject: randomUUID(), values: {} })).toBeNull();
    }
  });
});
