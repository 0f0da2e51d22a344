import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { givenUrls } from '../../lib/launch/database.mjs';
import { rightsOn } from '../../lib/launch/grants.mjs';
import { type Purpose, requirePurpose } from '../../lib/launch/lab-state.mjs';
import { pendingMigrations, readMigrations } from '../../lib/launch/migrate.mjs';
import { temporaryFolder } from './temporary-folder';

const first = { name: '1_first', sql: 'SELECT 1', checksum: 'aa' };
const second = { name: '2_second', sql: 'SELECT 2', checksum: 'bb' };
const done = (name: string, checksum: string) => ({
  migration_name: name,
  checksum,
  finished_at: new Date(0),
});

test('migrations are read in the order of their names, with the SHA-256 of their bytes', () => {
  const folder = temporaryFolder();
  for (const name of ['20260102_b', '20260101_a']) {
    mkdirSync(path.join(folder, name));
    writeFileSync(path.join(folder, name, 'migration.sql'), `-- ${name}\n`);
  }
  mkdirSync(path.join(folder, 'empty'));
  writeFileSync(path.join(folder, 'migration_lock.toml'), '');
  expect(readMigrations(folder)).toEqual(
    ['20260101_a', '20260102_b'].map((name) => ({
      name,
      sql: `-- ${name}\n`,
      checksum: createHash('sha256').update(`-- ${name}\n`).digest('hex'),
    })),
  );
});

test('what is not in the ledger is pending', () => {
  expect(pendingMigrations([first, second], [])).toEqual([first, second]);
  expect(pendingMigrations([first, second], [done('1_first', 'aa')])).toEqual([second]);
  expect(pendingMigrations([first, second], [done('2_second', 'bb'), done('1_first', 'aa')])).toEqual([]);
});

test('a migration that was changed after it was applied is refused', () => {
  expect(() => pendingMigrations([first], [done('1_first', 'changed')])).toThrow(/1_first was changed after/);
});

test('a database that is newer than the code is refused', () => {
  const ledger = [done('1_first', 'aa'), done('3_third', 'cc')];
  expect(() => pendingMigrations([first, second], ledger)).toThrow(/newer than this version.*3_third/);
});

test('a migration that another tool left unfinished is refused', () => {
  const ledger = [{ ...done('1_first', 'aa'), finished_at: null }];
  expect(() => pendingMigrations([first], ledger)).toThrow(/never finished/);
});

test('the app may write rows, but what is written once stays, and what harmed a patient is never taken away', () => {
  expect(rightsOn('patients')).toEqual(['SELECT', 'INSERT', 'UPDATE', 'DELETE']);
  for (const table of ['audit_entries', 'endpoint_definitions', 'follow_up_schedules']) {
    expect(rightsOn(table)).toEqual(['SELECT', 'INSERT']);
  }
  for (const table of ['complications', 'readmissions']) {
    expect(rightsOn(table)).toEqual(['SELECT', 'INSERT', 'UPDATE']);
  }
  expect(rightsOn('_prisma_migrations')).toEqual(['SELECT']);
});

test.each<[Purpose, number, boolean, boolean]>([
  ['unmarked', 0, true, true],
  ['unmarked', 1, false, true],
  ['demo', 1, true, false],
  ['demo-loading', 1, true, false],
  ['production', 1, false, true],
  ['production', 0, false, true],
])(
  'a database marked %s with %i labs: demo %s, production %s',
  (purpose, labs, servesDemo, servesProduction) => {
    const state = { purpose, labs, definitions: 0, patients: 0, administrators: 0 };
    const serves = (isProduction: boolean) => {
      try {
        requirePurpose(state, { isProduction });
        return true;
      } catch {
        return false;
      }
    };
    expect([serves(false), serves(true)]).toEqual([servesDemo, servesProduction]);
  },
);

test('addresses given by the person: one role may serve a demo lab, never a real one', () => {
  const app = 'postgresql://app:a@h/d';
  const owner = 'postgresql://owner:o@h/d';
  expect(givenUrls({}, false)).toBeUndefined();
  expect(givenUrls({ DATABASE_URL: app }, false)?.ownerUrl).toBe(`${app}?options=-c%20TimeZone%3DUTC`);
  expect(() => givenUrls({ DATABASE_URL: app }, true)).toThrow(/one role would serve both/);
  expect(() => givenUrls({ DATABASE_OWNER_URL: owner }, false)).toThrow(/without DATABASE_URL/);
  expect(givenUrls({ DATABASE_URL: app, DATABASE_OWNER_URL: owner }, true)?.ownerUrl).toContain(
    'owner:o@h/d',
  );
});
