import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { acquireLock } from '../../lib/launch/file-lock.mjs';
import { identityOf, isAlive } from '../../lib/launch/process-identity.mjs';
import { temporaryFolder } from './temporary-folder';

test('only one holds the lock at a time, and nothing is left behind', async () => {
  const folder = temporaryFolder();
  const file = path.join(folder, 'lock');
  let inside = 0;
  let most = 0;
  await Promise.all(
    Array.from({ length: 12 }, async () => {
      const release = await acquireLock(file, { timeoutMs: 20_000 });
      inside += 1;
      most = Math.max(most, inside);
      await new Promise((resolve) => setTimeout(resolve, 5));
      inside -= 1;
      release();
    }),
  );
  expect(most).toBe(1);
  expect(readdirSync(folder)).toEqual([]);
});

test.each(['999999999:1', `${process.pid}:1`, ''])(
  'the lock of the dead holder "%s" is taken over',
  async (holder) => {
    const file = path.join(temporaryFolder(), 'lock');
    writeFileSync(file, `${holder}\nx\n`);
    const release = await acquireLock(file, { timeoutMs: 5000 });
    expect(readFileSync(file, 'utf8')).toMatch(new RegExp(`^${identityOf(process.pid)}\n`));
    release();
  },
);

test('a holder that lives on is named when the time is up', async () => {
  const file = path.join(temporaryFolder(), 'lock');
  const release = await acquireLock(file, { timeoutMs: 1000 });
  const told: string[] = [];
  const second = acquireLock(file, { timeoutMs: 120, onWait: (holder) => told.push(holder) });
  await expect(second).rejects.toThrow(new RegExp(`Process ${process.pid} has held`));
  expect(told).toEqual([String(process.pid)]);
  release();
});

test('an identity is that of one process, not of its number', () => {
  const own = identityOf(process.pid);
  expect(own).toMatch(/^\d+:/);
  expect(isAlive(own ?? '')).toBe(true);
  expect(isAlive(`${process.pid}:1`)).toBe(false);
  expect(identityOf(999_999_999)).toBeUndefined();
  expect(identityOf(-1)).toBeUndefined();
});
