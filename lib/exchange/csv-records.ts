import { type CsvCells, readCells } from './csv-cells';
import { fileRefusal, type ImportFinding } from './import-finding';

/** What a file of readings may be at most: larger ones are refused before they are read. */
export const CSV_LIMITS = {
  bytes: 64 * 1024 * 1024,
  lineBytes: 20_000,
  columns: 200,
  rows: 500_000,
} as const;

export type CsvRecords =
  | {
      readonly kind: 'records';
      readonly heads: readonly string[];
      readonly rows: readonly (readonly string[])[];
    }
  | { readonly kind: 'refused'; readonly finding: ImportFinding };

const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SEMICOLON = 59;

/** For files whose columns we name: a semicolon in the first line parts them, since none of the names holds one. */
export function delimiterOf(bytes: Uint8Array): ',' | ';' {
  const end = bytes.indexOf(LINE_FEED);
  return bytes.subarray(0, end < 0 ? bytes.length : end).includes(SEMICOLON) ? ';' : ',';
}

/** Bytes of a CSV file as cells. The first record is the heads; rows[i] is row i + 2 of a spreadsheet. Never throws. */
export function readCsvRecords(bytes: Uint8Array, delimiter: string): CsvRecords {
  const finding = refusalOfBytes(bytes) ?? refusalOfLines(bytes);
  if (finding) return { kind: 'refused', finding };
  const text = decodeUtf8(bytes);
  if (text === null) {
    const reason = `Line ${lineOfBadUtf8(bytes)} is not UTF-8.`;
    return refuse('file-not-text', reason, 'Save the file as CSV in UTF-8 and try again.');
  }
  const cells = readCells(text, delimiter, {
    rows: CSV_LIMITS.rows + 1,
    // A line of full length and its end.
    recordCharacters: CSV_LIMITS.lineBytes + 1,
  });
  if (cells.kind === 'fault') return { kind: 'refused', finding: refusalOfCells(cells) };
  const [heads, ...rows] = cells.records;
  return checkedShape(heads ?? [], rows);
}

function checkedShape(heads: readonly string[], rows: readonly (readonly string[])[]): CsvRecords {
  if (heads.length > CSV_LIMITS.columns) {
    const cure = 'Check the delimiter in the mapping, or keep only the columns that are needed.';
    return refuse(
      'too-many-columns',
      `The first line has ${heads.length} columns; up to ${CSV_LIMITS.columns} are read.`,
      cure,
    );
  }
  if (rows.length === 0) {
    return refuse(
      'file-empty',
      'The file has no rows below its first line.',
      'The first line names the columns, each further line is one reading.',
    );
  }
  return { kind: 'records', heads: heads.map((head) => head.trim()), rows };
}

function refuse(...refusal: Parameters<typeof fileRefusal>): CsvRecords {
  return { kind: 'refused', finding: fileRefusal(...refusal) };
}

function refusalOfBytes(bytes: Uint8Array): ImportFinding | null {
  if (bytes.length === 0) return fileRefusal('file-empty', 'The file is empty.', 'Choose another file.');
  if (bytes.length > CSV_LIMITS.bytes) {
    return fileRefusal(
      'file-too-large',
      `The file is larger than ${CSV_LIMITS.bytes / 1024 / 1024} MB.`,
      'Part it into several files by patient.',
    );
  }
  const starts = (...first: number[]): boolean => first.every((byte, i) => bytes[i] === byte);
  const cure = 'Save the file as CSV in UTF-8 and try again.';
  if (starts(0xff, 0xfe) || starts(0xfe, 0xff)) {
    return fileRefusal('file-not-text', 'The file is written in UTF-16.', cure);
  }
  if (starts(0x50, 0x4b, 3, 4)) {
    return fileRefusal('file-not-text', 'The file is a workbook or a ZIP archive, not a CSV.', cure);
  }
  if (bytes.includes(0)) {
    return fileRefusal(
      'file-not-text',
      'The file holds NUL bytes: it is not plain text, or it is damaged.',
      cure,
    );
  }
  return null;
}

const CURE_OF_LENGTH = 'Check that the file is a CSV and that each quotation mark is closed.';

/** A line of any length costs memory before its columns can be counted: measured on the bytes. */
function refusalOfLines(bytes: Uint8Array): ImportFinding | null {
  let line = 1;
  let start = 0;
  for (let i = 0; i <= bytes.length; i++) {
    const atEnd = i === bytes.length;
    if (!atEnd && bytes[i] !== LINE_FEED && bytes[i] !== CARRIAGE_RETURN) continue;
    if (i - start > CSV_LIMITS.lineBytes) return lineTooLong(line);
    if (!atEnd && bytes[i] === CARRIAGE_RETURN && bytes[i + 1] === LINE_FEED) i += 1;
    start = i + 1;
    line += 1;
  }
  return null;
}

function lineTooLong(line: number): ImportFinding {
  const reason = `Line ${line} is longer than ${CSV_LIMITS.lineBytes} bytes.`;
  return fileRefusal('line-too-long', reason, CURE_OF_LENGTH);
}

function decodeUtf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

function lineOfBadUtf8(bytes: Uint8Array): number {
  let line = 1;
  let start = 0;
  while (start < bytes.length) {
    const found = bytes.indexOf(LINE_FEED, start);
    const end = found === -1 ? bytes.length : found;
    if (decodeUtf8(bytes.subarray(start, end)) === null) return line;
    start = end + 1;
    line += 1;
  }
  return line;
}

function refusalOfCells({ fault, line }: CsvCells & { readonly kind: 'fault' }): ImportFinding {
  if (fault === 'record-too-long') {
    const reason = `The row that begins at line ${line} is longer than ${CSV_LIMITS.lineBytes} characters.`;
    return fileRefusal('line-too-long', reason, CURE_OF_LENGTH);
  }
  if (fault === 'too-many-rows') {
    const reason = `The file has more than ${CSV_LIMITS.rows} rows.`;
    return fileRefusal('too-many-rows', reason, 'Part it into several files by patient.');
  }
  const reason = `At line ${line} a quotation mark does not close, or stands where no cell begins or ends.`;
  return fileRefusal(
    'file-quotes',
    reason,
    'Put the whole cell in quotation marks and double those inside it.',
  );
}
