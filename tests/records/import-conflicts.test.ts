import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { BulkPatient } from '@/lib/records/bulk-load';
import { withClient } from '../../lib/launch/database-client.mjs';
import { type OpenLab, openLab } from './lab-in-database';

const REFERENCE = JSON.stringify(['Clinic', 'HN-7731905']);

describe('a bulk load', () => {
  let lab: OpenLab;
  let file = 0;

  beforeAll(async () => {
    lab = await openLab();
  });

  afterAll(() => lab.close());

  const patient = (code: string, importReference?: string): BulkPatient => ({
    ...(importReference === undefined ? {} : { importReference }),
    patient: { id: randomUUID(), code, sex: 'female', birthYear: 1950 },
    procedures: [],
    baselines: [],
    lesionElements: [],
    complications: [],
    readmissions: [],
    visits: [],
    recordings: [],
    deviceDays: [],
    drugEpisodes: [],
    cardioversions: [],
  });

  const batch = (byte: number) => ({
    id: randomUUID(),
    source: 'Clinic',
    fileSha256: new Uint8Array(32).fill(byte),
    rows: 1,
    published: 1,
    refused: 0,
  });

  /** What loading these patients is answered: 'loaded', or kind and code of the refusal. */
  async function load(patients: readonly BulkPatient[], byte = ++file): Promise<string> {
    const { bulkLoadPatients } = await import('@/lib/records/bulk-load');
    const { BulkConflict } = await import('@/lib/records/bulk-conflict');
    try {
      await bulkLoadPatients(lab.program, patients, { action: 'lab.import', batch: batch(byte) });
      return 'loaded';
    } catch (error) {
      if (!(error instanceof BulkConflict)) throw error;
      expect(error.message).not.toMatch(/constraint|_key|HN-7731905/);
      return `${error.kind} ${error.code}`;
    }
  }

  async function rows(sql: string): Promise<{ readonly [column: string]: unknown }[]> {
    return withClient(lab.database.ownerUrl, async (client) => (await client.query(sql)).rows);
  }

  const counts = () =>
    rows(
      'SELECT (SELECT count(*) FROM patients) AS p, (SELECT count(*) FROM import_batches) AS b, (SELECT count(*) FROM audit_entries) AS a',
    );

  it('says by a code which rule it broke, and writes nothing then', async () => {
    expect(await load([patient('P-2222-2', REFERENCE)], ++file)).toBe('loaded');
    const before = await counts();
    expect(await load([patient('P-3333-3')], file)).toBe('conflict file-known');
    expect(await load([patient('P-4444-4', REFERENCE)])).toBe('conflict patients-known');
    expect(await load([patient('P-5555-5'), patient('P-2222-2')])).toBe('conflict code-taken');
    expect(await counts()).toEqual(before);
  });

  it('is one of two that load the same file in the same moment', async () => {
    const byte = ++file;
    const both = [load([patient('P-6666-6')], byte), load([patient('P-7777-7')], byte)];
    expect((await Promise.all(both)).sort()).toEqual(['conflict file-known', 'loaded']);
  });

  it('passes on what breaks another rule', async () => {
    const twice = patient('P-8888-8');
    await expect(
      load([twice, { ...twice, patient: { ...twice.patient, code: 'P-9999-9' } }]),
    ).rejects.toThrow('patients_pkey');
  });

  it('keeps the patient of the file as a keyed hash on one row, and out of the sealed trail', async () => {
    const { decrypt, hashOutsideNumber, unwrapPatientKey } = await import('@/lib/records/sealing');
    const [wanted] = hashOutsideNumber(lab.labId, 'import-reference', REFERENCE);
    const [stored] = await rows("SELECT id, import_reference_hash FROM patients WHERE code = 'P-2222-2'");
    expect(stored?.import_reference_hash).toEqual(Buffer.from(wanted?.hash ?? []));
    const keys = await rows(
      `SELECT wrapped_key, master_key_id FROM patient_keys WHERE patient_id = '${stored?.id}'`,
    );
    const sealed = await rows(
      "SELECT payload FROM audit_entries WHERE sealed AND action = 'lab.import' ORDER BY seq",
    );
    const [key, entry] = [keys[0], sealed[0]];
    if (!Buffer.isBuffer(key?.wrapped_key) || !Buffer.isBuffer(entry?.payload))
      throw new Error('no sealed entry');
    const opened = unwrapPatientKey(key.wrapped_key, String(key.master_key_id));
    const [{ box }] = JSON.parse(entry.payload.toString());
    const after = JSON.parse(decrypt(opened, Buffer.from(box, 'base64')).toString()).after;
    expect(after.patient.code).toBe('P-2222-2');
    expect(after).not.toHaveProperty('importReference');
    expect(JSON.stringify(after)).not.toContain(Buffer.from(wanted?.hash ?? []).toString('hex'));
  });
});
