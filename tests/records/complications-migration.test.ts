import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { key, typedPatient, typedProcedure } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let owner: pg.Client;

beforeAll(async () => {
  lab = await openLab();
  owner = new pg.Client({ connectionString: lab.database.ownerUrl });
  await owner.connect();
});
afterAll(async () => {
  await owner.end();
  await lab.close();
});

const BEFORE = `ALTER TABLE complications DROP CONSTRAINT complications_verdict_has_its_day,
    DROP CONSTRAINT complications_verdict_has_its_facts, DROP CONSTRAINT complications_void_is_whole,
    DROP CONSTRAINT complications_judged_or_void, DROP COLUMN voided_reason, DROP COLUMN voided_by_id, DROP COLUMN voided_at;
  ALTER TABLE readmissions DROP CONSTRAINT readmissions_void_is_whole,
    DROP COLUMN voided_reason, DROP COLUMN voided_by_id, DROP COLUMN voided_at;`;

it('what was judged before verdicts were recorded keeps its judgement, and what waits goes on waiting', async () => {
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  const patient = await createPatient(lab.program, typedPatient(), key());
  const procedure = await recordProcedure(lab.program, patient.id, typedProcedure('2024-03-01'), key());
  await owner.query(BEFORE);
  const insert = async (judgedSeverity: string | null) => {
    const id = randomUUID();
    const judged = judgedSeverity === null ? [null, null, null] : ['tia', judgedSeverity, '2024-04-01'];
    await owner.query(
      `INSERT INTO complications (lab_id, id, procedure_id, procedure_performed_on, type, severity, onset_on,
         adjudicated_type, adjudicated_severity, adjudicated_at)
       VALUES ($1, $2, $3, '2024-03-01', 'tia', 'minor', '2024-03-02', $4, $5, $6)`,
      [lab.labId, id, procedure.id, ...judged],
    );
    return id;
  };
  const [agreed, differed, waiting] = [await insert('minor'), await insert('major'), await insert(null)];
  await owner.query(readFileSync('prisma/migrations/20261125160000_complications/migration.sql', 'utf8'));
  const { readComplication } = await import('@/lib/records/complications/read');
  const adjudicationOf = async (id: string) => (await readComplication(lab.program, id))?.adjudication;
  const facts = { type: 'tia', onsetOn: '2024-03-02', harms: [] };
  expect(await adjudicationOf(agreed)).toEqual({
    verdict: 'confirmed',
    facts: { ...facts, severity: 'minor' },
  });
  expect(await adjudicationOf(differed)).toEqual({
    verdict: 'reclassified',
    facts: { ...facts, severity: 'major' },
  });
  expect(await adjudicationOf(waiting)).toBeNull();
});
