import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wholeFile } from '@/app/(lab)/cases/[id]/lesions/file-upload';
import { decodeApplicationsCsv } from '@/lib/exchange/rf-csv';
import { APPLICATION_COLUMNS, MOST_APPLICATIONS, MOST_FILE_BYTES } from '@/lib/registry/rf-applications';

const HEADS = APPLICATION_COLUMNS.join(',');
const decode = (text: string) => decodeApplicationsCsv(new TextEncoder().encode(text));
const findingsOf = (text: string) => {
  const decoded = decode(text);
  return decoded.kind === 'refused' ? decoded.findings : [];
};

describe('a file of single applications', () => {
  it('is read row by row, its columns in any order, those not needed left out', () => {
    expect(decode(`${HEADS}\nleft-pair,superior,0,30,35,41,118,102,1.2,0.08\n`)).toEqual({
      kind: 'read',
      rows: [['left-pair', 'superior', '0', '30', '35', '41', '118', '102', '1.2', '0.08']],
    });
    expect(decode('Seconds;Structure;Segment\r\n20.5;roof;\r\n')).toEqual({
      kind: 'read',
      rows: [['roof', '', '', '20.5', '', '', '', '', '', '']],
    });
  });

  it('is refused with all findings at once, by line', () => {
    const rows = [
      'left-pair,superior,20',
      'left-pair,anterior,x',
      'nowhere,superior,10',
      'left-pair,superior',
    ];
    expect(findingsOf(`structure,segment,seconds\n${rows.join('\n')}\n`)).toEqual([
      'Line 3, segment: is no segment of this ring or line.',
      'Line 3, seconds: is not a number. Write a number in figures, such as 12.5.',
      'Line 4, structure: is no ring or line of the vocabulary.',
      'Line 5: 2 cells below 3 columns. Check its delimiters.',
    ]);
  });

  it('is refused with a column that is not ours, without repeating it: it may be a name', () => {
    const [finding, ...more] = findingsOf('structure,segment,seconds,Jane Doe\nroof,line,10,\n');
    expect(finding).toMatch(/^Line 1: column 4 is none of ours\./);
    expect(finding).not.toContain('Jane');
    expect(more).toEqual([]);
  });

  it.each([
    ['nothing', '', /empty/],
    ['heads alone', `${HEADS}\n`, /no rows/],
    ['a column missing', 'structure,segment\nroof,line\n', /column seconds is missing/],
    ['a column twice', 'structure,segment,seconds,seconds\nroof,line,1,1\n', /stands there twice/],
    ['a quotation mark that does not close', 'structure,segment,seconds\n"roof,line,10\n', /quotation mark/],
    [
      'too many rows',
      `structure,segment,seconds\n${'roof,line,1\n'.repeat(MOST_APPLICATIONS + 1)}`,
      /up to 2000 applications/,
    ],
    ['too many bytes', 'x'.repeat(MOST_FILE_BYTES + 1), /larger than 400 kB/],
  ])('%s is refused', (_what, text, words) => {
    expect(findingsOf(text).join('\n')).toMatch(words);
  });

  it('of the most rows that a case holds is read', () => {
    const decoded = decode(`structure,segment,seconds\n${'roof,line,1\n'.repeat(MOST_APPLICATIONS)}`);
    expect(decoded.kind === 'read' && decoded.rows).toHaveLength(MOST_APPLICATIONS);
  });

  it('never throws, whatever stands in it', () => {
    const text = fc.string({
      unit: fc.constantFrom(...HEADS, ';', '\n', '"', '\r', '0', '.', '\u0000', 'ß', '\ufeff'),
    });
    fc.assert(
      fc.property(text, fc.boolean(), (drawn, withHeads) => {
        expect(['read', 'refused']).toContain(decode(withHeads ? `${HEADS}\n${drawn}` : drawn).kind);
      }),
    );
  });
});

describe('a file on its way', () => {
  it('is taken when as many bytes arrive as were read, and not otherwise', () => {
    expect(wholeFile({ fileText: 'Ω\ufeff', byteCount: 5 })).toHaveLength(5);
    expect(wholeFile({ fileText: 'Ω', byteCount: 1 })).toBeNull();
    expect(wholeFile({ fileText: 'roof', byteCount: 400 })).toBeNull();
  });
});
