import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EXAMPLE_MAPPING, MAX_MAPPING_CHARACTERS, parseRhythmMapping } from '@/lib/exchange/rhythm-mapping';
import { mappingObject, mappingOf } from './mapping-of-tests';

const examples = path.join(import.meta.dirname, '../../docs/examples');

/** Findings of the example with some parts replaced, as 'field: message'. */
function faults(changes: Readonly<Record<string, unknown>>): string[] {
  const parsed = parseRhythmMapping(JSON.stringify(mappingObject(changes)));
  return parsed.kind === 'mapping' ? [] : parsed.findings.map(({ field, message }) => `${field}: ${message}`);
}

describe('a mapping', () => {
  it('is complete in the example that every message offers, and in the guide', () => {
    expect(parseRhythmMapping(EXAMPLE_MAPPING).kind).toBe('mapping');
    const shipped = readFileSync(path.join(examples, 'rhythm-readings.csv.mapping.json'), 'utf8');
    expect(shipped).toBe(EXAMPLE_MAPPING);
  });

  it('has defaults for the month, the delimiter and the decimal mark', () => {
    const mapping = mappingOf({ time: { unit: 'months', rounding: 'down' } });
    expect(mapping.time.daysPerMonth).toBe(30.4375);
    expect([mapping.delimiter, mapping.decimalMark]).toEqual([',', '.']);
  });

  it.each([
    [
      'an unknown part',
      { colour: 1 },
      ': The mapping does not know "colour". Check the spelling, or leave it out.',
    ],
    ['no source', { source: ' ' }, 'source: Name the source of the file.'],
    [
      'a long source',
      { source: 'x'.repeat(121) },
      'source: The name of the source may have up to 120 characters.',
    ],
    ['an impossible day', { dayZero: '2023-02-29' }, 'dayZero: Give an existing day as YYYY-MM-DD.'],
    ['an ambiguous day', { dayZero: '03/04/2024' }, 'dayZero: Give an existing day as YYYY-MM-DD.'],
    ['no rhythms', { rhythms: {} }, 'rhythms: Give at least one code.'],
    ['an unknown rhythm', { rhythms: { 0: 'normal' } }, 'rhythms.0: Choose one of "sinus", "af"'],
    ['a week', { time: { unit: 'weeks', rounding: 'nearest' } }, 'time.unit: Choose "days" or "months".'],
    [
      'no rounding',
      { time: { unit: 'days' } },
      'time.rounding: Choose "nearest" (a half goes up) or "down".',
    ],
    [
      'a short month',
      { time: { unit: 'months', rounding: 'down', daysPerMonth: 12 } },
      'time.daysPerMonth: A month has 28 days or more.',
    ],
    [
      'another reading',
      { reading: { kind: 'ecg', counts: 'seconds' } },
      'reading.counts: Only "whole-tracing" can be read',
    ],
    [
      'a long recording',
      { reading: { kind: 'holter', counts: 'whole-tracing' } },
      'reading.kind: Choose "rhythm-strip" or "ecg".',
    ],
    ['a group with marks', { groups: { 1: '<b>' } }, 'groups.1: A group is named by up to 40 letters'],
    [
      'groups without names',
      { groups: undefined },
      'groups: Say what the codes of the column for group mean.',
    ],
    [
      'sexes without a column',
      { columns: { patient: 'a', time: 'b', rhythm: 'c', group: 'd', age: 'e' } },
      'sexes: No column is named for sex.',
    ],
    [
      'one column twice',
      { columns: { patient: 'a', time: 'a', rhythm: 'c', group: 'd', sex: 'f', age: 'e' } },
      'columns.time: This column is already read as patient.',
    ],
    [
      'no birth year',
      { columns: { patient: 'a', time: 'b', rhythm: 'c', group: 'd', sex: 'f' } },
      'birthYearWhenMissing: A patient needs a birth year',
    ],
    [
      'age and birth year',
      { columns: { patient: 'a', time: 'b', rhythm: 'c', group: 'd', sex: 'f', age: 'g', birthYear: 'h' } },
      'columns.age: Name the column of the birth year or that of the age, not both.',
    ],
    [
      'a birth after day zero',
      { birthYearWhenMissing: 2025 },
      'birthYearWhenMissing: This birth year lies after day zero.',
    ],
    ['a comma for both', { decimalMark: ',' }, 'decimalMark: A comma cannot part both columns and decimals.'],
  ])('is refused with %s', (_what, changes, message) => {
    expect(faults(changes).join('\n')).toContain(message);
  });

  it('has all its faults told at once', () => {
    expect(faults({ source: '', dayZero: 'then', rhythms: { 0: 'x', 1: 'y' } })).toHaveLength(4);
  });

  it('is bounded, and never quoted when it is not JSON', () => {
    const long = parseRhythmMapping(' '.repeat(MAX_MAPPING_CHARACTERS + 1));
    expect(long.kind).toBe('refused');
    const csv = parseRhythmMapping('id,months\nQuagmire,1.5\n');
    expect(JSON.stringify(csv)).not.toContain('Quagmire');
    expect(faults({ rhythms: Object.fromEntries(Array.from({ length: 51 }, (_, i) => [i, 'af'])) })).toEqual([
      'rhythms: Give up to 50 codes.',
    ]);
  });

  it('is answered with findings, whatever JSON it is', () => {
    fc.assert(
      fc.property(fc.oneof(fc.json(), fc.string()), (text) => {
        const parsed = parseRhythmMapping(text);
        expect(parsed.kind).toBe('refused');
        if (parsed.kind === 'refused') expect(parsed.findings.length).toBeGreaterThan(0);
      }),
      { numRuns: 500 },
    );
  });
});
