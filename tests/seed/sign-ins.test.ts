import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { isPasswordRight } from '@/lib/access/passwords';
import { hashDemoPassword, readDemoSignIns } from '@/seed/sign-ins';

const folder = mkdtempSync(path.join(tmpdir(), 'sign-ins-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileWith(content: unknown): string {
  const file = path.join(folder, 'sign-ins.json');
  writeFileSync(file, JSON.stringify(content));
  return file;
}

const password = 'canary-canary-canary';

describe('demo sign-ins', () => {
  it('reads people and gives each role its code', () => {
    const file = fileWith([
      { role: 'coordinator', signInName: 'coordinator', password },
      { role: 'director', signInName: 'director', code: 'D-07', password },
    ]);
    expect(readDemoSignIns(file).map(({ role, code }) => [role, code])).toEqual([
      ['coordinator', 'C-01'],
      ['director', 'D-07'],
    ]);
  });

  it('says what is wrong without repeating a password', () => {
    const file = fileWith([{ role: 'visitor', signInName: 'v', password }]);
    expect(() => readDemoSignIns(file)).toThrow(/0\.role/);
    expect(() => readDemoSignIns(file)).not.toThrow(/canary/);
    expect(() => readDemoSignIns(undefined)).toThrow(/AFTERBEAT_DEMO_SIGN_INS is not set/);
  });

  it('hashes a password so that sign-in accepts it and no other', async () => {
    const encoded = await hashDemoPassword(password);
    expect(await isPasswordRight(password, encoded)).toBe(true);
    expect(await isPasswordRight(`${password}x`, encoded)).toBe(false);
  });
});
