import { chmodSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { openKeys } from '../../lib/launch/keys.mjs';
import { temporaryFolder } from './temporary-folder';

const NAMES = ['NEXTAUTH_SECRET', 'AFTERBEAT_MASTER_KEY', 'AFTERBEAT_IDENTITY_KEY'] as const;
const key = (fill: number) => Buffer.alloc(32, fill).toString('base64');

test('keys are made once, differ, and are files that only their account reads', () => {
  const dataDir = temporaryFolder();
  const keys = openKeys({ dataDir, env: {}, mayCreateDataKeys: true });
  expect(new Set(Object.values(keys)).size).toBe(3);
  for (const name of NAMES) {
    expect(Buffer.from(keys[name], 'base64')).toHaveLength(32);
    expect(statSync(path.join(dataDir, 'keys', name)).mode & 0o777).toBe(0o600);
    expect(readFileSync(path.join(dataDir, 'keys', name), 'utf8').trim()).toBe(keys[name]);
  }
  expect(statSync(path.join(dataDir, 'keys')).mode & 0o777).toBe(0o700);
  expect(openKeys({ dataDir, env: {}, mayCreateDataKeys: false })).toEqual(keys);
});

test('a variable wins over the file and leaves none', () => {
  const dataDir = temporaryFolder();
  const env = { AFTERBEAT_MASTER_KEY: key(1), AFTERBEAT_IDENTITY_KEY: `${key(2)},${key(3)}` };
  expect(openKeys({ dataDir, env, mayCreateDataKeys: false })).toMatchObject(env);
  expect(() => statSync(path.join(dataDir, 'keys/AFTERBEAT_MASTER_KEY'))).toThrow(/ENOENT/);
});

test('a lost key is never replaced once patients are stored; a lost session secret is', () => {
  const dataDir = temporaryFolder();
  const keys = openKeys({ dataDir, env: {}, mayCreateDataKeys: true });
  rmSync(path.join(dataDir, 'keys/NEXTAUTH_SECRET'));
  const again = openKeys({ dataDir, env: {}, mayCreateDataKeys: false });
  expect(again).toEqual({ ...keys, NEXTAUTH_SECRET: again.NEXTAUTH_SECRET });
  expect(again.NEXTAUTH_SECRET).not.toBe(keys.NEXTAUTH_SECRET);
  rmSync(path.join(dataDir, 'keys/AFTERBEAT_MASTER_KEY'));
  expect(() => openKeys({ dataDir, env: {}, mayCreateDataKeys: false })).toThrow(
    /AFTERBEAT_MASTER_KEY is missing/,
  );
});

test('a key that other accounts can read is refused', () => {
  const dataDir = temporaryFolder();
  openKeys({ dataDir, env: {}, mayCreateDataKeys: true });
  chmodSync(path.join(dataDir, 'keys/AFTERBEAT_IDENTITY_KEY'), 0o640);
  expect(() => openKeys({ dataDir, env: {}, mayCreateDataKeys: true })).toThrow(
    /can be read by other accounts/,
  );
});

test.each(['short', key(1).slice(0, -1), `${key(1)},`, Buffer.alloc(31).toString('base64'), 'x'.repeat(44)])(
  'the malformed key "%s" is refused without being shown',
  (bad) => {
    const open = () =>
      openKeys({ dataDir: temporaryFolder(), env: { AFTERBEAT_MASTER_KEY: bad }, mayCreateDataKeys: true });
    expect(open).toThrow(/AFTERBEAT_MASTER_KEY is not 32 bytes in base64/);
    expect(open).not.toThrow(bad);
  },
);

test('a cut key file, one key for both uses, and a short secret are refused', () => {
  const dataDir = temporaryFolder();
  openKeys({ dataDir, env: {}, mayCreateDataKeys: true });
  writeFileSync(path.join(dataDir, 'keys/AFTERBEAT_MASTER_KEY'), '');
  expect(() => openKeys({ dataDir, env: {}, mayCreateDataKeys: true })).toThrow(/not 32 bytes/);
  const env = { AFTERBEAT_MASTER_KEY: key(1), AFTERBEAT_IDENTITY_KEY: key(1) };
  expect(() => openKeys({ dataDir, env, mayCreateDataKeys: true })).toThrow(/are the same/);
  expect(() => openKeys({ dataDir, env: { NEXTAUTH_SECRET: 'short' }, mayCreateDataKeys: true })).toThrow(
    /shorter/,
  );
});
