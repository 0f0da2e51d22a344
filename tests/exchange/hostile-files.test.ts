import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CSV_LIMITS } from '@/lib/exchange/csv-records';
import { sayFinding } from '@/lib/exchange/import-finding';
import { decodeRhythmCsv } from '@/lib/exchange/rhythm-csv';
import { reportOf, sayReport } from '@/lib/exchange/rhythm-report';
import { calendarDay } from '@/lib/registry/calendar-day';
import { mappingOf } from './mapping-of-tests';

const HEADS = 'id,months,af,arm,sex,age';
const ROW = 'a,1,0,1,f,60';
const today = calendarDay('2026-01-31');
const mapping = mappingOf();
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const joined = (...parts: readonly Uint8Array[]): Uint8Array => new Uint8Array(Buffer.concat(parts));
const decode = (bytes: Uint8Array) => decodeRhythmCsv(bytes, mapping, today);

/** Code and reason of a refused file. */
function refusalOf(bytes: Uint8Array): string {
  const decoded = decode(bytes);
  return decoded.kind === 'refused' ? `${decoded.finding.code}: ${decoded.finding.reason}` : 'accepted';
}

const wide = Array.from({ length: 100_000 }, (_, i) => `c${i}`).join(',');
const utf16 = (text: string): Uint8Array => joined(Uint8Array.of(0xff, 0xfe), Buffer.from(text, 'utf16le'));

describe('a hostile or broken file', () => {
  it.each([
    ['nothing', new Uint8Array(0), 'file-empty: The file is empty.'],
    ['heads alone', bytesOf(HEADS), 'file-empty: The file has no rows below its first line.'],
    ['UTF-16', utf16(`${HEADS}\n${ROW}`), 'file-not-text: The file is written in UTF-16.'],
    [
      'UTF-16, other way round',
      joined(Uint8Array.of(0xfe, 0xff), utf16(ROW)),
      'file-not-text: The file is written in UTF-16.',
    ],
    [
      'UTF-16 without a mark',
      Buffer.from(`${HEADS}\n${ROW}`, 'utf16le'),
      'file-not-text: The file holds NUL bytes',
    ],
    ['a NUL byte', bytesOf(`${HEADS}\na,1\0,0,1,f,60`), 'file-not-text: The file holds NUL bytes'],
    [
      'a ZIP',
      joined(Uint8Array.of(0x50, 0x4b, 3, 4), bytesOf('xl/workbook.xml')),
      'file-not-text: The file is a workbook or a ZIP',
    ],
    [
      'Latin-1',
      joined(bytesOf(`${HEADS}\n${ROW}\nM`), Uint8Array.of(0xfc), bytesOf('ller,1,0,1,f,60')),
      'file-not-text: Line 3 is not UTF-8.',
    ],
    ['100,000 columns', bytesOf(`${wide}\n${ROW}`), 'line-too-long: Line 1 is longer than 20000 bytes.'],
    [
      '201 short columns',
      bytesOf(`${wide.split(',').slice(0, 201).join(',')}\n${ROW}`),
      'too-many-columns: The first line has 201 columns; up to 200 are read.',
    ],
    [
      'a line of 10 MB',
      bytesOf(`${HEADS}\n${ROW}\n${'x'.repeat(10_000_000)}\n`),
      'line-too-long: Line 3 is longer',
    ],
    ['a quote that never closes', bytesOf(`${HEADS}\na,"1,0,1,f,60\n${ROW}\n`), 'file-quotes: At line'],
    [
      'a quote that swallows the file',
      bytesOf(`${HEADS}\n"a,1\n${`${ROW}\n`.repeat(5_000)}`),
      'file-quotes: At line 2',
    ],
    [
      'a quote that swallows a long file',
      bytesOf(`${HEADS}\n"a,1\n${`${ROW}\n`.repeat(50_000)}`),
      'line-too-long: The row that begins at line 2 is longer than 20000 characters.',
    ],
    [
      'a quote that closes thousands of rows later',
      bytesOf(`${HEADS}\n"a,1\n${`${ROW}\n`.repeat(5_000)}"`),
      'line-too-long: The row that begins at line 2',
    ],
    ['text behind a quote', bytesOf(`${HEADS}\n"a"b,1,0,1,f,60\n`), 'file-quotes: At line 2'],
    [
      'a column missing',
      bytesOf(`id,months\n${ROW}`),
      'column-missing: The mapping reads it as rhythm, but none of the 2 columns',
    ],
    [
      'a column twice',
      bytesOf(`${HEADS},af\n${ROW},0`),
      'column-twice: Two columns of the file have this name.',
    ],
  ])('is refused whole: %s', (_what, bytes, message) => {
    expect(refusalOf(bytes)).toContain(message);
  });

  it('is refused when it is too large or has too many rows', () => {
    expect(refusalOf(new Uint8Array(CSV_LIMITS.bytes + 1).fill(65))).toContain('file-too-large');
    const short = mappingOf({
      columns: { patient: 'i', time: 'm', rhythm: 'a', age: 'y' },
      groups: undefined,
      sexes: undefined,
    });
    const many = bytesOf(`i,m,a,y\n${'1,1,0,60\n'.repeat(CSV_LIMITS.rows + 1)}`);
    const decoded = decodeRhythmCsv(many, short, today);
    expect(decoded.kind === 'refused' && decoded.finding.code).toBe('too-many-rows');
  });

  // A reader that takes quadratic time meets the time limit of a test here.
  it('is refused however often it repeats what costs most', () => {
    const files = [
      bytesOf(`${wide}\n${ROW}`),
      bytesOf(`${HEADS}\n${'x'.repeat(10_000_000)}`),
      bytesOf(`${HEADS}\n${'"'.repeat(10_000_000)}`),
      bytesOf(`${HEADS}\n${'","\n'.repeat(2_000_000)}`),
    ];
    for (const file of files) expect(decode(file).kind).toBe('refused');
  });

  it('does not fill the memory: of twelve million stray marks none is kept', () => {
    const file = bytesOf(`${HEADS}\n${`${'"b'.repeat(9_000)}\n`.repeat(1_333)}`);
    const megabytesAtMost = () => process.resourceUsage().maxRSS / 1024;
    const before = megabytesAtMost();
    expect(refusalOf(file)).toContain('line-too-long: The row that begins at line 2');
    // The text and its copies take some 24 MB each; a finding per mark would take more than a gigabyte.
    expect(megabytesAtMost() - before).toBeLessThan(400);
  });

  it('tells a letter case that differs, and never quotes the first line', () => {
    const near = decode(bytesOf(`ID,months,af,arm,sex,age\n${ROW}`));
    expect(near.kind === 'refused' && sayFinding(near.finding)).toContain('in other letter case');
    const headless = decode(bytesOf('Ottoline Quagmire,1,0,1,f,60\nOttoline Quagmire,2,0,1,f,60'));
    expect(headless.kind).toBe('refused');
    expect(JSON.stringify(headless)).not.toMatch(/ottoline|quagmire/i);
  });

  it('is read with a byte order mark, any line end, quotes, and blanks around cells', () => {
    const text = `\uFEFF id , months,af,arm,sex,age\r\n"a" , 1 ,"0",1,f,60\r"b ""x""",2,1,2,m,"61"\n`;
    const decoded = decode(bytesOf(text.replace('"a" ', '"a"')));
    expect(decoded.kind === 'decoded' && decoded.patients.map(({ reference }) => reference)).toEqual([
      'A',
      'B"X"',
    ]);
  });

  it('may hold formulas: they are text like any other and are not shown', () => {
    const decoded = decode(
      bytesOf(`${HEADS}\n=cmd|' /C calc'!A0,1,0,1,f,60\nb,=1+1,0,1,f,60\nb,2,@SUM(A1),1,f,60\n`),
    );
    if (decoded.kind === 'refused') throw new Error(decoded.finding.reason);
    expect(decoded.patients).toHaveLength(1);
    expect(decoded.refusals.map(({ value }) => value)).toEqual([
      '=9+9 (shape only)',
      '@AAA(A9) (shape only)',
    ]);
  });
});

describe('any file at all', () => {
  const cell = fc.oneof(
    fc.constantFrom(
      'a',
      'b',
      '0',
      '1',
      'f',
      'm',
      '60',
      '1.5',
      '-1',
      '',
      ' ',
      '"',
      '""',
      '"x',
      ',',
      ';',
      '\n',
      '\r\n',
      '\uFEFF',
      '\u2028',
      '1e9',
      '__proto__',
    ),
    fc.string({ maxLength: 12 }),
    fc.string({ unit: 'binary', maxLength: 6 }),
  );
  const text = fc
    .array(
      fc.array(cell, { maxLength: 8 }).map((cells) => cells.join(',')),
      { maxLength: 12 },
    )
    .map((lines) => [HEADS, ...lines].join('\n'));
  const bytes = fc.oneof(
    text.map(bytesOf),
    fc.uint8Array({ maxLength: 300 }),
    text.chain((some) => fc.uint8Array({ maxLength: 4 }).map((tail) => joined(bytesOf(some), tail))),
  );

  it('is decoded or refused by a tagged finding, never thrown at; every row is accepted, refused or blank', () => {
    fc.assert(
      fc.property(bytes, (file) => {
        const decoded = decode(file);
        if (decoded.kind === 'refused') {
          expect(decoded.finding.row).toBeNull();
          expect(decoded.finding.cure).not.toBe('');
          return;
        }
        const accepted = decoded.patients.reduce((sum, { readings }) => sum + readings.length, 0);
        expect(accepted + decoded.refusals.length).toBe(decoded.rowsRead);
        expect(new Set(decoded.refusals.map(({ row }) => row)).size).toBe(decoded.refusals.length);
      }),
      { numRuns: 3_000 },
    );
  });

  it('never has a patient shown in a report, wherever the number slipped', () => {
    // Not one that is its own shape.
    const identifier = fc
      .stringMatching(/^[A-Z]{2}[a-z]{3,8} ?[0-9]{3,7}$/)
      .filter((text) => !/^A+a+ ?9+$/.test(text));
    const slipped = fc.tuple(identifier, fc.nat(5)).map(([canary, place]) => {
      const cells = ['p1', '1.5', '0', '1', 'f', '60'];
      cells[place] = canary;
      return { canary, rows: [`${canary},1,0,1,f,60`, cells.join(','), `${canary},${canary}`] };
    });
    fc.assert(
      fc.property(slipped, ({ canary, rows }) => {
        const decoded = decode(bytesOf([HEADS, ...rows].join('\n')));
        if (decoded.kind === 'refused') throw new Error(decoded.finding.reason);
        const said = `${sayReport(reportOf(decoded, mapping)).join('\n')}${JSON.stringify(reportOf(decoded, mapping))}`;
        expect(said).not.toContain(canary);
        expect(said).not.toContain(canary.replaceAll(' ', '').toUpperCase());
      }),
      { numRuns: 500 },
    );
  });
});
