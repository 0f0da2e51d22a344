import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { DEFAULT_SLOTS } from '@/lib/registry/follow-up-schedule';
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

const insert = (strategy: string | null, versionNumber: number, rest: Record<string, unknown> = {}) => {
  const columns = {
    lab_id: lab.labId,
    id: randomUUID(),
    strategy,
    version_number: versionNumber,
    slots: JSON.stringify(DEFAULT_SLOTS.slice(0, 2)),
    ...rest,
  };
  const marks = Object.keys(columns).map((_, index) => `$${index + 1}`);
  return owner.query(
    `INSERT INTO follow_up_schedules (${Object.keys(columns)}) VALUES (${marks})`,
    Object.values(columns),
  );
};

it('schedules that were stored before take effect on the day on which they were made, the first from the beginning', async () => {
  await owner.query(`DROP TRIGGER follow_up_schedules_never_emptied ON follow_up_schedules;
    ALTER TABLE follow_up_schedules DROP CONSTRAINT follow_up_schedules_version_counts_from_one,
      DROP CONSTRAINT follow_up_schedules_day_from_the_second_on, DROP COLUMN effective_on`);
  await insert(null, 2, { created_at: '2025-03-04T10:00:00Z' });
  await insert('ostial', 1, { created_at: '2025-05-06T10:00:00Z' });
  await owner.query(
    readFileSync('prisma/migrations/20261201010000_schedule_effective/migration.sql', 'utf8'),
  );
  const { readSchedules } = await import('@/lib/records/schedules/read');
  const stored = (await readSchedules(lab.program)).map(({ strategy, versionNumber, effectiveOn }) => [
    strategy,
    versionNumber,
    effectiveOn,
  ]);
  expect(stored).toHaveLength(3);
  expect(stored).toContainEqual([null, 1, null]);
  expect(stored).toContainEqual([null, 2, '2025-03-04']);
  expect(stored).toContainEqual(['ostial', 1, '2025-05-06']);
});

it('the database refuses a version without a day, a number twice, and any change', async () => {
  await expect(insert(null, 3)).rejects.toMatchObject({ code: '23514' });
  await expect(insert('mixed', 1)).rejects.toMatchObject({ code: '23514' });
  await expect(insert('mixed', 0, { effective_on: '2026-01-01' })).rejects.toMatchObject({ code: '23514' });
  await expect(insert(null, 2, { effective_on: '2026-01-01' })).rejects.toMatchObject({ code: '23505' });
  for (const statement of [
    "UPDATE follow_up_schedules SET effective_on = '2026-01-01'",
    'DELETE FROM follow_up_schedules',
    'TRUNCATE follow_up_schedules',
  ])
    await expect(owner.query(statement)).rejects.toMatchObject({ code: '42501' });
});
