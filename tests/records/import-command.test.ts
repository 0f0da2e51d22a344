import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { withClient } from '../../lib/launch/database-client.mjs';
import { openTestDatabase, type TestDatabase } from '../support/database';
import { type ImportPlace, openImportPlace, readRepositoryFile } from './import-place';

const EXAMPLE = ['docs', 'examples', 'rhythm-readings.csv'] as const;

describe('the import command', () => {
  let database: TestDatabase;
  let place: ImportPlace;
  let csv: string;
  let mapping: { source: string };

  beforeAll(async () => {
    database = await openTestDatabase();
    csv = await readRepositoryFile(...EXAMPLE);
    mapping = JSON.parse(await readRepositoryFile('docs', 'examples', 'rhythm-readings.csv.mapping.json'));
  });

  afterAll(async () => {
    const { closeRecords } = await import('@/lib/records/close');
    await closeRecords();
    await database.close();
  });

  afterEach(() => place.leave());

  async function freshPlace(): Promise<ImportPlace> {
    place = await openImportPlace();
    return place;
  }

  /** Rows of a table of the present lab. */
  async function count(table: string): Promise<number> {
    return withClient(database.ownerUrl, async (client) => {
      const name = client.escapeIdentifier(table);
      const answer = await client.query(`SELECT count(*)::int AS n FROM ${name} WHERE lab_id = $1`, [
        place.actor.labId,
      ]);
      return answer.rows[0].n;
    });
  }

  it('writes nothing as long as it is not told to', async () => {
    await freshPlace();
    const before = await count('audit_entries');
    const { code, said } = await place.importText('a.csv', csv, mapping);
    expect(code).toBe(0);
    expect(said).toContain('Refused rows: 0');
    expect(said.at(-1)).toBe('Dry run: nothing was written. Add --publish to write it.');
    expect(await count('patients')).toBe(0);
    expect(await count('import_batches')).toBe(0);
    expect(await count('audit_entries')).toBe(before);
  });

  it('publishes the example of the guide: patients, procedures, recordings, batch, trail, analysis rows', async () => {
    await freshPlace();
    const before = await count('audit_entries');
    const { code, said } = await place.importText('a.csv', csv, mapping, ['--publish']);
    const readings = csv.trim().split('\n').length - 1;
    expect(said).toContain(
      `Written: 12 patients, ${readings} readings. Each patient is one case on the Outcomes page.`,
    );
    expect(code).toBe(0);
    expect(await count('patients')).toBe(12);
    expect(await count('procedures')).toBe(12);
    expect(await count('analysis_rows')).toBe(12);
    expect(await count('recordings')).toBe(readings);
    expect(await count('import_batches')).toBe(1);
    expect((await count('audit_entries')) - before).toBe(2);
  });

  it('changes nothing when the same file comes again, and says so', async () => {
    await freshPlace();
    await place.importText('a.csv', csv, mapping, ['--publish']);
    const before = await count('audit_entries');
    const { code, said } = await place.importText('again.csv', csv, mapping, ['--publish']);
    expect(code).toBe(0);
    expect(said.at(-1)).toMatch(
      /^This very file was imported on \d{4}-\d{2}-\d{2} .*; nothing was changed\.$/,
    );
    expect(await count('patients')).toBe(12);
    expect(await count('audit_entries')).toBe(before);
    const dryRun = await place.importText('again.csv', csv, mapping);
    expect(dryRun.code).toBe(0);
    expect(dryRun.said.join('\n')).toContain('This very file was imported on');
  });

  it('is published once when two start in the same moment', async () => {
    await freshPlace();
    await place.importText('a.csv', csv, mapping);
    const both = await Promise.all([place.run(['a.csv', '--publish']), place.run(['a.csv', '--publish'])]);
    expect(both.map(({ code }) => code)).toEqual([0, 0]);
    const lasts = both.map(({ said }) => said.at(-1) ?? '').sort();
    expect(lasts[0]).toMatch(/^This very file was imported .*; nothing was changed\.$/);
    expect(lasts[1]).toMatch(/^Written: 12 patients/);
    expect(await count('patients')).toBe(12);
  });

  it('takes the same patient numbers from another source for other patients', async () => {
    await freshPlace();
    await place.importText('a.csv', csv, mapping, ['--publish']);
    const other = await place.importText('b.csv', csv, { ...mapping, source: 'Another clinic' }, [
      '--publish',
    ]);
    expect(other.code).toBe(0);
    expect(await count('patients')).toBe(24);
  });

  it('refuses a changed file whose patients are here already, whole and in plain words', async () => {
    await freshPlace();
    await place.importText('a.csv', csv, mapping, ['--publish']);
    const { code, said } = await place.importText('a2.csv', `${csv}X99,5,0,1,f,60\n`, mapping, ['--publish']);
    expect(said.at(-1)).toContain('already in the registry');
    expect(code).toBe(1);
    expect(await count('patients')).toBe(12);
    expect(await count('import_batches')).toBe(1);
  });

  it('stops at refused rows until they are accepted', async () => {
    await freshPlace();
    const marred = csv.replace('\n', '\nX50,2.5,7,1,f,60\nX51,2.5,0,1,f,60\n');
    const stopped = await place.importText('m.csv', marred, mapping, ['--publish']);
    expect(stopped.code).toBe(1);
    expect(stopped.said.join('\n')).toMatch(
      /row 2, column "af", value 7: The mapping does not say which rhythm this is\./,
    );
    expect(await count('patients')).toBe(0);
    const accepted = await place.importText('m.csv', marred, mapping, ['--publish', '--accept-refused']);
    expect(accepted.code).toBe(0);
    expect(await count('patients')).toBe(13);
  });

  it('ends with 2 and the usage, or an example mapping, when it is called wrongly', async () => {
    await freshPlace();
    for (const args of [
      [],
      ['a.csv', 'b.csv'],
      ['a.csv', '--write'],
      ['a.csv', '--mapping'],
      ['missing.csv'],
    ]) {
      expect((await place.run(args)).code).toBe(2);
    }
    expect((await place.run([])).said.join('\n')).toContain('Usage: npm run import -- FILE');
    const noMapping = await place.run([
      path.join(import.meta.dirname, '../..', ...EXAMPLE),
      '--mapping=none.json',
    ]);
    expect(noMapping.code).toBe(2);
    expect(noMapping.said.join('\n')).toContain(
      '"reading": { "kind": "rhythm-strip", "counts": "whole-tracing" }',
    );
    const badMapping = await place.importText('a.csv', csv, { ...mapping, dayZero: '2024-02-30', extra: 1 });
    expect(badMapping.code).toBe(2);
    expect(badMapping.said).toContain('  dayZero: Give an existing day as YYYY-MM-DD.');
    expect(await count('patients')).toBe(0);
  });

  it('leaves no patient of the file anywhere: not in what it says, not in the database', async () => {
    await freshPlace();
    const canaries = ['Quagmire Ottoline', 'HN-7731905', 'ZKX44QPL', '19370412-8842'];
    const rows = canaries.flatMap((canary, i) => [
      `${canary},1.5,0,1,f,60`,
      `${canary},${i === 0 ? 'soon' : '4.5'},1,1,f,60`,
      `${canary},6.5,0,${canary},f,60`,
      `${i},${canary},0,1,f,60`,
      `${i},3,${canary},1,${canary},${canary}`,
      `${canary},3`,
    ]);
    const hostile = `id,months,af,arm,sex,age\n${rows.join('\n')}\n`;
    const { code, said } = await place.importText('canaries.csv', hostile, mapping, [
      '--publish',
      '--accept-refused',
    ]);
    expect(code).toBe(0);
    expect(await count('patients')).toBe(4);
    const told = said.join('\n');
    const stored = await dump(database.ownerUrl);
    // The dump reaches plain columns, bytes and sealed entries.
    expect(stored).toContain(mapping.source);
    expect(stored).toContain('"reason":"lab.import"');
    expect(stored).toContain('"reason":"imported"');
    for (const canary of canaries) {
      for (const text of spellings(canary)) {
        expect(told).not.toContain(text);
        expect(stored).not.toContain(text);
      }
    }
    expect(await readdir(place.folder)).toEqual(['canaries.csv', 'canaries.csv.mapping.json']);
  });
});

/** As written, without blanks, in capitals, as bytes in hex and base64. */
function spellings(canary: string): string[] {
  const bare = canary.replaceAll(' ', '').toUpperCase();
  return [
    canary,
    bare,
    ...[canary, bare].flatMap((text) => [
      Buffer.from(text).toString('hex'),
      Buffer.from(text).toString('base64').replaceAll('=', ''),
    ]),
  ];
}

/** Every row of every table as text: bytes in hex and as text, sealed entries opened with the patients' own keys. */
async function dump(ownerUrl: string): Promise<string> {
  return withClient(ownerUrl, async (client) => {
    const tables = await client.query(
      "SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename",
    );
    const texts: string[] = [];
    for (const { tablename } of tables.rows) {
      const rows = await client.query(`SELECT t::text AS line FROM ${client.escapeIdentifier(tablename)} t`);
      for (const { line } of rows.rows) texts.push(line, ...bytesAsText(line));
    }
    const sealed = await client.query(
      "SELECT payload FROM audit_entries WHERE sealed AND action = 'lab.import'",
    );
    const keys = await client.query('SELECT patient_id, wrapped_key, master_key_id FROM patient_keys');
    const { decrypt, unwrapPatientKey } = await import('@/lib/records/sealing');
    const keyOf = new Map(
      keys.rows.map((row) => [row.patient_id, unwrapPatientKey(row.wrapped_key, row.master_key_id)]),
    );
    for (const { payload } of sealed.rows) {
      for (const { patientId, box } of JSON.parse(payload.toString())) {
        const key = keyOf.get(patientId);
        if (!key) throw new Error('a sealed entry without its key');
        texts.push(decrypt(key, Buffer.from(box, 'base64')).toString());
      }
    }
    return texts.join('\n');
  });
}

function bytesAsText(line: string): string[] {
  return [...line.matchAll(/\\x([0-9a-f]+)/g)].map(([, hex]) =>
    Buffer.from(hex ?? '', 'hex').toString('latin1'),
  );
}
