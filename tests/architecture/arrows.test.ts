import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { cruise } from 'dependency-cruiser';
import { afterAll, describe, expect, it } from 'vitest';

const require = createRequire(import.meta.url);
const { forbidden, options } = require('../../.dependency-cruiser.cjs');
const roots: string[] = [];
afterAll(() => {
  for (const root of roots) rmSync(root, { recursive: true, force: true });
});

/** A miniature of the repository with these files; answers the names of the rules they break. */
async function brokenBy(files: Record<string, string>): Promise<string[]> {
  const root = mkdtempSync(path.join(tmpdir(), 'arrows-'));
  roots.push(root);
  symlinkSync(path.resolve('node_modules'), path.join(root, 'node_modules'));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(root, name)), { recursive: true });
    writeFileSync(path.join(root, name), text);
  }
  const before = process.cwd();
  process.chdir(root);
  try {
    const { tsConfig: _unused, ...rest } = options;
    const tops = [...new Set(Object.keys(files).map((name) => name.split('/')[0]))];
    const { output } = await cruise(tops, { ...rest, ruleSet: { forbidden }, validate: true });
    if (typeof output === 'string') throw new Error('the cruise gave text');
    return [...new Set(output.summary.violations.map((violation) => violation.rule.name))].sort();
  } finally {
    process.chdir(before);
  }
}

const thing = 'export const thing = 1;\n';
const uses = (target: string) => `import { thing } from '${target}';\nexport const other = thing;\n`;
const usesType = (target: string) => `import type { Thing } from '${target}';\nexport type Other = Thing;\n`;
const aType = 'export type Thing = number;\n';
const value = { 'lib/statistics/a.ts': thing, 'lib/registry/a.ts': thing, 'lib/records/a.ts': thing };

/** For each rule a wrong import that must break it. */
const PLANTED: [rule: string, files: Record<string, string>][] = [
  [
    'no-cycles',
    {
      'lib/registry/a.ts': uses('./b'),
      'lib/registry/b.ts': "import { other } from './a';\nexport const thing = other;\n",
    },
  ],
  ['statistics-imports-nothing', { ...value, 'lib/statistics/b.ts': uses('../registry/a') }],
  ['statistics-no-packages', { 'lib/statistics/b.ts': "import { z } from 'zod';\nexport const x = z;\n" }],
  [
    'statistics-no-node',
    { 'lib/statistics/b.ts': "import { readFileSync } from 'node:fs';\nexport const x = readFileSync;\n" },
  ],
  ['registry-alone', { ...value, 'lib/registry/b.ts': uses('../statistics/a') }],
  ['registry-packages', { 'lib/registry/b.ts': "import pg from 'pg';\nexport const x = pg;\n" }],
  [
    'registry-no-node',
    { 'lib/registry/b.ts': "import { readFileSync } from 'node:fs';\nexport const x = readFileSync;\n" },
  ],
  ['runtime-alone', { ...value, 'lib/runtime/b.ts': uses('../registry/a') }],
  ['runtime-packages', { 'lib/runtime/b.ts': "import pg from 'pg';\nexport const x = pg;\n" }],
  ['analysis-arrows', { ...value, 'lib/analysis/b.ts': uses('../records/a') }],
  ['exchange-arrows', { ...value, 'lib/exchange/b.ts': uses('../records/a') }],
  ['records-arrows', { ...value, 'lib/records/b.ts': uses('../statistics/a') }],
  ['access-arrows', { ...value, 'lib/access/b.ts': uses('../statistics/a') }],
  ['database-only-in-records', { 'lib/analysis/b.ts': "import pg from 'pg';\nexport const x = pg;\n" }],
  [
    'session-actor-only-in-access',
    {
      'lib/records/actor-of-session.ts': thing,
      'app/today/load.ts': uses('../../lib/records/actor-of-session'),
    },
  ],
  [
    'program-actor-only-in-programs',
    {
      'lib/records/actor-of-program.ts': thing,
      'app/today/load.ts': uses('../../lib/records/actor-of-program'),
    },
  ],
  [
    'only-the-doors-seal-actors',
    { 'lib/records/actor-seal.ts': thing, 'lib/records/patients/write.ts': uses('../actor-seal') },
  ],
  [
    'prisma-client-stays-inside',
    { 'lib/records/database.ts': thing, 'app/today/load.ts': uses('../../lib/records/database') },
  ],
  ['components-arrows', { ...value, 'components/ui/b.tsx': uses('../../lib/records/a') }],
  [
    'components-take-types-of-analysis',
    { 'lib/analysis/a.ts': thing, 'components/charts/b.tsx': uses('../../lib/analysis/a') },
  ],
  ['app-arrows', { ...value, 'app/today/load.ts': uses('../../lib/statistics/a') }],
  ['app-reads-in-load', { ...value, 'app/today/page.tsx': uses('../../lib/records/a') }],
  ['nobody-imports-tests-or-seed', { 'seed/a.ts': thing, 'lib/analysis/b.ts': uses('../../seed/a') }],
  ['seed-arrows', { 'lib/access/a.ts': thing, 'seed/b.ts': uses('../lib/access/a') }],
];

describe('the arrows between rooms', () => {
  it.each(PLANTED)('%s fails when an import is planted against it', async (rule, files) => {
    expect(await brokenBy(files)).toContain(rule);
  });

  it('count type-only imports too', async () => {
    const broken = await brokenBy({
      'lib/registry/a.ts': aType,
      'lib/statistics/b.ts': usesType('../registry/a'),
    });
    expect(broken).toEqual(['statistics-imports-nothing']);
  });

  it('let the intended imports through', async () => {
    const broken = await brokenBy({
      'lib/statistics/a.ts': thing,
      'lib/registry/a.ts': aType,
      'lib/analysis/a.ts': `${uses('../statistics/a')}${aType}`,
      'lib/records/a.ts': usesType('../registry/a'),
      'components/charts/a.tsx': usesType('../../lib/analysis/a'),
      'app/today/load.ts': usesType('../../lib/records/a'),
    });
    expect(broken).toEqual([]);
  });

  it('each have a planted import', () => {
    const rules = forbidden.map((rule: { name: string }) => rule.name).sort();
    expect(PLANTED.map(([rule]) => rule).sort()).toEqual(rules);
  });
});
