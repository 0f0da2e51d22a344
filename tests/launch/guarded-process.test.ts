import { spawn } from 'node:child_process';
import { closeSync, openSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { startGuarded } from '../../lib/launch/guarded-process.mjs';
import { identityOf } from '../../lib/launch/process-identity.mjs';
import { isGoneWithin } from './held-database';
import { temporaryFolder } from './temporary-folder';

const HOLDER = fileURLToPath(new URL('hold-guarded.mjs', import.meta.url));

test('kill -9 of a script ends the command that it started, and the children of that command', async () => {
  const script = spawn(process.execPath, [HOLDER], { stdio: ['ignore', 'pipe', 'inherit'] });
  const numbers = await new Promise<string>((resolve) =>
    script.stdout.setEncoding('utf8').once('data', resolve),
  );
  const identities = numbers
    .trim()
    .split(' ')
    .map((pid) => identityOf(Number(pid)));
  expect(identities).toEqual([expect.any(String), expect.any(String)]);
  script.kill('SIGKILL');
  for (const identity of identities) expect(await isGoneWithin(identity ?? '', 5000)).toBe(true);
});

test.each([
  ['exit 7', 7],
  ['exit 0', 0],
  ['kill -TERM $$', 143],
])('the exit code of "%s" passes through', async (script, code) => {
  const file = path.join(temporaryFolder(), 'said');
  const fd = openSync(file, 'w');
  const child = startGuarded('/bin/sh', ['-c', `echo said; ${script}`], { stdio: ['ignore', fd, fd] });
  expect(await child.exited).toBe(code);
  closeSync(fd);
  expect(readFileSync(file, 'utf8')).toBe('said\n');
});

test('a command that does not exist says so', async () => {
  const file = path.join(temporaryFolder(), 'said');
  const fd = openSync(file, 'w');
  const child = startGuarded('/nowhere/program', [], { stdio: ['ignore', fd, fd] });
  expect(await child.exited).toBe(127);
  closeSync(fd);
  expect(readFileSync(file, 'utf8')).toMatch(/\/nowhere\/program could not be started/);
});

test('stop ends a command that runs', async () => {
  const fd = openSync('/dev/null', 'w');
  const child = startGuarded('/bin/sh', ['-c', 'sleep 600'], { stdio: ['ignore', fd, fd] });
  expect(child.isRunning()).toBe(true);
  await child.stop();
  closeSync(fd);
  expect(child.isRunning()).toBe(false);
});
