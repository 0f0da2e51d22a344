import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { calendarDay } from '@/lib/registry/calendar-day';
import { emptyBaseline } from '@/lib/registry/forms/baseline-entries';
import { procedureAmendmentSchema } from '@/lib/registry/forms/procedure-form';
import { key, typedEcg, typedPatient, typedProcedure, typedVisit } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;

beforeAll(async () => {
  lab = await openLab();
});
afterAll(() => lab.close());

const newPatient = async () => {
  const { createPatient } = await import('@/lib/records/patients/write');
  return createPatient(lab.program, typedPatient(), key());
};

describe('the record of a case', () => {
  it('keeps the reason of an unusual value as long as the value is unusual, and audits both', async () => {
    const { recordProcedure, amendProcedure } = await import('@/lib/records/procedures/write');
    const { readCase } = await import('@/lib/records/cases/read');
    const { readHistory } = await import('@/lib/records/cases/history');
    const patient = await newPatient();
    const kept = [{ field: 'baseline.lvefPct', value: '12', reason: 'measured-again' }];
    const unusual = typedProcedure('2024-01-01', { baseline: { ...emptyBaseline, lvefPct: '12' } });
    const { id, version } = await recordProcedure(lab.program, patient.id, unusual, key(), kept);
    const head = await readCase(lab.program, id);
    expect(head?.keptValues).toEqual([{ field: 'baseline.lvefPct', reason: 'measured-again' }]);
    expect(head?.values.kept).toEqual(head?.keptValues);
    const usual = procedureAmendmentSchema.parse({
      ...head?.values,
      baseline: { ...head?.values.baseline, lvefPct: '52' },
      version,
      reason: 'typing-error',
    });
    await amendProcedure(lab.program, { id, patientId: patient.id }, usual, key());
    expect((await readCase(lab.program, id))?.keptValues).toEqual([]);
    const told = (await readHistory(lab.program, patient.id)).filter(
      ({ entity }) => entity === 'kept_values',
    );
    expect(told.map(({ changes }) => changes.find(({ field }) => field === 'reason'))).toEqual([
      { field: 'reason', from: 'measured-again', to: '' },
      { field: 'reason', from: '', to: 'measured-again' },
    ]);
  });

  it('stands among the drafts until it is entered, and among the entered until it is signed', async () => {
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { enterCase } = await import('@/lib/records/case-states/write');
    const { readCasesInState } = await import('@/lib/records/case-states/unfinished');
    const patient = await newPatient();
    const { id, version } = await recordProcedure(
      lab.program,
      patient.id,
      typedProcedure('2001-02-03'),
      key(),
    );
    const drafts = await readCasesInState(lab.program, 'draft', 0, 1);
    expect(drafts.rows).toEqual([
      { id, caseCode: `${patient.code}/1`, performedOn: '2001-02-03', operatorCode: null },
    ]);
    expect((await readCasesInState(lab.program, 'entered', 0, 50)).rows).toEqual([]);
    await enterCase(lab.program, { id, patientId: patient.id }, version, key());
    const after = await readCasesInState(lab.program, 'draft', 0, 50);
    expect(after.total).toBe(drafts.total - 1);
    expect((await readCasesInState(lab.program, 'entered', 0, 50)).rows.map((row) => row.id)).toEqual([id]);
  });

  it('derives the AF type from the longest episode where none was chosen', async () => {
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { readCase } = await import('@/lib/records/cases/read');
    const patient = await newPatient();
    const typed = (baseline: object) => ({ baseline: { ...emptyBaseline, ...baseline } });
    const derived = typedProcedure('2024-01-01', typed({ longestEpisodeDays: '40', episodeEnding: 'shock' }));
    const chosen = typedProcedure('2024-06-01', typed({ longestEpisodeDays: '40', afType: 'persistent' }));
    const open = typedProcedure('2024-09-01', typed({ longestEpisodeDays: '3', episodeEnding: 'ablation' }));
    const types: unknown[] = [];
    for (const form of [derived, chosen, open]) {
      const { id } = await recordProcedure(lab.program, patient.id, form, key());
      types.push((await readCase(lab.program, id))?.values.baseline.afType);
    }
    expect(types).toEqual(['early-persistent', 'persistent', '']);
  });

  it('gives the scores their facts as stored, and early recurrence only after blanking', async () => {
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { readScoreFacts } = await import('@/lib/records/cases/score-facts');
    const patient = await newPatient();
    const baseline = { ...emptyBaseline, afSinceYear: '2019', laAreaIndexCm2M2: '10.5', diabetes: 'yes' };
    const form = typedProcedure('2024-03-01', { baseline });
    const { id } = await recordProcedure(lab.program, patient.id, form, key());
    const { recordVisit } = await import('@/lib/records/visits/write');
    const place = { procedureId: id, patientId: patient.id, performedOn: calendarDay('2024-03-01') };
    const ecg = typedVisit('unscheduled', '2024-04-01', { recordings: [typedEcg('2024-04-01', 'af')] });
    await recordVisit(lab.program, place, ecg, key());
    const at = (day: string) => readScoreFacts(lab.program, id, calendarDay(day));
    expect(await at('2024-05-30')).toMatchObject({ earlyRecurrence: null, diabetes: true, copd: null });
    expect(await at('2024-05-31')).toMatchObject({
      earlyRecurrence: true,
      ageYears: 63,
      sex: 'female',
      afYears: { least: 4, most: 6 },
      laAreaIndexCm2M2: 10.5,
      afType: null,
    });
    expect(await readScoreFacts(lab.program, patient.id, calendarDay('2024-05-31'))).toBeNull();
  });

  it('opens as it was after any change, the same as the trail tells forwards', async () => {
    const { recordProcedure, amendProcedure } = await import('@/lib/records/procedures/write');
    const { recordVisit } = await import('@/lib/records/visits/write');
    const { readCase } = await import('@/lib/records/cases/read');
    const { readCaseAt } = await import('@/lib/records/cases/earlier');
    const { openedTrail } = await import('@/lib/records/cases/trail');
    const patient = await newPatient();
    const first = { baseline: { ...emptyBaseline, laDiameterMm: '44', bmiKgM2: '28.5' } };
    const form = typedProcedure('2024-03-01', { ...first, dapGyCm2: '12.5' });
    const { id } = await recordProcedure(lab.program, patient.id, form, key());
    const place = { procedureId: id, patientId: patient.id, performedOn: calendarDay('2024-03-01') };
    await recordVisit(lab.program, place, typedVisit('day-30', '2024-04-01'), key());
    for (const change of [{ laDiameterMm: '46' }, { laDiameterMm: '46', drugs: ['sotalol'] }]) {
      const head = await readCase(lab.program, id);
      const amendment = procedureAmendmentSchema.parse({
        ...head?.values,
        performedOn: change.drugs ? '2024-02-20' : '2024-03-01',
        baseline: { ...head?.values.baseline, ...change },
        version: head?.version,
        reason: 'typing-error',
      });
      await amendProcedure(lab.program, { id, patientId: patient.id }, amendment, key());
    }
    const trail = (await openedTrail(lab.program, patient.id, 0n)) ?? [];
    expect(trail.length).toBeGreaterThanOrEqual(7);
    const record = new Map<string, unknown>();
    for (const { seq, entity, entityId, payload } of trail) {
      record.set(`${entity} ${entityId}`, payload.after);
      const then = await readCaseAt(lab.program, id, seq);
      const rows = new Map(then?.rows.map((entry) => [`${entry.entity} ${entry.entityId}`, entry.row]));
      for (const [place, row] of record) {
        if (place.startsWith('follow_up_visits')) continue;
        expect(rows.get(place), `${place} after entry ${seq}`).toEqual(row);
      }
      expect(rows.size).toBe(record.size);
    }
    expect(await readCaseAt(lab.program, id, 999_999n)).toBeNull();
  });

  it('is entered and signed once each, by the version seen, and says later that it was amended', async () => {
    const { recordProcedure, amendProcedure } = await import('@/lib/records/procedures/write');
    const { enterCase, signCase } = await import('@/lib/records/case-states/write');
    const { readCaseStanding } = await import('@/lib/records/case-states/read');
    const { readCase } = await import('@/lib/records/cases/read');
    const physician = await lab.person('physician');
    const patient = await newPatient();
    const { id, version } = await recordProcedure(physician, patient.id, typedProcedure('2024-03-01'), key());
    const one = { id, patientId: patient.id };
    expect(await readCaseStanding(physician, id)).toMatchObject({ state: 'draft', signed: null });
    await expect(signCase(physician, one, version, key())).rejects.toThrow('This case is draft by now');
    const entered = await enterCase(physician, one, version, key());
    await expect(signCase(physician, one, version, key())).rejects.toMatchObject({
      storedVersion: entered.version,
    });
    const signed = await signCase(physician, one, entered.version, key());
    expect(await readCaseStanding(physician, id)).toMatchObject({
      state: 'signed',
      signed: { by: expect.stringMatching(/^\w/) },
      amendedAt: null,
    });
    const head = await readCase(physician, id);
    const amendment = procedureAmendmentSchema.parse({
      ...head?.values,
      ageYears: '64',
      version: signed.version,
      reason: 'source-corrected',
    });
    await amendProcedure(physician, one, amendment, key());
    const after = await readCaseStanding(physician, id);
    expect(after).toMatchObject({ state: 'signed', amendedAt: expect.any(String) });
    expect(after?.signed).not.toBeNull();
    expect(await readCaseStanding(physician, patient.id)).toBeNull();
  });
});
