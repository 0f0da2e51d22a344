import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openLabDatabase } from '../../lib/launch/database.mjs';
import { withClient } from '../../lib/launch/database-client.mjs';
import { makeFirstRunLink } from '../../lib/launch/first-administrator.mjs';
import { markPurpose, readLabState } from '../../lib/launch/lab-state.mjs';
import { migrate, readMigrations } from '../../lib/launch/migrate.mjs';
import { openTestDatabase, type TestDatabase } from '../support/database';
import { startTestDatabaseServer, type TestDatabaseServer } from '../support/database-server';

let server: TestDatabaseServer;
let stop: () => Promise<void>;
let database: TestDatabase;

beforeAll(async () => {
  ({ server, stop } = await startTestDatabaseServer());
  database = await openTestDatabase(server);
}, 60_000);
afterAll(async () => {
  await database.close();
  await stop();
});

const migrations = readMigrations();
const asOwner = (sql: string) =>
  withClient(database.ownerUrl, async (client) => (await client.query(sql)).rows);
const asApp = (sql: string) => withClient(database.appUrl, async (client) => (await client.query(sql)).rows);
const asAdmin = (sql: string) =>
  withClient(server.adminUrl, async (client) => (await client.query(sql)).rows);
const open = (given: { owner?: string; app?: string; isProduction?: boolean }) =>
  openLabDatabase({
    dataDir: '/nowhere',
    env: { DATABASE_OWNER_URL: given.owner ?? database.ownerUrl, DATABASE_URL: given.app ?? database.appUrl },
    isProduction: given.isProduction ?? true,
    log: () => {},
  });

test('the ledger of migrations is the one that Prisma keeps', async () => {
  const rows = await asOwner(
    `SELECT migration_name, checksum, finished_at >= started_at AS finished, rolled_back_at, applied_steps_count
     FROM _prisma_migrations ORDER BY migration_name`,
  );
  expect(rows).toEqual(
    migrations.map(({ name, sql }) => ({
      migration_name: name,
      checksum: createHash('sha256').update(sql).digest('hex'),
      finished: true,
      rolled_back_at: null,
      applied_steps_count: 1,
    })),
  );
});

test('a second run applies nothing; two at once apply each migration once', async () => {
  const extra = { name: '99990101_extra', sql: 'CREATE TABLE extra (a int)', checksum: 'e' };
  const all = [...migrations, extra];
  const [one, two] = await Promise.all([
    migrate({ ownerUrl: database.ownerUrl, migrations: all }),
    migrate({ ownerUrl: database.ownerUrl, migrations: all }),
  ]);
  expect([...one.applied, ...two.applied]).toEqual([extra.name]);
  expect(await migrate({ ownerUrl: database.ownerUrl, migrations: all })).toEqual({
    applied: [],
    version: extra.name,
  });
  await expect(migrate({ ownerUrl: database.ownerUrl })).rejects.toThrow(/newer than this version/);
  await asOwner(`DROP TABLE extra; DELETE FROM _prisma_migrations WHERE migration_name = '${extra.name}'`);
});

test('a migration that fails leaves nothing behind, and says so', async () => {
  const bad = { name: '99990102_bad', sql: 'CREATE TABLE half (a int); SELECT 1 / 0;', checksum: 'b' };
  const run = () => migrate({ ownerUrl: database.ownerUrl, migrations: [...migrations, bad] });
  await expect(run()).rejects.toThrow(/99990102_bad failed and was taken back whole: division by zero/);
  expect(await asOwner("SELECT to_regclass('half') AS half")).toEqual([{ half: null }]);
  await expect(run()).rejects.toThrow(/division by zero/);
});

test('the app’s role has exactly its rights', async () => {
  const tables = await asOwner("SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1");
  expect(tables.length).toBeGreaterThan(20);
  for (const { tablename } of tables) {
    const [held] = await asApp(
      `SELECT ${['SELECT', 'INSERT', 'UPDATE', 'DELETE', 'TRUNCATE', 'REFERENCES', 'TRIGGER']
        .map((right) => `has_table_privilege('${tablename}', '${right}') AS "${right}"`)
        .join(', ')}`,
    );
    const once = ['audit_entries', 'endpoint_definitions', 'follow_up_schedules'].includes(tablename);
    const kept = ['complications', 'readmissions'].includes(tablename);
    const ledger = tablename === '_prisma_migrations';
    expect({ tablename, ...held }).toEqual({
      tablename,
      SELECT: true,
      INSERT: !ledger,
      UPDATE: !ledger && !once,
      DELETE: !ledger && !once && !kept,
      TRUNCATE: false,
      REFERENCES: false,
      TRIGGER: false,
    });
  }
  await expect(asApp('CREATE TABLE mine (a int)')).rejects.toThrow(/permission denied/);
  await expect(asApp('ALTER TABLE audit_entries DISABLE TRIGGER ALL')).rejects.toThrow(/must be owner/);
  await expect(asApp('CREATE TEMP TABLE mine (a int)')).rejects.toThrow(/permission denied/);
});

test('production opens with two roles, and refuses one role for both', async () => {
  const opened = await open({});
  expect(opened.appUrl).toContain('options=-c%20TimeZone%3DUTC');
  await expect(open({ app: database.ownerUrl })).rejects.toThrow(/has the rights of the owner/);
  await asAdmin('GRANT afterbeat_owner TO afterbeat_app');
  await expect(open({})).rejects.toThrow(/has the rights of the owner/);
  await asAdmin('REVOKE afterbeat_owner FROM afterbeat_app');
  await expect(open({ app: database.ownerUrl, isProduction: false })).resolves.toBeDefined();
});

test.each(['fsync', 'full_page_writes'])('a server with %s off is refused', async (setting) => {
  await asAdmin(`ALTER SYSTEM SET ${setting} = off`);
  await asAdmin('SELECT pg_reload_conf()');
  try {
    await expect.poll(() => asAdmin(`SHOW ${setting}`)).toEqual([{ [setting]: 'off' }]);
    await expect(open({})).rejects.toThrow(new RegExp(`because ${setting} is off`));
  } finally {
    await asAdmin(`ALTER SYSTEM RESET ${setting}`);
    await asAdmin('SELECT pg_reload_conf()');
    await expect.poll(() => asAdmin(`SHOW ${setting}`)).toEqual([{ [setting]: 'on' }]);
  }
});

test('an app’s role for which synchronous_commit is off is refused', async () => {
  await asAdmin('ALTER ROLE afterbeat_app SET synchronous_commit = off');
  await expect(open({})).rejects.toThrow(/because synchronous_commit is off/);
  await asAdmin('ALTER ROLE afterbeat_app RESET synchronous_commit');
  await open({});
});

test.each([
  ['a wrong password', (url: URL) => Object.assign(url, { password: 'wrong' }), /does not open: password/],
  [
    'an absent database',
    (url: URL) => Object.assign(url, { pathname: '/absent' }),
    /does not open: database "absent"/,
  ],
  ['a silent port', (url: URL) => Object.assign(url, { port: '1' }), /does not open: connect ECONNREFUSED/],
])('%s is said without showing the password', async (_name, change, message) => {
  const url = change(new URL(database.appUrl));
  await expect(open({ app: url.toString() })).rejects.toThrow(message);
  await expect(open({ app: url.toString() })).rejects.not.toThrow(url.password);
});

test('the database remembers what it is for', async () => {
  await withClient(database.ownerUrl, async (client) => {
    expect((await readLabState(client)).purpose).toBe('unmarked');
    await markPurpose(client, 'demo-loading');
    expect(await readLabState(client)).toEqual({
      purpose: 'demo-loading',
      labs: 0,
      definitions: 0,
      patients: 0,
      administrators: 0,
    });
  });
});

test('the link for the first administrator is stored as a hash, lasts a day, and replaces the one before', async () => {
  const labId = '6c2f7a52-51d6-4f0a-8a35-6a3c1f0c9d11';
  await asOwner(`INSERT INTO labs (id, name) VALUES ('${labId}', 'Lab')`);
  const make = () => makeFirstRunLink({ ownerUrl: database.ownerUrl, address: 'http://localhost:3000' });
  await make();
  const link = new URL(await make());
  expect(link.pathname).toBe('/first-run');
  const token = link.searchParams.get('token') ?? '';
  expect(Buffer.from(token, 'base64url')).toHaveLength(32);
  const rows = await asOwner(
    'SELECT lab_id, token_hash, round(extract(epoch FROM expires_at - now()) / 3600)::int AS hours FROM setup_links',
  );
  expect(rows).toEqual([
    { lab_id: labId, token_hash: createHash('sha256').update(token).digest(), hours: 24 },
  ]);
});
