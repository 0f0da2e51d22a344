import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const files = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.includes('generated'))
    .map((name) => `${folder}/${name}`);

/** A module that can reach the database must never be bundled for the browser. */
describe('what touches the database', () => {
  it.each(files('lib/records'))('%s is marked server-only in its first line', (file) => {
    expect(readFileSync(file, 'utf8').split('\n')[0]).toBe("import 'server-only';");
  });

  it('in lib/access is marked too', () => {
    const open = files('lib/access').filter(
      (file) => !readFileSync(file, 'utf8').startsWith("import 'server-only';"),
    );
    expect(open).toEqual(['lib/access/permissions.ts']);
  });
});
