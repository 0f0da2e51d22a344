import { CsvError, parse } from 'csv-parse/sync';
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

/** Bytes of a CSV file as cells. The first record is the heads; rows[i] is row i + 2 of a spreadsheet. Never throws. */
export function readCsvRecords(bytes: Uint8Array, delimiter: string): CsvRecords {
  const finding = refusalOfBytes(bytes) ?? refusalOfLines(bytes);
  if (finding) return { kind: 'refused', finding };
  const text = decodeUtf8(bytes);
  if (text === null) {
    const reason = `Line ${lineOfBadUtf8(bytes)} is not UTF-8.`;
    return refuse('file-not-text', reason, 'Save the file as CSV in UTF-8 and try again.');
  }
  try {
    // One record more than allowed is read, to tell "full" from "too many".
    const [heads, ...rows] = recordsOf(text, delimiter, CSV_LIMITS.rows + 2);
    return checkedShape(heads ?? [], rows);
  } catch (error) {
    if (error instanceof CsvError) return { kind: 'refused', finding: refusalOfCsv(error) };
    throw error;
  }
}

function recordsOf(text: string, delimiter: string, most: number): string[][] {
  return parse(text, {
    delimiter,
    record_delimiter: ['\r\n', '\n', '\r'],
    relax_column_count: true,
    max_record_size: CSV_LIMITS.lineBytes,
    to: most,
  });
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
  if (rows.length > CSV_LIMITS.rows) {
    return refuse(
      'too-many-rows',
      `The file has more than ${CSV_LIMITS.rows} rows.`,
      'Part it into several files by patient.',
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
  return fileRefusal(
    'line-too-long',
    reason,
    'Check that the file is a CSV and that each quotation mark is closed.',
  );
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

/** The parser's own words quote the file; ours give the line. */
function refusalOfCsv(error: CsvError): ImportFinding {
  const { lines } = error;
  const line = typeof lines === 'number' ? lines : 1;
  if (error.code === 'CSV_MAX_RECORD_SIZE') return lineTooLong(line);
  return fileRefusal(
    'file-quotes',
    `At line ${line} a quotation mark does not close, or stands inside a cell that is not quoted.`,
    'Put the whole cell in quotation marks and double those inside it.',
  );
}
