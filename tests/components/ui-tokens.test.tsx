import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const root = new URL('../../', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), 'utf8');
const tokens = read('app/styles/tokens.css');

/** Declarations of the first block that follows a selector. */
function declarationsAfter(selector: string): Map<string, string> {
  const start = tokens.indexOf(selector);
  if (start < 0) throw new Error(`no block ${selector}`);
  const block = tokens.slice(tokens.indexOf('{', start) + 1, tokens.indexOf('}', start));
  return new Map(
    Array.from(block.matchAll(/([\w-]+)\s*:\s*([^;]+);/g), (match) => [
      match[1] ?? '',
      (match[2] ?? '').trim(),
    ]),
  );
}

/** Relative luminance and contrast as WCAG 2.2 defines them (https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio). */
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

const light = declarationsAfter(':root {');
const dark = declarationsAfter(':root[data-theme="dark"]');
const TEXT_PAIRS = [
  ['ink', 'ground'],
  ['ink', 'surface'],
  ['ink', 'sunk'],
  ['ink', 'accent-wash'],
  ['ink-quiet', 'ground'],
  ['ink-quiet', 'surface'],
  ['ink-quiet', 'sunk'],
  ['ink-quiet', 'accent-wash'],
  ['accent', 'ground'],
  ['accent', 'surface'],
  ['accent-ink', 'accent'],
  ['caution', 'ground'],
  ['caution', 'caution-wash'],
  ['harm', 'ground'],
  ['harm', 'surface'],
  ['harm', 'harm-wash'],
  ['ink', 'harm-wash'],
  ['ink', 'caution-wash'],
  ['ink', 'good-wash'],
  ['good', 'good-wash'],
] as const;

function stylesheets(folder: string): string[] {
  return readdirSync(new URL(folder, root), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.css'))
    .map((name) => `${folder}/${name}`);
}

describe('the tokens', () => {
  it('measures contrast as the standard does: black on white is 21 to 1', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    // WebAIM's published example of a grey that just passes 4.5 to 1 on white.
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
  });

  it('are the same dark whether the system or the person chose it', () => {
    const bySystem = declarationsAfter(':root:not([data-theme="light"])');
    expect(bySystem.size).toBeGreaterThan(20);
    expect([...dark]).toEqual([...bySystem]);
  });

  it('darken on screens only, so that paper is always light', () => {
    const darkBlocks = tokens.match(/@media[^{]*\{\s*:root(\[data-theme="dark"\]|:not)/g) ?? [];
    expect(darkBlocks).toHaveLength(2);
    for (const block of darkBlocks) expect(block).toMatch(/^@media screen/);
  });

  it.each([
    ['light', light],
    ['dark', dark],
  ] as const)('give text 4.5 to 1 and frames of controls and series 3 to 1 in %s', (_name, list) => {
    const colour = (name: string) => list.get(`--${name}`) ?? light.get(`--${name}`) ?? '';
    for (const [front, back] of TEXT_PAIRS) {
      expect.soft(contrast(colour(front), colour(back)), `${front} on ${back}`).toBeGreaterThanOrEqual(4.5);
    }
    for (const series of ['a', 'b', 'c', 'd', 'e']) {
      const ratio = contrast(colour(`series-${series}`), colour('ground'));
      expect.soft(ratio, `series ${series} on ground`).toBeGreaterThanOrEqual(3);
    }
  });
});

describe('every stylesheet', () => {
  const sheets = [...stylesheets('app'), ...stylesheets('components')];

  it('is looked at', () => {
    expect(sheets.length).toBeGreaterThan(15);
  });

  it.each(sheets)('%s moves nothing, casts no shadow, makes no gradient and no pill', (path) => {
    const css = read(path).replaceAll(/\/\*[\s\S]*?\*\//g, '');
    expect(css).not.toMatch(
      /transition|animation|@keyframes|box-shadow|text-shadow|gradient\(|999px|border-radius:\s*50%/,
    );
  });

  it.each(sheets.filter((path) => !path.endsWith('tokens.css')))(
    '%s takes its colours from the tokens',
    (path) => {
      const css = read(path).replaceAll(/\/\*[\s\S]*?\*\//g, '');
      expect(css).not.toMatch(/#[0-9a-f]{3,8}\b/i);
    },
  );
});
