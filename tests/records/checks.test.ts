import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { key, typedPatient, typedProcedure } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let app: pg.Client;
let patientId: string;
let procedureId: string;

beforeAll(async () => {
  lab = await openLab();
  app = new pg.Client({ connectionString: lab.database.appUrl });
  await app.connect();
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  patientId = (await createPatient(lab.program, typedPatient(), key())).id;
  procedureId = (await recordProcedure(lab.program, patientId, typedProcedure('2024-03-01'), key())).id;
});
afterAll(async () => {
  await app.end();
  await lab.close();
});

/** What must never be, whoever writes: PostgreSQL's own code for a broken check, key or right. */
describe('the database refuses', () => {
  it.each([
    ['an AF type "permanent" with an ablation', `UPDATE baselines SET af_type = 'permanent'`, '23514'],
    ['an AF type "chronic"', `UPDATE baselines SET af_type = 'chronic'`, '23514'],
    ['a discharge before the procedure', `UPDATE procedures SET discharged_on = performed_on - 1`, '23514'],
    ['an age of 130', `UPDATE procedures SET age_years = 130`, '23514'],
    ['a signature without a signer', `UPDATE procedures SET state = 'signed'`, '23514'],
    ['a code of another shape', `UPDATE patients SET code = 'Jane Doe'`, '23514'],
    [
      'a hospital number in place of its hash',
      `UPDATE patients SET hospital_number_hash = '778812', hospital_number_key_id = 'x'`,
      '23514',
    ],
    ['a cause of death without a day', `UPDATE patients SET death_cause = 'cardiac'`, '23514'],
    ['an unknown role', `UPDATE users SET role = 'owner'`, '23514'],
  ])('%s', async (_what, statement, code) => {
    if (statement.includes('users')) await lab.person('physician');
    await expect(app.query(statement)).rejects.toMatchObject({ code });
  });

  const insert = (table: string, columns: Record<string, unknown>) => {
    const names = Object.keys(columns);
    const marks = names.map((_, i) => `$${i + 1}`);
    return app.query(`INSERT INTO ${table} (${names}) VALUES (${marks})`, Object.values(columns));
  };

  it('a follow-up visit before its procedure', async () => {
    const row = { lab_id: lab.labId, id: randomUUID(), patient_id: patientId, procedure_id: procedureId };
    const day = {
      procedure_performed_on: '2024-03-01',
      slot: 'day-7',
      visited_on: '2024-02-29',
      mode: 'phone',
    };
    await expect(insert('follow_up_visits', { ...row, ...day })).rejects.toMatchObject({ code: '23514' });
  });

  it('a visit that claims another day for its procedure', async () => {
    const row = { lab_id: lab.labId, id: randomUUID(), patient_id: patientId, procedure_id: procedureId };
    const day = {
      procedure_performed_on: '2024-02-01',
      slot: 'day-7',
      visited_on: '2024-02-29',
      mode: 'phone',
    };
    await expect(insert('follow_up_visits', { ...row, ...day })).rejects.toMatchObject({ code: '23503' });
  });

  it('a complication before its procedure, and one that ends before its onset', async () => {
    const row = {
      lab_id: lab.labId,
      procedure_id: procedureId,
      procedure_performed_on: '2024-03-01',
      type: 'tamponade',
    };
    const onset = (onset_on: string, resolved_on: string | null) => ({
      ...row,
      id: randomUUID(),
      severity: 'major',
      onset_on,
      resolved_on,
    });
    await expect(insert('complications', onset('2024-02-28', null))).rejects.toMatchObject({ code: '23514' });
    await expect(insert('complications', onset('2024-03-05', '2024-03-04'))).rejects.toMatchObject({
      code: '23514',
    });
  });

  it('a recording or a drug that ends before it starts', async () => {
    const own = { lab_id: lab.labId, patient_id: patientId };
    const recording = {
      kind: 'ecg',
      started_on: '2024-04-02',
      ended_on: '2024-04-01',
      rhythm: 'sinus',
      source: 'seen',
    };
    await expect(insert('recordings', { ...own, id: randomUUID(), ...recording })).rejects.toMatchObject({
      code: '23514',
    });
    const drug = { drug: 'amiodarone', started_on: '2024-04-02', stopped_on: '2024-04-01' };
    await expect(insert('drug_episodes', { ...own, id: randomUUID(), ...drug })).rejects.toMatchObject({
      code: '23514',
    });
  });

  it('a row of one lab that points to another lab’s patient', async () => {
    const { createLab } = await import('@/lib/records/labs/write');
    const other = await createLab('Another lab');
    const drug = { drug: 'amiodarone', started_on: '2024-04-02' };
    await expect(
      insert('drug_episodes', { lab_id: other, id: randomUUID(), patient_id: patientId, ...drug }),
    ).rejects.toMatchObject({ code: '23503' });
  });

  it('the app when it tries to change the tables themselves', async () => {
    await expect(app.query('ALTER TABLE patients ADD COLUMN name text')).rejects.toMatchObject({
      code: '42501',
    });
    await expect(app.query('CREATE TABLE notes (id int)')).rejects.toMatchObject({ code: '42501' });
  });
});
