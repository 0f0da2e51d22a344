import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

function filesUnder(folder: string, ending: string): { path: string; text: string }[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(ending))
    .map((name) => ({ path: join(folder, name), text: read(join(folder, name)) }));
}

/** Functions that the barrel hands out, with the file each comes from. Types and the error class are no statistics. */
function publicFunctions(): { name: string; source: string }[] {
  const exports = read('lib/statistics/index.ts').matchAll(/export \{([^}]*)\} from '\.\/([^']+)'/g);
  return [...exports].flatMap(([, list, source]) =>
    list
      .split(',')
      .map((entry) => entry.trim())
      .filter((entry) => /^[a-z]\w*$/.test(entry))
      .map((name) => ({ name, source: `lib/statistics/${source}.ts` })),
  );
}

const tests = filesUnder('tests/statistics', '.test.ts');
const pages = filesUnder('docs/methods', '.md');
const SECTIONS = [
  'What it estimates',
  'Formula',
  'Conventions',
  'Limits',
  'Worked example',
  'Reference',
  'In the code',
];

const calls = (text: string, name: string): boolean => new RegExp(`\\b${name}\\(`).test(text);
const codeSection = (page: string): string => page.split('## In the code')[1] ?? '';

/** What a public function still owes; empty when it has file, test, fixture, property test and page. */
function debts(name: string, source: string): string[] {
  const owed: string[] = [];
  const documented = new RegExp(`\\*/\\nexport function ${name}\\(`);
  if (!existsSync(join(ROOT, source)) || !documented.test(read(source))) owed.push('file with a docstring');
  const kind = (ending: string) =>
    tests.filter(({ path, text }) => path.endsWith(ending) && calls(text, name));
  const byHand = tests.filter(
    ({ path, text }) => !/\.(reference|properties)\.test\.ts$/.test(path) && calls(text, name),
  );
  if (byHand.length === 0) owed.push('test');
  if (kind('.reference.test.ts').length === 0) owed.push('reference test');
  if (!kind('.properties.test.ts').some(({ text }) => text.includes('fc.assert(')))
    owed.push('property test');
  const own = pages.filter(({ text }) => codeSection(text).includes(`\`${name}\``));
  if (own.length !== 1) owed.push(`one methods page (found ${own.length})`);
  const fixtures = own.flatMap(
    ({ text }) => codeSection(text).match(/tests\/reference\/[\w-]+\.json/g) ?? [],
  );
  if (fixtures.length === 0 || !fixtures.every((path) => existsSync(join(ROOT, path))))
    owed.push('reference fixture');
  return owed;
}

describe('every public statistic has file, test, fixture, property test and page', () => {
  const functions = publicFunctions();

  it('is found in the barrel', () => {
    expect(functions.map(({ name }) => name)).toContain('estimateKaplanMeier');
    expect(functions.length).toBeGreaterThanOrEqual(20);
  });

  it.each(functions)('$name', ({ name, source }) => {
    expect(debts(name, source)).toEqual([]);
  });

  it('would notice one that has none of them', () => {
    expect(debts('estimateNothing', 'lib/statistics/nothing.ts')).toEqual([
      'file with a docstring',
      'test',
      'reference test',
      'property test',
      'one methods page (found 0)',
      'reference fixture',
    ]);
  });
});

describe('every methods page about the library', () => {
  const statistics = pages.filter(({ text }) => text.includes('## In the code'));

  it.each(statistics)('$path has all sections, in order', ({ text }) => {
    const found = [...text.matchAll(/^## (.+)$/gm)].map(([, title]) => title);
    expect(found).toEqual(SECTIONS);
  });

  it.each(statistics)('$path names only functions that exist', ({ text }) => {
    const names = new Set(publicFunctions().map(({ name }) => name));
    const listed =
      codeSection(text)
        .split('\n- Checked')[0]
        .match(/`(\w+)`/g) ?? [];
    expect(listed.length).toBeGreaterThan(0);
    expect(listed.map((entry) => entry.slice(1, -1)).filter((name) => !names.has(name))).toEqual([]);
  });
});
