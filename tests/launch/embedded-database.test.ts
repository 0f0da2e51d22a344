import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { withClient } from '../../lib/launch/database-client.mjs';
import { openDatabase } from '../../lib/launch/embedded-database.mjs';
import { isAlive } from '../../lib/launch/process-identity.mjs';
import { holdDatabase, isGoneWithin, killWhileOpening, serverOf } from './held-database';
import { temporaryFolder } from './temporary-folder';

const isRoot = process.getuid?.() === 0;

function ask(url: string, sql: string): Promise<Record<string, unknown>[]> {
  return withClient(url, async (client) => (await client.query(sql)).rows);
}

/** Whether the note that a test left is still in the database. */
const note = (url: string) => ask(url, 'SELECT text FROM kept');
const leaveNote = (url: string) =>
  ask(url, `CREATE TABLE kept (text text); GRANT SELECT ON kept TO PUBLIC; INSERT INTO kept VALUES ('kept')`);

test('a first start makes a durable UTC database on the loopback address with two roles; a second keeps it', async () => {
  const dataDir = temporaryFolder();
  const first = await openDatabase({ dataDir });
  const [session] = await ask(
    first.appUrl,
    "SELECT current_user AS role, current_setting('TimeZone') AS zone",
  );
  expect(session).toEqual({ role: 'afterbeat_app', zone: 'UTC' });
  const [settings] = await ask(
    first.adminUrl,
    `SELECT current_setting('listen_addresses') AS addresses, current_setting('unix_socket_directories') AS sockets,
       current_setting('data_checksums') AS checksums,
       current_setting('fsync') || current_setting('full_page_writes') || current_setting('synchronous_commit') AS durable,
       (SELECT datlocprovider::text || ' ' || datlocale FROM pg_database WHERE datname = 'afterbeat') AS locale`,
  );
  expect(settings).toEqual({
    addresses: '127.0.0.1',
    sockets: '',
    checksums: 'on',
    durable: 'ononon',
    locale: 'b C.UTF-8',
  });
  await expect(ask(first.appUrl, 'CREATE TABLE mine (a int)')).rejects.toThrow(/permission denied/);
  expect(await ask(first.ownerUrl, 'SELECT rolsuper FROM pg_roles WHERE rolname = current_user')).toEqual([
    { rolsuper: false },
  ]);
  const passwords = await ask(first.adminUrl, 'SELECT rolpassword FROM pg_authid WHERE rolcanlogin');
  expect(passwords.map((row) => String(row.rolpassword).split('$')[0])).toEqual(
    Array(3).fill('SCRAM-SHA-256'),
  );
  const wrong = new URL(first.appUrl);
  wrong.password = 'wrong';
  await expect(ask(wrong.toString(), 'SELECT 1')).rejects.toThrow(/password authentication failed/);
  const cluster = statSync(path.join(first.home, 'cluster'));
  expect(cluster.mode & 0o777).toBe(0o700);
  expect(statSync(path.join(dataDir, 'database/passwords.json')).mode & 0o777).toBe(0o600);
  // PostgreSQL refuses root: there the server runs as another account.
  const server = serverOf(first.home);
  expect(statSync(`/proc/${server.split(':')[0]}`).uid).toBe(cluster.uid);
  expect(cluster.uid === 0).toBe(false);
  await leaveNote(first.ownerUrl);
  await first.release();
  expect(isAlive(server)).toBe(false);

  const startedAt = performance.now();
  const second = await openDatabase({ dataDir });
  expect(performance.now() - startedAt).toBeLessThan(5000);
  expect(await note(second.appUrl)).toEqual([{ text: 'kept' }]);
  await second.release();
});

test('kill -9, of the opener or of the server, and a stranger with the server’s old number hinder no start', async () => {
  const dataDir = temporaryFolder();
  // The opener: its keeper stops the server.
  const held = await holdDatabase(dataDir);
  await ask(held.adminUrl, 'CREATE DATABASE written');
  const first = serverOf(held.home);
  expect(isAlive(first)).toBe(true);
  await held.kill();
  expect(await isGoneWithin(first, 10_000)).toBe(true);

  // The server: its pid file stays, and what it had acknowledged comes back.
  const before = await openDatabase({ dataDir });
  expect(
    await ask(before.adminUrl, "SELECT 1 AS one FROM pg_database WHERE datname = 'written'"),
  ).toHaveLength(1);
  await leaveNote(before.ownerUrl);
  const killed = serverOf(before.home);
  process.kill(Number(killed.split(':')[0]), 'SIGKILL');
  expect(await isGoneWithin(killed, 5000)).toBe(true);
  const pidFile = path.join(before.home, 'cluster/postmaster.pid');
  const stale = readFileSync(pidFile, 'utf8');
  const after = await openDatabase({ dataDir });
  expect(await note(after.appUrl)).toEqual([{ text: 'kept' }]);
  await after.release();
  await before.release();

  // The stranger: this very test, which must live on.
  writeFileSync(pidFile, stale.replace(/^\d+/, String(process.pid)), { mode: 0o600 });
  const last = await openDatabase({ dataDir });
  expect(await note(last.appUrl)).toEqual([{ text: 'kept' }]);
  await last.release();

  rmSync(path.join(dataDir, 'database/passwords.json'));
  await expect(openDatabase({ dataDir })).rejects.toThrow(/passwords.json is missing/);
});

test('starts at the same moment share one server, and the last one out stops it, however the others ended', async () => {
  const dataDir = temporaryFolder();
  const [one, two, three] = await Promise.all([
    holdDatabase(dataDir),
    holdDatabase(dataDir),
    holdDatabase(dataDir),
  ]);
  expect(new Set([one, two, three].map((each) => each.appUrl)).size).toBe(1);
  const server = serverOf(one.home);
  await one.kill();
  await two.release();
  expect(await isGoneWithin(server, 700)).toBe(false);
  expect(await ask(three.appUrl, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
  await three.release();
  expect(await isGoneWithin(server, 10_000)).toBe(true);
});

test('a first start that is killed leaves nothing that looks like a database', async () => {
  const dataDir = temporaryFolder();
  const cluster = path.join(dataDir, 'database/cluster');
  await killWhileOpening(dataDir, () => existsSync(path.join(dataDir, 'database/passwords.json')));
  expect(existsSync(cluster)).toBe(false);
  const again = await openDatabase({ dataDir });
  expect(readdirSync(path.join(dataDir, 'database')).filter((name) => name.includes('new'))).toEqual([]);
  expect(await ask(again.appUrl, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
  await again.release();
});

test.runIf(isRoot)('below a home that is closed to others the files go to a place of their own', async () => {
  const dataDir = path.join(temporaryFolder(0o700), 'data');
  const first = await openDatabase({ dataDir });
  try {
    expect(first.home).toMatch(/^\/var\/lib\/afterbeat\/[0-9a-f]{16}$/);
    await leaveNote(first.ownerUrl);
    await first.release();
    const second = await openDatabase({ dataDir });
    expect(second.home).toBe(first.home);
    expect(await note(second.appUrl)).toEqual([{ text: 'kept' }]);
    await second.release();
    rmSync(first.home, { recursive: true });
    await expect(openDatabase({ dataDir })).rejects.toThrow(/are gone/);
  } finally {
    await first.release();
    rmSync(first.home, { recursive: true, force: true });
  }
});

test.runIf(isRoot)(
  'an ordinary user needs nobody’s help; a user without a name is told what to do',
  async () => {
    const folder = temporaryFolder(0o777);
    const nobody = readFileSync('/etc/passwd', 'utf8').match(/^nobody:[^:]*:(\d+):(\d+):/m);
    const account = { uid: Number(nobody?.[1]), gid: Number(nobody?.[2]) };
    const held = await holdDatabase(path.join(folder, 'named'), { account });
    expect(await ask(held.appUrl, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    const server = serverOf(held.home);
    expect(statSync(`/proc/${server.split(':')[0]}`).uid).toBe(account.uid);
    await held.release();
    expect(await isGoneWithin(server, 10_000)).toBe(true);
    const unnamed = holdDatabase(path.join(folder, 'unnamed'), { account: { uid: 54_321, gid: 54_321 } });
    await expect(unnamed).rejects.toThrow(/54321 has no entry in \/etc\/passwd/);
  },
);
