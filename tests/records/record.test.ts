import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { key, typedEcg, typedPatient, typedProcedure, typedVisit } from './entries';
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

const count = async (table: string, where = 'true') => {
  const { rows } = await owner.query(`SELECT count(*)::int AS n FROM ${table} WHERE ${where}`);
  return Number(rows[0].n);
};

describe('a write', () => {
  it('stores the row, its audit entry and its analysis row together, and raises the data version', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { readDataVersion } = await import('@/lib/records/cohort');
    const actor = await lab.person('physician');
    const before = BigInt(await readDataVersion(actor));
    const patient = await createPatient(actor, typedPatient(), key());
    await recordProcedure(actor, patient.id, typedProcedure('2024-03-01'), key());
    expect(BigInt(await readDataVersion(actor)) - before).toBe(2n);
    expect(await count('audit_entries', `patient_id = '${patient.id}'`)).toBe(3);
    expect(await count('analysis_rows', `patient_id = '${patient.id}'`)).toBe(1);
  });

  it('leaves nothing behind when it fails half-way', async () => {
    const { record } = await import('@/lib/records/record');
    const actor = await lab.person('physician');
    const id = randomUUID();
    const [operators, entries] = [await count('operators'), await count('audit_entries')];
    await expect(
      record(actor, { action: 'operator.create', reason: 'entered' }, async ({ tx, labId, note }) => {
        await tx.operator.create({ data: { labId, id, code: 'OP-9' } });
        note({ entity: 'operators', entityId: id, patientId: null, before: null, after: { code: 'OP-9' } });
        throw new Error('half-way');
      }),
    ).rejects.toThrow('half-way');
    expect(await count('operators')).toBe(operators);
    expect(await count('audit_entries')).toBe(entries);
  });

  it('that notes nothing for the trail is refused', async () => {
    const { record } = await import('@/lib/records/record');
    const actor = await lab.person('physician');
    const id = randomUUID();
    await expect(
      record(actor, { action: 'operator.create', reason: 'entered' }, async ({ tx, labId }) => {
        await tx.operator.create({ data: { labId, id, code: 'OP-8' } });
        return { id };
      }),
    ).rejects.toThrow('wrote nothing to the trail');
    expect(await count('operators', `id = '${id}'`)).toBe(0);
  });

  it('refuses an object that merely looks like an actor', async () => {
    const { createOperator } = await import('@/lib/records/labs/operators');
    const actor = await lab.person('physician');
    await expect(createOperator({ ...actor }, 'OP-7')).rejects.toMatchObject({ kind: 'unauthenticated' });
  });

  it('sent twice with one key is stored once, also when both arrive at the same time', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const actor = await lab.person('coordinator');
    const patients = await count('patients');
    const twice = key();
    const first = await createPatient(actor, typedPatient(), twice);
    expect(await createPatient(actor, typedPatient(), twice)).toEqual(first);
    const together = key();
    const answers = await Promise.all([1, 2, 3, 4].map(() => createPatient(actor, typedPatient(), together)));
    expect(new Set(answers.map((answer) => answer.id)).size).toBe(1);
    expect(await count('patients')).toBe(patients + 2);
  });

  it('with the key of an entry that was stored with other values is refused, and says so', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const actor = await lab.person('coordinator');
    const first = key('one');
    await createPatient(actor, typedPatient(), first);
    const edited = { ...first, valuesHash: key('two').valuesHash };
    await expect(createPatient(actor, typedPatient({ birthYear: '1950' }), edited)).rejects.toMatchObject({
      kind: 'conflict',
      message: expect.stringContaining('with other values'),
    });
  });

  it('with a key that somebody else used is refused', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const [one, other] = [await lab.person('coordinator'), await lab.person('coordinator')];
    const shared = key();
    await createPatient(one, typedPatient(), shared);
    await expect(createPatient(other, typedPatient(), shared)).rejects.toMatchObject({ kind: 'conflict' });
  });
});

describe('the patient', () => {
  it('is found by code and by hospital number, of which only a keyed hash is stored', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { findPatients } = await import('@/lib/records/patients/read');
    const actor = await lab.person('coordinator');
    const patient = await createPatient(actor, typedPatient({ hospitalNumber: 'kh 778812' }), key());
    expect((await findPatients(actor, 'KH778812')).map((found) => found.id)).toEqual([patient.id]);
    expect((await findPatients(actor, patient.code.toLowerCase())).map((found) => found.id)).toEqual([
      patient.id,
    ]);
    const { rows } = await owner.query(
      `SELECT 1 FROM patients p WHERE p::text ILIKE '%778812%'
       UNION ALL SELECT 1 FROM audit_entries a WHERE encode(a.payload, 'escape') ILIKE '%778812%'
       UNION ALL SELECT 1 FROM write_requests w WHERE w::text ILIKE '%778812%'`,
    );
    expect(rows).toEqual([]);
    await expect(
      createPatient(actor, typedPatient({ hospitalNumber: 'KH 778812' }), key()),
    ).rejects.toMatchObject({
      kind: 'invalid',
      fields: [{ field: 'hospitalNumber' }],
    });
  });

  it('of another lab is not found', async () => {
    const { createLab } = await import('@/lib/records/labs/write');
    const { actorOfProgram } = await import('@/lib/records/actor-of-program');
    const { createPatient } = await import('@/lib/records/patients/write');
    const { readPatientForEditing } = await import('@/lib/records/patients/read');
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const stranger = await actorOfProgram('test', await createLab('Another lab'));
    const patient = await createPatient(lab.program, typedPatient(), key());
    expect(await readPatientForEditing(stranger, patient.id)).toBeNull();
    await expect(
      recordProcedure(stranger, patient.id, typedProcedure('2024-01-01'), key()),
    ).rejects.toMatchObject({ kind: 'not-found' });
  });
});

describe('an edit', () => {
  it('of a version that is no longer stored answers what is stored and changes nothing', async () => {
    const { createPatient, amendPatient } = await import('@/lib/records/patients/write');
    const actor = await lab.person('coordinator');
    const patient = await createPatient(actor, typedPatient(), key());
    const amend = (birthYear: string) =>
      amendPatient(
        actor,
        patient.id,
        { ...typedPatient({ birthYear }), version: 1, reason: 'typing-error' },
        key(),
      );
    await amend('1961');
    await expect(amend('1962')).rejects.toMatchObject({ storedVersion: 2, stored: { birthYear: '1961' } });
    expect(await count('patients', `id = '${patient.id}' AND birth_year = 1961 AND version = 2`)).toBe(1);
  });

  it('by many people at once succeeds for one of each version: versions rise strictly by one', async () => {
    const { createPatient, amendPatient } = await import('@/lib/records/patients/write');
    const actor = await lab.person('coordinator');
    const patient = await createPatient(actor, typedPatient(), key());
    const edits = Array.from({ length: 20 }, (_, i) =>
      amendPatient(
        actor,
        patient.id,
        { ...typedPatient({ birthYear: String(1930 + i) }), version: 1, reason: 'typing-error' },
        key(),
      ).then(
        () => 'stored',
        (error: unknown) => (error instanceof Error ? error.name : 'unknown'),
      ),
    );
    const outcomes = await Promise.all(edits);
    expect(outcomes.filter((outcome) => outcome === 'stored')).toHaveLength(1);
    expect(outcomes.filter((outcome) => outcome === 'StaleEdit')).toHaveLength(19);
  });

  it('of a procedure day sorts the ordinals anew', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { recordProcedure, amendProcedure } = await import('@/lib/records/procedures/write');
    const patient = await createPatient(lab.program, typedPatient(), key());
    const late = await recordProcedure(lab.program, patient.id, typedProcedure('2024-06-01'), key());
    const early = await recordProcedure(lab.program, patient.id, typedProcedure('2023-06-01'), key());
    const ordinals = async () => {
      const { rows } = await owner.query(
        'SELECT id, ordinal FROM procedures WHERE patient_id = $1 ORDER BY ordinal',
        [patient.id],
      );
      return rows.map((row) => row.id);
    };
    expect(await ordinals()).toEqual([early.id, late.id]);
    await amendProcedure(
      lab.program,
      { id: early.id, patientId: patient.id },
      { ...typedProcedure('2024-09-01'), version: 1, reason: 'typing-error' },
      key(),
    );
    expect(await ordinals()).toEqual([late.id, early.id]);
  });
});

describe('a visit', () => {
  it('brings its recordings, drugs and cardioversion into the analysis row', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { recordVisit, amendVisit } = await import('@/lib/records/visits/write');
    const patient = await createPatient(lab.program, typedPatient(), key());
    const procedure = await recordProcedure(lab.program, patient.id, typedProcedure('2024-01-01'), key());
    const place = { patientId: patient.id, procedureId: procedure.id, performedOn: '2024-01-01' };
    const visit = typedVisit('month-6', '2024-07-01', {
      recordings: [typedEcg('2024-07-01')],
      drugs: [{ drug: 'amiodarone', startedOn: '2024-01-01', stoppedOn: '2024-03-01' }],
      cardioversionKind: 'electrical',
      cardioversionOn: '2024-02-01',
    });
    const written = await recordVisit(lab.program, place, visit, key());
    const evidence = async () => {
      const { rows } = await owner.query('SELECT evidence FROM analysis_rows WHERE procedure_id = $1', [
        procedure.id,
      ]);
      return rows[0].evidence.filter((_: number, i: number) => i % 5 === 0);
    };
    expect(await evidence()).toEqual([0, 31, 60, 182, 182]);
    const amendment = { ...typedVisit('month-6', '2024-07-01'), version: 1, reason: 'typing-error' as const };
    await amendVisit(lab.program, { id: written.id, patientId: patient.id }, amendment, key());
    expect(await evidence()).toEqual([0, 31, 60, 182]);
  });

  it('on a day before its procedure is refused by the database itself', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { recordProcedure } = await import('@/lib/records/procedures/write');
    const { recordVisit } = await import('@/lib/records/visits/write');
    const patient = await createPatient(lab.program, typedPatient(), key());
    const procedure = await recordProcedure(lab.program, patient.id, typedProcedure('2024-01-01'), key());
    const place = { patientId: patient.id, procedureId: procedure.id, performedOn: '2024-01-01' };
    await expect(recordVisit(lab.program, place, typedVisit('day-7', '2023-12-31'), key())).rejects.toThrow();
    expect(await count('follow_up_visits', `procedure_id = '${procedure.id}'`)).toBe(0);
  });
});
