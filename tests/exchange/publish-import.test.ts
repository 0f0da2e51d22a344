import { randomBytes } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { findEarlierImport, publishImport } from '@/lib/exchange/publish-import';
import { decodeRhythmCsv } from '@/lib/exchange/rhythm-csv';
import { importToLoad } from '@/lib/exchange/rhythm-to-patients';
import { calendarDay } from '@/lib/registry/calendar-day';
import { isPatientCode } from '@/lib/registry/patient-code';
import { mappingOf } from './mapping-of-tests';

const mapping = mappingOf();
const csv = 'id,months,af,arm,sex,age\na,1,0,1,f,60\na,2,1,1,f,60\nb,12,0,2,m,71\nc,x,0,2,m,71\n';
const decoded = decodeRhythmCsv(new TextEncoder().encode(csv), mapping, calendarDay('2026-01-31'));
if (decoded.kind === 'refused') throw new Error(decoded.finding.reason);

function means() {
  let ids = 0;
  return {
    fileSha256: new Uint8Array(32),
    nextId: () => `id-${++ids}`,
    randomBytes: (size: number): Uint8Array => randomBytes(size),
    takenCodes: [] as string[],
  };
}

describe('rows to load', () => {
  it('are one procedure on day zero and a recording per reading, all of one patient and batch', () => {
    const { patients, batch } = importToLoad(decoded, mapping, means());
    expect(batch).toMatchObject({ id: 'id-1', source: mapping.source, rows: 4, published: 3, refused: 1 });
    const [first, second] = patients;
    expect(patients).toHaveLength(2);
    expect(first?.patient).toMatchObject({
      birthYear: 1963,
      sex: 'female',
      cohortTag: 'control',
      importBatchId: 'id-1',
    });
    expect(isPatientCode(first?.patient.code ?? '')).toBe(true);
    expect(first?.procedures).toEqual([
      {
        id: expect.any(String),
        patientId: first?.patient.id,
        ordinal: 1,
        performedOn: '2024-01-15',
        ageYears: 60,
        importBatchId: 'id-1',
      },
    ]);
    const shown = first?.recordings.map(({ startedOn, endedOn, rhythm, wholeTracing, source, kind }) => [
      startedOn,
      endedOn,
      rhythm,
      wholeTracing,
      source,
      kind,
    ]);
    expect(shown).toEqual([
      ['2024-02-14', '2024-02-14', 'sinus', false, 'reported', 'rhythm-strip'],
      ['2024-03-16', '2024-03-16', 'af', true, 'reported', 'rhythm-strip'],
    ]);
    expect(second?.recordings.map(({ startedOn }) => startedOn)).toEqual(['2025-01-14']);
  });

  it('name the patient of the file in one place alone, together with the source', () => {
    const { patients, batch } = importToLoad(decoded, mapping, means());
    expect(patients.map(({ importReference }) => JSON.parse(importReference))).toEqual([
      [mapping.source, 'A'],
      [mapping.source, 'B'],
    ]);
    const rest = patients.map(({ importReference: _named, ...others }) => others);
    expect(JSON.stringify([rest, batch])).not.toMatch(/"[AB]"|"[ab]"/);
  });

  it('have codes that differ from each other and from those taken, even when chance repeats itself', () => {
    let draws = 0;
    const repeating = (size: number): Uint8Array => new Uint8Array(size).fill(Math.floor(draws++ / 3));
    const free = importToLoad(decoded, mapping, { ...means(), randomBytes: repeating });
    const taken = free.patients.map(({ patient }) => patient.code);
    expect(new Set(taken).size).toBe(2);
    draws = 0;
    const again = importToLoad(decoded, mapping, { ...means(), randomBytes: repeating, takenCodes: taken });
    expect(again.patients.filter(({ patient }) => taken.includes(patient.code))).toEqual([]);
  });
});

describe('publishing', () => {
  /** A loader that throws these codes in turn before it takes anything. */
  const failing = (codes: readonly string[]) => {
    const left = [...codes];
    const drawn: string[] = [];
    const load = async ({ patients }: ReturnType<typeof importToLoad>): Promise<void> => {
      drawn.push(...patients.map(({ patient }) => patient.code));
      const code = left.shift();
      if (code) throw Object.assign(new Error(`words for ${code}`), { code });
    };
    return { load, drawn };
  };

  it('draws codes anew when one was taken meanwhile', async () => {
    const { load, drawn } = failing(['code-taken']);
    const answer = await publishImport(decoded, mapping, { ...means(), load });
    expect(answer).toMatchObject({ kind: 'written', patients: 2, readings: 3 });
    expect(new Set(drawn).size).toBe(4);
  });

  it('gives up after three tries, and passes on what it does not know', async () => {
    const stubborn = failing(Array.from({ length: 9 }, () => 'code-taken'));
    await expect(publishImport(decoded, mapping, { ...means(), load: stubborn.load })).rejects.toThrow(
      'words for code-taken',
    );
    expect(stubborn.drawn).toHaveLength(6);
    const other = failing(['ECONNRESET']);
    await expect(publishImport(decoded, mapping, { ...means(), load: other.load })).rejects.toThrow(
      'words for ECONNRESET',
    );
    expect(other.drawn).toHaveLength(2);
    // A name of a rule among the words is no code.
    const wordy = new Error('patients-known');
    const load = () => Promise.reject(wordy);
    await expect(publishImport(decoded, mapping, { ...means(), load })).rejects.toBe(wordy);
  });

  it('says in the words of the loader when the patients or the file are here already', async () => {
    for (const code of ['patients-known', 'file-known']) {
      const answer = await publishImport(decoded, mapping, { ...means(), load: failing([code]).load });
      expect(answer).toEqual({ kind: code, message: `words for ${code}` });
    }
  });

  it('knows an earlier import by source and fingerprint', () => {
    const past = [{ source: 's', fingerprint: '0a0b0c', at: '2026-01-01T00:00:00Z' }];
    const bytes = Uint8Array.of(10, 11, 12, 13);
    expect(findEarlierImport(past, 's', bytes)).toBe(past[0]);
    expect(findEarlierImport(past, 't', bytes)).toBeUndefined();
    expect(findEarlierImport(past, 's', Uint8Array.of(10, 11, 13, 12))).toBeUndefined();
  });
});
