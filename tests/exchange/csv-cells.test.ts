import { CsvError, parse } from 'csv-parse/sync';
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
    ['a,"b" \n"c" ', [['a', 'b'], ['c']]],
    ['a\n""', [['a'], ['']]],
    ['\n', [['']]],
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
    ['"x\r\ny"\r\n"a"b', 'quotes at line 3'],
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
    expect(cellsOf(`${'a\n'.repeat(1_000)}\nb`)).toBe('too-many-rows at line 1001');
    expect(cellsOf(`b\n${'a'.repeat(999)}`)).toHaveLength(2);
    expect(cellsOf(`b\n${'a'.repeat(1_000)}`)).toBe('record-too-long at line 2');
    expect(cellsOf(`"b\nb"\n"${'a\n'.repeat(600)}"`)).toBe('record-too-long at line 3');
    expect(cellsOf(`"b\nb"\n"${'a\n'.repeat(60_000)}`)).toBe('record-too-long at line 3');
  });

  /** Marks, delimiters and line ends of every kind, in any order. */
  const anyText = fc
    .array(fc.constantFrom('a', ' ', '"', '""', ',', ',"', '",', '\n', '\r', '\r\n', '"\n"', '\u2028'), {
      maxLength: 30,
    })
    .map((pieces) => pieces.join(''));

  it('are those that another parser finds (csv-parse 7.0.3) in any text which that one accepts', () => {
    const compared = { accepted: 0, refused: 0 };
    fc.assert(
      fc.property(anyText, (text) => {
        const other = otherParser(text);
        if (other === null) compared.refused += 1;
        else {
          compared.accepted += 1;
          expect(cellsOf(text)).toEqual(other);
        }
      }),
      { numRuns: 20_000 },
    );
    expect(compared.accepted).toBeGreaterThan(2_000);
    expect(compared.refused).toBeGreaterThan(2_000);
  });

  it('or a fault come from any text whatever', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(['cells', 'fault']).toContain(readCells(text, ',', BOUNDS).kind);
      }),
      { numRuns: 5_000 },
    );
  });

  it('are those that were written, wherever the blocks end in which the text is read', () => {
    const cell = fc
      .array(fc.constantFrom('a', ' ', '"', ',', '\n', '\u00e9', '\u2028'), { maxLength: 3 })
      .map((parts) => parts.join(''));
    const records = fc.array(fc.array(cell, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 90 });
    const blanks = fc.constantFrom('', '', ' ');
    fc.assert(
      fc.property(
        records,
        fc.constantFrom('\n', '\r\n'),
        blanks,
        fc.boolean(),
        (rows, lineEnd, gap, ends) => {
          const written = rows.map((row) =>
            row.map((text) => `"${text.replaceAll('"', '""')}"${gap}`).join(','),
          );
          const text = `${written.join(lineEnd)}${ends ? lineEnd : ''}`;
          // At most 40 characters each, so that ninety fill several blocks.
          const cells = readCells(text, ',', { rows: 90, recordCharacters: 40 });
          expect(cells).toEqual({ kind: 'cells', records: rows });
        },
      ),
      { numRuns: 1_000 },
    );
  });
});

/** Its records, line ends inside cells written alike; null where it refuses the text. */
function otherParser(text: string): string[][] | null {
  try {
    const records: string[][] = parse(text, {
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
    });
    return records.map((cells) => cells.map((cell) => cell.replaceAll(/\r\n?/g, '\n')));
  } catch (error) {
    if (error instanceof CsvError) return null;
    throw error;
  }
}
