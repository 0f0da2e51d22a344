import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { dataDictionary } from '@/lib/exchange/data-dictionary';

const schema = readFileSync('prisma/schema.prisma', 'utf8');

describe('the data dictionary', () => {
  it('in docs is the one that the schema and the vocabulary give: run "npm run dictionary"', () => {
    expect(readFileSync('docs/data-dictionary.md', 'utf8')).toBe(dataDictionary(schema));
  });

  it('tells every stored column', () => {
    const text = dataDictionary(schema);
    for (const [, column] of schema.matchAll(/@map\("(\w+)"\)/g)) {
      expect(text.includes(`| ${column} |`) || text.includes(`## ${column}`), column).toBe(true);
    }
  });

  it('gives a unit to every number that carries one in its name', () => {
    const text = dataDictionary(schema);
    expect(text).toContain('| la_diameter_mm | whole number | mm | yes |');
    expect(text).toContain('| egfr_ml_min_173m2 | whole number | mL/min/{1.73_m2} | yes |');
    expect(text).toContain('| amplitude_before_uv | whole number | uV | yes |');
  });
});
