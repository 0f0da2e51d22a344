import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { key, typedPatient, typedProcedure } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let owner: pg.Client;
let app: pg.Client;

beforeAll(async () => {
  lab = await openLab();
  [owner, app] = [lab.database.ownerUrl, lab.database.appUrl].map(
    (connectionString) => new pg.Client({ connectionString }),
  );
  await Promise.all([owner.connect(), app.connect()]);
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  for (let i = 0; i < 6; i += 1) {
    const patient = await createPatient(lab.program, typedPatient({ regionCode: 'NORTH' }), key());
    await recordProcedure(lab.program, patient.id, typedProcedure('2024-03-01'), key());
  }
});
afterAll(async () => {
  await Promise.all([owner.end(), app.end()]);
  await lab.close();
});

/** Recomputes every hash from the stored entries alone; answers the first seq that does not fit, or null. */
async function firstBroken(): Promise<string | null> {
  const { GENESIS, hashEntry } = await import('@/lib/records/audit-chain');
  const { rows } = await owner.query('SELECT * FROM audit_entries WHERE lab_id = $1 ORDER BY seq', [
    lab.labId,
  ]);
  let previous: Uint8Array = GENESIS;
  let seq = 0n;
  for (const row of rows) {
    seq += 1n;
    const facts = {
      labId: row.lab_id,
      at: row.at,
      actorKind: row.actor_kind,
      actorId: row.actor_id,
      action: row.action,
      entity: row.entity,
      entityId: row.entity_id,
      patientId: row.patient_id,
      sealed: row.sealed,
      payload: row.payload,
    };
    const hash = hashEntry(seq, facts, previous);
    if (BigInt(row.seq) !== seq || !row.previous_hash.equals(previous) || !row.hash.equals(hash))
      return row.seq;
    previous = row.hash;
  }
  const { rows: heads } = await owner.query('SELECT seq, hash FROM audit_heads WHERE lab_id = $1', [
    lab.labId,
  ]);
  return BigInt(heads[0].seq) === seq && heads[0].hash.equals(previous) ? null : 'head';
}

describe('the audit trail', () => {
  it('is one chain from entry one to the head', async () => {
    expect(await firstBroken()).toBeNull();
  });

  it('holds patient values as ciphertext only', async () => {
    const { rows } = await owner.query(
      `SELECT seq FROM audit_entries WHERE patient_id IS NOT NULL AND encode(payload, 'escape') LIKE '%NORTH%'`,
    );
    expect(rows).toEqual([]);
  });

  it('reads back in words for the patient’s history', async () => {
    const { readHistory } = await import('@/lib/records/cases/history');
    const { rows } = await owner.query('SELECT id FROM patients LIMIT 1');
    const history = await readHistory(lab.program, rows[0].id);
    expect(history.map((entry) => entry.entity)).toEqual(['baselines', 'procedures', 'patients']);
    const [patient] = history.filter((entry) => entry.entity === 'patients');
    expect(patient?.changes).toContainEqual({ field: 'regionCode', from: '', to: 'NORTH' });
  });

  it.each([
    ['UPDATE audit_entries SET action = action'],
    ['DELETE FROM audit_entries'],
    ['TRUNCATE audit_entries'],
    ['ALTER TABLE audit_entries DISABLE TRIGGER ALL'],
    ['DROP TABLE audit_entries'],
    ['UPDATE endpoint_definitions SET name = name'],
  ])('refuses the app: %s', async (statement) => {
    await expect(app.query(statement)).rejects.toMatchObject({ code: '42501' });
  });

  it.each([
    ['UPDATE audit_entries SET action = action'],
    ['DELETE FROM audit_entries'],
    ['TRUNCATE audit_entries'],
  ])('refuses even the owner of the tables: %s', async (statement) => {
    await expect(owner.query(statement)).rejects.toMatchObject({ code: '42501' });
  });

  it('refuses an entry that does not continue the chain', async () => {
    const forged = `INSERT INTO audit_entries SELECT lab_id, seq + 5, at, actor_kind, actor_id, action, entity, entity_id,
      patient_id, sealed, payload, previous_hash, hash FROM audit_entries ORDER BY seq DESC LIMIT 1`;
    await expect(app.query(forged)).rejects.toMatchObject({ code: '23514' });
  });

  it.each([
    [`action = 'nothing'`],
    [`actor_id = 'somebody'`],
    [`at = at + interval '1 second'`],
    [`payload = set_byte(payload, 20, (get_byte(payload, 20) + 1) % 256)`],
    [`entity_id = 'x'`],
    [`sealed = NOT sealed`],
  ])('shows a change made behind its back: %s', async (change) => {
    await owner.query('BEGIN');
    await owner.query('ALTER TABLE audit_entries DISABLE TRIGGER ALL');
    await owner.query(`UPDATE audit_entries SET ${change} WHERE seq = 7`);
    expect(await firstBroken()).toBe('7');
    await owner.query('ROLLBACK');
    expect(await firstBroken()).toBeNull();
  });
});
