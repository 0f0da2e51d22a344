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
});
