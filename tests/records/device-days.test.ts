import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import { withClient } from '../../lib/launch/database-client.mjs';
import { key, typedPatient, typedProcedure } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;
let folder: string;
const PERFORMED = calendarDay('2025-01-10');

beforeAll(async () => {
  lab = await openLab();
  folder = await mkdtemp(path.join(tmpdir(), 'afterbeat-device-'));
});
afterAll(async () => {
  await rm(folder, { recursive: true });
  await lab.close();
});

async function freshPatient(performedOn: string = PERFORMED) {
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  const patient = await createPatient(lab.program, typedPatient(), key());
  const procedure = await recordProcedure(lab.program, patient.id, typedProcedure(performedOn), key());
  const [{ code }] = await sql<{ code: string }>('SELECT code FROM patients WHERE id = $1', [patient.id]);
  return { patientId: patient.id, procedureId: procedure.id, code };
}

async function sql<Row>(query: string, values: readonly unknown[] = []): Promise<Row[]> {
  return withClient(lab.database.ownerUrl, async (client) => (await client.query(query, [...values])).rows);
}

/** Rows of a file: quiet days from one day after the procedure to another, with burdens on some. */
function quietRows(code: string, from: number, to: number, burdens: Record<number, string> = {}): string[] {
  return Array.from({ length: to - from + 1 }, (_, index) => {
    const day = from + index;
    return `${code},${addDays(PERFORMED, day)},implanted-monitor,${burdens[day] ?? '0,'}`;
  });
}

async function importRows(rows: readonly string[], ...options: readonly string[]) {
  const { runDeviceImport } = await import('@/lib/launch/commands/import-device-days');
  const csv = `patient,day,device,burden_seconds,longest_episode_seconds\n${rows.join('\n')}\n`;
  await writeFile(path.join(folder, 'days.csv'), csv);
  const said: string[] = [];
  const code = await runDeviceImport(['days.csv', `--lab=${lab.labId}`, ...options], {
    folder,
    say: (line) => said.push(line),
  });
  return { code, said };
}

const countOf = async (table: string) =>
  Number((await sql<{ n: string }>(`SELECT count(*) AS n FROM ${table}`))[0]?.n);

async function outcomeOf(procedureId: string, rules: object = {}) {
  const { readCohort } = await import('@/lib/records/cohort');
  const { deriveOutcomes, placeOfCase } = await import('@/lib/registry/time-to-event');
  const { explainOutcome } = await import('@/lib/registry/time-to-event-sentence');
  const { ENDPOINT_PRESETS } = await import('@/lib/registry/endpoint-presets');
  const cohort = await readCohort(lab.program);
  const ignored = ENDPOINT_PRESETS.find(({ code }) => code === 'on-or-off-drugs');
  if (!ignored) throw new Error('no preset');
  const outcomes = deriveOutcomes(cohort, { ...ignored.rules, ...rules });
  const index = cohort.procedureId.indexOf(procedureId);
  const place = placeOfCase(outcomes, index);
  return {
    time: place?.kind === 'analysed' ? outcomes.timeDays[place.position] : null,
    status: place?.kind === 'analysed' ? outcomes.status[place.position] : null,
    sentence: explainOutcome(cohort, outcomes, index),
  };
}

describe('importing device days', () => {
  it('writes nothing as long as it is not told to', async () => {
    const { code } = await freshPatient();
    const trail = await countOf('audit_entries');
    const answer = await importRows(quietRows(code, 0, 9));
    expect(answer.code).toBe(0);
    expect(answer.said).toContain('Days to add: 10 (2025-01-10 to 2025-01-19), 0 with arrhythmia');
    expect(answer.said.at(-1)).toBe('Dry run: nothing was written. Add --publish to write it.');
    expect(await countOf('audit_entries')).toBe(trail);
  });

  it('stores the days, the trail and the evidence in one write, and the same file again changes nothing', async () => {
    const one = await freshPatient();
    const rows = quietRows(one.code, 0, 400, { 200: '5400,700' });
    const answer = await importRows(rows, '--publish');
    expect(answer.said.at(-1)).toBe('Written: 401 days of 1 patient.');
    const days = 'SELECT count(*)::int AS n FROM device_days WHERE patient_id = $1';
    expect(await sql(days, [one.patientId])).toEqual([{ n: 401 }]);
    expect(await outcomeOf(one.procedureId)).toEqual({
      time: 200,
      status: 1,
      sentence: 'AF of 700 s on day 200, continuous.',
    });
    expect(await outcomeOf(one.procedureId, { minimumSeconds: 800 })).toMatchObject({ time: 400, status: 0 });

    const trail = await countOf('audit_entries');
    const again = await importRows(rows, '--publish');
    expect(again.code).toBe(0);
    expect(again.said.at(-1)).toBe('Everything in the file is stored already; nothing was changed.');
    expect(await countOf('audit_entries')).toBe(trail);
    expect(await sql(days, [one.patientId])).toEqual([{ n: 401 }]);
  });

  it('takes the burden where no longest episode is given, and says that it is an upper limit', async () => {
    const one = await freshPatient();
    await importRows(quietRows(one.code, 0, 300, { 150: '29,', 200: '5400,' }), '--publish');
    expect(await outcomeOf(one.procedureId)).toMatchObject({
      time: 200,
      sentence: 'AF of at most 5400 s (the burden of the day) on day 200, continuous.',
    });
  });

  it('goes on where it was stopped, when the same file comes again', async () => {
    const [first, second] = [await freshPatient(), await freshPatient()];
    const rows = [...quietRows(first.code, 0, 30), ...quietRows(second.code, 0, 30)];
    const stopped = await import('@/lib/exchange/publish-device-days');
    const { openDeviceBatch, storeDeviceDays } = await import('@/lib/records/device-days/write');
    const { decodeDeviceCsv } = await import('@/lib/exchange/device-csv');
    const { planDeviceImport } = await import('@/lib/exchange/device-plan');
    const { readDevicePatients } = await import('@/lib/records/device-days/read');
    const { readImports } = await import('@/lib/records/imports/read');
    const { createHash } = await import('node:crypto');
    const csv = `patient,day,device,burden_seconds,longest_episode_seconds\n${rows.join('\n')}\n`;
    const bytes = new TextEncoder().encode(csv);
    const decoded = decodeDeviceCsv(bytes, calendarDay('2026-11-25'));
    if (decoded.kind !== 'decoded') throw new Error('not decoded');
    const plan = planDeviceImport(decoded, await readDevicePatients(lab.program, [first.code, second.code]));
    let written = 0;
    const fileSha256 = new Uint8Array(createHash('sha256').update(bytes).digest());
    const killed = stopped.publishDeviceDays(decoded, plan, 'keep', {
      openBatch: (file) => openDeviceBatch(lab.program, { ...file, fileSha256 }),
      storePatient: async (batchId, patient) => {
        if (written === 1) throw new Error('the program ends here');
        await storeDeviceDays(lab.program, batchId, patient);
        written += 1;
      },
    });
    await expect(killed).rejects.toThrow('the program ends here');
    const days =
      'SELECT patient_id, count(*)::int AS n FROM device_days WHERE patient_id = ANY($1) GROUP BY 1';
    const both = [[first.patientId, second.patientId]];
    expect(await sql(days, both)).toEqual([{ patient_id: first.patientId, n: 31 }]);
    expect((await readImports(lab.program))[0]).toMatchObject({ stoppedAt: { done: 1, planned: 2 } });

    const answer = await importRows(rows, '--publish');
    expect(answer.said).toContain('Days stored already: 31');
    expect(answer.said.at(-1)).toBe('Written: 31 days of 1 patient.');
    expect(await sql(days, both)).toHaveLength(2);
    const batches =
      'SELECT published, patients_done, patients_planned FROM import_batches WHERE file_sha256 = $1';
    expect(await sql(batches, [Buffer.from(fileSha256)])).toEqual([
      { published: 62, patients_done: 1, patients_planned: 1 },
    ]);
    expect((await readImports(lab.program))[0]).toMatchObject({ stoppedAt: null });
  });

  it('asks before it replaces, and the trail keeps both values', async () => {
    const one = await freshPatient();
    await importRows(quietRows(one.code, 0, 200, { 150: '600,600' }), '--publish');
    const corrected = quietRows(one.code, 0, 200, { 150: '20,20' });
    const asked = await importRows(corrected, '--publish');
    expect(asked.code).toBe(1);
    expect(asked.said.at(-1)).toContain('add --keep to leave them, or --replace');
    expect(await outcomeOf(one.procedureId)).toMatchObject({ time: 150 });

    expect((await importRows(corrected, '--publish', '--keep')).said.at(-1)).toContain('nothing was changed');
    expect((await importRows(corrected, '--publish', '--replace')).said.at(-1)).toBe(
      'Written: 1 day of 1 patient.',
    );
    expect(await outcomeOf(one.procedureId)).toMatchObject({ time: 200, status: 0 });
    const { openedTrail } = await import('@/lib/records/cases/trail');
    const trail = (await openedTrail(lab.program, one.patientId, 0n)) ?? [];
    const last = trail.at(-1);
    expect(last?.payload.before?.values).toEqual([['2025-06-09', 'implanted-monitor', 600, 600]]);
    expect(last?.payload.after?.values).toEqual([['2025-06-09', 'implanted-monitor', 20, 20]]);
  });

  it('refuses to write over what somebody changed since the check', async () => {
    const one = await freshPatient();
    const { storeDeviceDays, openDeviceBatch } = await import('@/lib/records/device-days/write');
    const batchId = await openDeviceBatch(lab.program, {
      source: 'Device days',
      fileSha256: new Uint8Array(32).fill(9),
      rows: 1,
      refused: 0,
      patientsPlanned: 1,
    });
    const quiet = {
      day: PERFORMED,
      device: 'pacemaker' as const,
      burdenSeconds: 0,
      longestEpisodeSeconds: null,
    };
    const store = (version: number) =>
      storeDeviceDays(lab.program, batchId, {
        patientId: one.patientId,
        version,
        adds: [quiet],
        replaces: [],
      });
    await expect(store(7)).rejects.toMatchObject({ kind: 'conflict' });
    await store(1);
    // Added by somebody else meanwhile.
    await expect(store(1)).rejects.toMatchObject({ kind: 'conflict' });
  });

  it('leaves refused rows out only when told so', async () => {
    const one = await freshPatient();
    const rows = [...quietRows(one.code, 0, 3), `${one.code},2025-13-01,implanted-monitor,0,`];
    expect((await importRows(rows, '--publish')).code).toBe(1);
    const answer = await importRows(rows, '--publish', '--accept-refused');
    expect(answer.said.at(-1)).toBe('Written: 4 days of 1 patient.');
  });

  it('is the evidence that planned follow-ups wait for, as long as their own recording would be', async () => {
    const one = await freshPatient();
    const { readFollowedCase } = await import('@/lib/records/cases/followed');
    const spans = async () => (await readFollowedCase(lab.program, one.procedureId))?.recordings ?? [];
    await importRows([...quietRows(one.code, 80, 99), ...quietRows(one.code, 110, 117)], '--publish');
    expect((await spans()).map(({ grade, firstDay, lastDay }) => [grade, lastDay - firstDay + 1])).toEqual([
      ['continuous', 20],
      ['7d', 8],
    ]);
  });

  it('is told in the history of the case, and earlier states of the record still open', async () => {
    const one = await freshPatient();
    await importRows(quietRows(one.code, 0, 3, { 2: '60,60' }), '--publish');
    const { readHistory } = await import('@/lib/records/cases/history');
    const { readCaseAt } = await import('@/lib/records/cases/earlier');
    const [latest, before] = await readHistory(lab.program, one.patientId);
    expect(latest).toMatchObject({ entity: 'device_days', reason: 'imported' });
    expect(latest?.changes).toEqual([
      { field: 'deviceDays', from: '', to: '4' },
      { field: 'firstDay', from: '', to: '2025-01-10' },
      { field: 'lastDay', from: '', to: '2025-01-13' },
      { field: 'withArrhythmia', from: '', to: '1' },
    ]);
    const earlier = await readCaseAt(lab.program, one.procedureId, BigInt(before?.seq ?? 0));
    expect(earlier?.rows.some(({ entity }) => entity === 'procedures')).toBe(true);
  });

  it('is called wrongly with a reason and a usage', async () => {
    const { runDeviceImport } = await import('@/lib/launch/commands/import-device-days');
    const said: string[] = [];
    const run = (...args: string[]) => runDeviceImport(args, { folder, say: (line) => said.push(line) });
    expect(await run()).toBe(2);
    expect(await run('a.csv', '--keep', '--replace')).toBe(2);
    expect(await run('a.csv', '--often')).toBe(2);
    expect(await run('nowhere.csv')).toBe(2);
    expect(said).toContain('Name the file to import.');
    expect(said).toContain('--keep and --replace exclude each other.');
  });
});

describe('the database refuses', () => {
  it.each([
    ['a burden longer than a day', 86_401, null],
    ['a negative burden', -1, null],
    ['an episode longer than the burden', 60, 61],
    ['an episode of nothing', 60, 0],
  ])('%s', async (_what, burden, longest) => {
    const one = await freshPatient();
    const insert = sql(
      'INSERT INTO device_days (lab_id, patient_id, day, device, burden_seconds, longest_episode_seconds) VALUES ($1, $2, $3, $4, $5, $6)',
      [lab.labId, one.patientId, '2025-01-11', 'pacemaker', burden, longest],
    );
    await expect(insert).rejects.toMatchObject({ code: '23514' });
  });
});
