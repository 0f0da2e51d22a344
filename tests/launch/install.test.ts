import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { isInstalled } from '../../lib/launch/install.mjs';
import { temporaryFolder } from './temporary-folder';

const LOCKED = {
  '': { name: 'afterbeat' },
  'node_modules/a': { version: '1.0.0', integrity: 'sha512-a' },
  'node_modules/b': { version: '2.0.0', integrity: 'sha512-b', dev: true },
  'node_modules/c-other-system': { version: '3.0.0', integrity: 'sha512-c', optional: true },
};

function checkoutWith(installed: Record<string, object> | undefined): string {
  const root = temporaryFolder();
  writeFileSync(path.join(root, 'package-lock.json'), JSON.stringify({ packages: LOCKED }));
  if (!installed) return root;
  mkdirSync(path.join(root, 'node_modules'));
  writeFileSync(path.join(root, 'node_modules/.package-lock.json'), JSON.stringify({ packages: installed }));
  return root;
}

const a = LOCKED['node_modules/a'];
const b = LOCKED['node_modules/b'];

test.each([
  ['nothing is there', undefined, false, false],
  ['what running needs is there', { 'node_modules/a': a }, true, false],
  ['all is there but packages for other systems', { 'node_modules/a': a, 'node_modules/b': b }, true, true],
  [
    'an older version is there',
    { 'node_modules/a': { ...a, version: '0.9.0' }, 'node_modules/b': b },
    false,
    false,
  ],
  [
    'another content is there',
    { 'node_modules/a': { ...a, integrity: 'sha512-x' }, 'node_modules/b': b },
    false,
    false,
  ],
  ['only development packages are there', { 'node_modules/b': b }, false, false],
])('when %s', (_name, installed, forRunning, forDevelopment) => {
  const root = checkoutWith(installed);
  expect(isInstalled(root, { withDevelopment: false })).toBe(forRunning);
  expect(isInstalled(root, { withDevelopment: true })).toBe(forDevelopment);
});

test('a missing lock file is said plainly', () => {
  expect(() => isInstalled(temporaryFolder(), { withDevelopment: false })).toThrow(
    /package-lock.json is missing/,
  );
});
