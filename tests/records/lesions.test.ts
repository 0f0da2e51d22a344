import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LesionForm, lesionFormSchema } from '@/lib/registry/forms/lesion-form';
import { lesionValuesOf, type StoredLesions } from '@/lib/registry/forms/lesion-values';
import type { LesionElement } from '@/lib/registry/lesion-set';
import { ABATED, element, line, OPEN, ring, USUAL } from '../registry/lesion-sets';
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

const WHOLE = [
  ...ring('left-pair'),
  ...ring('right-pair'),
  line('roof', { block: 'bidirectional', blockTest: 'pacing' }),
];

function typed(
  elements: readonly LesionElement[],
  version: number,
  facts: Partial<StoredLesions> = {},
): LesionForm {
  const stored = {
    veins: USUAL,
    measuredInRhythm: 'sinus',
    settledStrategy: null,
    entranceBlock: 'all',
    exitBlock: 'all',
    waitingMinutes: 20,
    drugChallenge: 'adenosine',
    drugChallengeResult: 'no-conduction',
    elements,
    ...facts,
  };
  return lesionFormSchema.parse(lesionValuesOf(stored, version));
}

async function openCase(...days: string[]) {
  const { createPatient } = await import('@/lib/records/patients/write');
  const { recordProcedure } = await import('@/lib/records/procedures/write');
  const patient = await createPatient(lab.program, typedPatient(), key());
  const procedures = [];
  for (const day of days)
    procedures.push(await recordProcedure(lab.program, patient.id, typedProcedure(day), key()));
  return procedures.map(({ id }) => ({ id, patientId: patient.id }));
}

const rowsOf = async (procedureId: string) =>
  (await owner.query('SELECT * FROM lesion_elements WHERE procedure_id = $1', [procedureId])).rows;
const entriesOf = async (patientId: string) =>
  Number(
    (
      await owner.query(
        `SELECT count(*)::int AS n FROM audit_entries WHERE patient_id = $1 AND action = 'lesions.record'`,
        [patientId],
      )
    ).rows[0].n,
  );

describe('single applications', () => {
  const rows = (...seconds: string[]) =>
    seconds.map((one) => ['left-pair', 'superior', '', one, '35', '41.5', '118', '102', '1.2', '0.08']);
  const form = (version: number, applications: string[][] | null): LesionForm => ({
    ...lesionFormSchema.parse({ ...lesionValuesOf(typed(WHOLE, version), version), applications }),
    reason: 'late-information',
  });
  const numbersOf = async (procedureId: string) =>
    (
      await owner.query(
        'SELECT number, seconds::float8, version FROM rf_applications WHERE procedure_id = $1 ORDER BY number',
        [procedureId],
      )
    ).rows.map(({ number, seconds, version }) => [number, seconds, version]);

  it('come with the set, are replaced by another file, and stay where no file comes', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const { readLesions } = await import('@/lib/records/lesions/read');
    const { readCaseAt } = await import('@/lib/records/cases/earlier');
    const { readHistory } = await import('@/lib/records/cases/history');
    const [place] = await openCase('2024-03-01');
    await recordLesions(lab.program, place, form(1, rows('20', '30.5', '12')), key());
    const read = await readLesions(lab.program, place.id);
    expect(read?.applications).toMatchObject([
      { seconds: 20, powerW: 35, temperatureC: 41.5, amplitudeAfterUv: 80 },
      { seconds: 30.5, structure: 'left-pair' },
      { seconds: 12 },
    ]);
    const first = (await readHistory(lab.program, place.patientId))[0].seq;
    await recordLesions(lab.program, place, form(2, rows('20', '31')), key());
    expect(await numbersOf(place.id)).toEqual([
      [1, 20, 1],
      [2, 31, 2],
    ]);
    await recordLesions(lab.program, place, form(3, null), key());
    expect(await numbersOf(place.id)).toHaveLength(2);
    // The trail leads back to the first file.
    const earlier = await readCaseAt(lab.program, place.id, BigInt(first));
    expect(earlier?.rows.filter(({ entity }) => entity === 'rf_applications')).toHaveLength(3);
    await recordLesions(lab.program, place, form(4, []), key());
    expect(await numbersOf(place.id)).toEqual([]);
  });
});

describe('an unusual value of a lesion set', () => {
  it('is kept with its reason, apart from those of the procedure, and forgotten once it is usual', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const { readLesions } = await import('@/lib/records/lesions/read');
    const [place] = await openCase('2024-03-01');
    const far = ring('left-pair', ABATED, { superior: { ...ABATED, distanceMm: 25 } });
    const field = 'elements.left-pair.superior.distanceMm';
    const kept = [{ field, value: '25', reason: 'source-checked' }];
    await recordLesions(lab.program, place, typed(far, 1), key(), kept);
    const { rows } = await owner.query('SELECT field, value FROM kept_values WHERE procedure_id = $1', [
      place.id,
    ]);
    expect(rows).toEqual([{ field: `lesions:${field}`, value: '25' }]);
    expect((await readLesions(lab.program, place.id))?.kept).toEqual([{ field, reason: 'source-checked' }]);
    await recordLesions(lab.program, place, { ...typed(WHOLE, 2), reason: 'typing-error' }, key());
    expect((await readLesions(lab.program, place.id))?.kept).toEqual([]);
  });
});

describe('a lesion set', () => {
  it('is stored whole with its acute endpoint, read back as typed, and derives the strategy', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const { readLesions } = await import('@/lib/records/lesions/read');
    const actor = await lab.person('physician');
    const [place] = await openCase('2024-03-01');
    const form = typed(WHOLE, 1);
    expect(await recordLesions(actor, place, form, key())).toEqual({ id: place.id, version: 2 });
    const read = await readLesions(actor, place.id);
    expect(read).toMatchObject({
      version: 2,
      patientId: place.patientId,
      stored: { veins: USUAL, measuredInRhythm: 'sinus', entranceBlock: 'all', waitingMinutes: 20 },
      context: { ordinal: 1, energy: 'radiofrequency', needsReason: true, earlier: [] },
    });
    expect(lesionFormSchema.parse(lesionValuesOf({ ...form, ...read?.stored }, 1)).elements).toEqual(
      form.elements,
    );
    const { rows } = await owner.query('SELECT derived_strategy FROM analysis_rows WHERE procedure_id = $1', [
      place.id,
    ]);
    expect(rows[0].derived_strategy).toBe('wide-with-lines');
    // One for the procedure, one for each of 17 segments.
    expect(await entriesOf(place.patientId)).toBe(18);
  });

  it('changed touches only the segments that differ; what is no longer told of a ring is not recorded', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const [place] = await openCase('2024-03-01');
    await recordLesions(lab.program, place, typed(WHOLE, 1), key());
    const changed = [
      ...ring('left-pair', ABATED, { 'anterior-carina': OPEN }),
      ...ring('right-pair').slice(0, 7),
      line('roof', { block: 'bidirectional', blockTest: 'pacing' }),
    ];
    const form = { ...typed(changed, 2), reason: 'typing-error' as const };
    await recordLesions(lab.program, place, form, key());
    const rows = await rowsOf(place.id);
    expect(rows).toHaveLength(17);
    const touched = rows.filter((row) => row.version === 2);
    expect(touched.map((row) => [row.segment, row.state, row.amplitude_after_uv]).sort()).toEqual([
      ['anterior-carina', 'done', 200],
      ['postero-superior', 'not-recorded', null],
    ]);
    // First 18; then the procedure and two segments.
    expect(await entriesOf(place.patientId)).toBe(21);
    const { readHistory } = await import('@/lib/records/cases/history');
    const history = await readHistory(lab.program, place.patientId);
    const told = history
      .filter(({ reason }) => reason === 'typing-error')
      .map(({ entity, place }) => place ?? entity);
    expect(told.sort()).toEqual(['Left pair, anterior carina', 'Right pair, postero-superior', 'procedures']);
  });

  it('sent twice is stored once', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const [place] = await openCase('2024-03-01');
    const twice = key();
    const first = await recordLesions(lab.program, place, typed(WHOLE, 1), twice);
    expect(await recordLesions(lab.program, place, typed(WHOLE, 1), twice)).toEqual(first);
    expect(await entriesOf(place.patientId)).toBe(18);
  });

  it('of a version that is no longer stored answers what is stored, by path, and changes nothing', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const [place] = await openCase('2024-03-01');
    await recordLesions(lab.program, place, typed(WHOLE, 1), key());
    const stale = typed(ring('left-pair', OPEN), 1, { waitingMinutes: 5 });
    await expect(recordLesions(lab.program, place, stale, key())).rejects.toMatchObject({
      name: 'StaleEdit',
      storedVersion: 2,
      stored: {
        waitingMinutes: '20',
        'veins.lspv': true,
        'veins.rmpv': false,
        'elements.left-pair.superior.amplitudeAfter': '0.08',
        'elements.roof.line.block': 'bidirectional',
        'elements.floor.line.state': '',
      },
    });
    expect(await rowsOf(place.id)).toHaveLength(17);
  });

  it('of a repeat is read with the earlier sets of the same patient only', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const { readLesions } = await import('@/lib/records/lesions/read');
    const [first, repeat] = await openCase('2022-03-01', '2024-03-01');
    const [stranger] = await openCase('2022-03-01');
    await recordLesions(lab.program, first, typed(WHOLE, 1), key());
    await recordLesions(lab.program, stranger, typed(WHOLE, 1), key());
    const again = [element('left-pair', 'superior', { ...ABATED, reconnected: true })];
    await recordLesions(lab.program, repeat, typed(again, 1), key());
    const read = await readLesions(lab.program, repeat.id);
    expect(read?.context).toMatchObject({ ordinal: 2, earlier: [{ ordinal: 1, performedOn: '2022-03-01' }] });
    expect(read?.context.earlier[0].elements).toHaveLength(17);
    expect(read?.stored.elements).toHaveLength(8);
    expect(read?.stored.elements.filter(({ state }) => state === 'done')).toMatchObject([
      { segment: 'superior', reconnected: true },
    ]);
  });

  it('of another lab is not found', async () => {
    const { readLesions } = await import('@/lib/records/lesions/read');
    const { createLab } = await import('@/lib/records/labs/write');
    const { actorOfProgram } = await import('@/lib/records/actor-of-program');
    const [place] = await openCase('2024-03-01');
    const stranger = await actorOfProgram('test', await createLab('Other lab'));
    expect(await readLesions(stranger, place.id)).toBeNull();
  });

  it('of a signed case leaves the signature and says when it was amended', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const { readLesions } = await import('@/lib/records/lesions/read');
    const signer = await lab.person('physician');
    const [place] = await openCase('2024-03-01');
    await owner.query(
      `UPDATE procedures SET state = 'signed', signed_by_id = $2, signed_at = now() WHERE id = $1`,
      [place.id, signer.id],
    );
    expect((await readLesions(signer, place.id))?.context.needsReason).toBe(true);
    await recordLesions(signer, place, { ...typed(WHOLE, 1), reason: 'late-information' }, key());
    const { rows } = await owner.query('SELECT state, amended_at FROM procedures WHERE id = $1', [place.id]);
    expect(rows[0]).toMatchObject({ state: 'signed', amended_at: expect.any(Date) });
  });

  it('that the database itself must never hold is refused by it', async () => {
    const { recordLesions } = await import('@/lib/records/lesions/write');
    const [place] = await openCase('2024-03-01');
    const impossible = [element('left-pair', 'superior', { state: 'not-applicable' })];
    await expect(
      recordLesions(lab.program, place, { ...typed([], 1), elements: impossible }, key()),
    ).rejects.toThrow();
    expect(await rowsOf(place.id)).toEqual([]);
  });
});
