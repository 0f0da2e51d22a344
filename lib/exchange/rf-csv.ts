import {
  APPLICATION_COLUMNS,
  MOST_APPLICATIONS,
  MOST_FILE_BYTES,
  NEEDED_COLUMNS,
  readApplication,
} from '@/lib/registry/rf-applications';
import { delimiterOf, readCsvRecords } from './csv-records';
import { sayFinding } from './import-finding';

export type DecodedApplications =
  /** Rows as typed texts in the order of APPLICATION_COLUMNS, each of them readable. */
  | { readonly kind: 'read'; readonly rows: readonly (readonly string[])[] }
  | { readonly kind: 'refused'; readonly findings: readonly string[] };

const refused = (...findings: string[]): DecodedApplications => ({ kind: 'refused', findings });

/**
 * A CSV of single radiofrequency applications, one a row, in the order of time. The first line names the columns; commas or
 * semicolons part them. All findings at once, by line as a spreadsheet counts; a column that is not ours is refused, since
 * nobody knows what stands in it. Never throws.
 */
export function decodeApplicationsCsv(bytes: Uint8Array): DecodedApplications {
  if (bytes.length > MOST_FILE_BYTES) {
    return refused(
      `The file is larger than ${MOST_FILE_BYTES / 1000} kB. It should hold the applications of one procedure.`,
    );
  }
  const records = readCsvRecords(bytes, delimiterOf(bytes));
  if (records.kind === 'refused') return refused(sayFinding(records.finding));
  const heads = records.heads.map((head) => head.toLowerCase());
  const wrong = findingsOfHeads(heads);
  if (wrong.length > 0) return refused(...wrong);
  if (records.rows.length > MOST_APPLICATIONS) {
    return refused(
      `The file has ${records.rows.length} rows; up to ${MOST_APPLICATIONS} applications are read.`,
    );
  }
  const findings: string[] = [];
  const rows: string[][] = [];
  for (const [index, cells] of records.rows.entries()) {
    const line = index + 2;
    if (cells.length !== heads.length) {
      findings.push(
        `Line ${line}: ${cells.length} cells below ${heads.length} columns. Check its delimiters.`,
      );
      continue;
    }
    const row = APPLICATION_COLUMNS.map((column) => (cells[heads.indexOf(column)] ?? '').trim());
    const reading = readApplication(row);
    if (reading.kind === 'read') rows.push(row);
    else
      findings.push(...reading.problems.map(({ column, message }) => `Line ${line}, ${column}: ${message}`));
  }
  return findings.length > 0 ? refused(...findings) : { kind: 'read', rows };
}

function findingsOfHeads(heads: readonly string[]): string[] {
  const known: readonly string[] = APPLICATION_COLUMNS;
  const list = APPLICATION_COLUMNS.join(', ');
  return [
    ...NEEDED_COLUMNS.filter((column) => !heads.includes(column)).map(
      (column) => `Line 1: the column ${column} is missing. The columns are ${list}.`,
    ),
    ...heads.flatMap((head, index) => {
      if (!known.includes(head))
        return [`Line 1: column ${index + 1} is none of ours. The columns are ${list}.`];
      return heads.indexOf(head) < index ? [`Line 1: the column ${head} stands there twice.`] : [];
    }),
  ];
}
