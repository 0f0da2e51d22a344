import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCells } from '@/lib/exchange/csv-cells';

const BOUNDS = { rows: 1_000, recordCharacters: 1_000 };

function cellsOf(text: string, delimiter = ','): readonly (readonly string[])[] | string {
  const cells = readCells(text, delimiter, BOUNDS);
  return cells.kind === 'cells' ? cells.records : `${cells.fault} at line ${cells.line}`;
}

describe('cells of a CSV', () => {
  it.each([
    ['', []],
    ['a', [['a']]],
    ['a,b\n', [['a', 'b']]],
    ['a,\n', [['a', '']]],
    ['a,', [['a', '']]],
    ['\n\na', [[''], [''], ['a']]],
    ['a\r\nb\rc\nd', [['a'], ['b'], ['c'], ['d']]],
    ['"a,b","c\r\nd"\n', [['a,b', 'c\nd']]],
    ['a"b', [['a"b']]],
    ['"a" ,b', [['a', 'b']]],
    ['"a ""b"" c",""\n', [['a "b" c', '']]],
    ['""""', [['"']]],
    [' a ,b ', [[' a ', 'b ']]],
  ])('of %j', (text, records) => {
    expect(cellsOf(text)).toEqual(records);
  });

  it.each([
    ['x\n"a', 'quotes at line 2'],
    ['x\n"a\nb" c', 'quotes at line 2'],
    ['x\r\ny\r\n"', 'quotes at line 3'],
  ])('of %j are a fault', (text, fault) => {
    expect(cellsOf(text)).toBe(fault);
  });

  it('are parted by the delimiter that is asked for alone', () => {
    expect(cellsOf('a;b,c\td', ';')).toEqual([['a', 'b,c\td']]);
    expect(cellsOf('a;b,c\td', '\t')).toEqual([['a;b,c', 'd']]);
  });

  it('are bounded in rows and in the length of a record', () => {
    expect(cellsOf('a\n'.repeat(1_000))).toHaveLength(1_000);
    expect(cellsOf('a\n'.repeat(1_001))).toBe('too-many-rows at line 1001');
    expect(cellsOf(`b\n${'a'.repeat(1_001)}`)).toBe('record-too-long at line 2');
    expect(cellsOf(`b\n"${'a\n'.repeat(600)}"`)).toMatch(/^record-too-long/);
  });

  it('are those that another parser finds (csv-parse 7.0.3) in any well-formed text', () => {
    const cell = fc.array(fc.constantFrom('a', ' ', '"', ',', '\n', '\u00e9', '\u2028', '-1.5'), {
      maxLength: 6,
    });
    const records = fc.array(fc.array(cell, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(records, fc.constantFrom('\n', '\r\n'), (rows, lineEnd) => {
        const quoted = rows.map((row) =>
          row.map((parts) => `"${parts.join('').replaceAll('"', '""')}"`).join(','),
        );
        const text = quoted.join(lineEnd);
        const other: string[][] = parse(text, { record_delimiter: ['\r\n', '\n'], relax_column_count: true });
        expect(cellsOf(`${text}${lineEnd}`)).toEqual(other);
        expect(other).toEqual(rows.map((row) => row.map((parts) => parts.join(''))));
      }),
      { numRuns: 5_000 },
    );
  });

  it('or a fault come from any text whatever', () => {
    const piece = fc.constantFrom('a', ' ', '"', '""', ',', ',"', '",', '\n', '\r', '\r\n', '\u2028');
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 30 }), (pieces) => {
        const cells = readCells(pieces.join(''), ',', BOUNDS);
        expect(['cells', 'fault']).toContain(cells.kind);
      }),
      { numRuns: 5_000 },
    );
  });
});
