import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Actor } from '@/lib/records/actor';
import { key, typedPatient, typedProcedure, typedReadmission } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let coordinator: Actor;
let place: { patientId: string; procedureId: string; performedOn: string };

beforeAll(async () => {
  lab = await openLab();
  coordinator = await lab.person('coordinator');
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  const patient = await createPatient(lab.program, typedPatient(), key());
  const procedure = await recordProcedure(lab.program, patient.id, typedProcedure('2024-03-01'), key());
  place = { patientId: patient.id, procedureId: procedure.id, performedOn: '2024-03-01' };
});
afterAll(() => lab.close());

const write = () => import('@/lib/records/readmissions/write');
const read = async () => {
  const { readReadmissions } = await import('@/lib/records/readmissions/read');
  return readReadmissions(coordinator, place.procedureId);
};

it('a readmission is stored once with its timing, changed with a reason, and made void', async () => {
  const { amendReadmission, recordReadmission, voidReadmission } = await write();
  const [form, twice] = [typedReadmission('2024-03-31'), key()];
  const first = await recordReadmission(coordinator, place, form, twice);
  expect(await recordReadmission(coordinator, place, form, twice)).toEqual(first);
  expect(await read()).toMatchObject([
    { admittedOn: '2024-03-31', dischargedOn: null, timing: { days: 30, from: 'procedure', isEarly: true } },
  ]);
  const { readHarmPlace } = await import('@/lib/records/complications/context');
  expect((await readHarmPlace(coordinator, place.procedureId))?.readmission.others).toHaveLength(1);
  const entry = { id: first.id, patientId: place.patientId };
  const change = (dischargedOn: string) =>
    amendReadmission(
      coordinator,
      entry,
      { ...typedReadmission('2024-03-31', { dischargedOn }), version: 1, reason: 'late-information' },
      key(),
    );
  await change('2024-04-02');
  await expect(change('2024-04-03')).rejects.toMatchObject({
    storedVersion: 2,
    stored: { dischargedOn: '2024-04-02' },
  });
  await expect(
    voidReadmission(coordinator, entry, { version: 1, reason: 'not-meant' }, key()),
  ).rejects.toMatchObject({ kind: 'invalid', fields: [{ field: 'reason' }] });
  await voidReadmission(coordinator, entry, { version: 2, reason: 'entered-twice' }, key());
  expect(await read()).toMatchObject([{ isVoided: true, voidedReason: 'entered-twice' }]);
  expect((await readHarmPlace(coordinator, place.procedureId))?.readmission.others).toEqual([]);
  await expect(change('2024-04-04')).rejects.toMatchObject({ kind: 'invalid' });
});

it('every step of it stands in the trail', async () => {
  const { readHistory } = await import('@/lib/records/cases/history');
  const actions = (await readHistory(coordinator, place.patientId))
    .filter(({ entity }) => entity === 'readmissions')
    .map(({ action, reason }) => `${action} ${reason}`);
  expect(actions).toEqual([
    'readmission.void entered-twice',
    'readmission.amend late-information',
    'readmission.record entered',
  ]);
});
