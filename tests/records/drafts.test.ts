import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { key, typedPatient } from './entries';
import { type OpenLab, openLab } from './lab-in-database';

let lab: OpenLab;

beforeAll(async () => {
  lab = await openLab();
});
afterAll(() => lab.close());

describe('a draft', () => {
  it('is kept for one person, form and subject, the last values in place of those before', async () => {
    const { createPatient } = await import('@/lib/records/patients/write');
    const { dropDraft, keepDraft } = await import('@/lib/records/drafts/write');
    const { readDraft } = await import('@/lib/records/drafts/read');
    const [physician, director] = [await lab.person('physician'), await lab.person('director')];
    const { id: subject } = await createPatient(physician, typedPatient(), key());
    const place = { form: 'procedure-new', subject } as const;
    await keepDraft(physician, { ...place, values: { ageYears: '6' } });
    const at = await keepDraft(physician, { ...place, values: { ageYears: '63', baseline: { drugs: [] } } });
    expect(await readDraft(physician, 'procedure-new', subject)).toEqual({
      values: { ageYears: '63', baseline: { drugs: [] } },
      at: at?.toISOString(),
    });
    expect(await readDraft(director, 'procedure-new', subject)).toBeNull();
    expect(await readDraft(physician, 'procedure', subject)).toBeNull();
    await dropDraft(director, place);
    expect(await readDraft(physician, 'procedure-new', subject)).not.toBeNull();
    await dropDraft(physician, place);
    await dropDraft(physician, place);
    expect(await readDraft(physician, 'procedure-new', subject)).toBeNull();
  });

  it('about something that the lab does not have is not kept', async () => {
    const { keepDraft } = await import('@/lib/records/drafts/write');
    const physician = await lab.person('physician');
    for (const form of ['procedure-new', 'procedure', 'visit-new', 'visit'] as const) {
      expect(await keepDraft(physician, { form, subject: randomUUID(), values: {} })).toBeNull();
    }
  });
});
