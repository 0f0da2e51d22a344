/** Why a row, a patient's rows or a whole file are refused. */
export type RefusalCode =
  | 'file-empty'
  | 'file-too-large'
  | 'file-not-text'
  | 'file-quotes'
  | 'line-too-long'
  | 'too-many-columns'
  | 'too-many-rows'
  | 'column-missing'
  | 'column-twice'
  | 'cells-differ'
  | 'patient-blank'
  | 'patient-too-long'
  | 'time-not-a-number'
  | 'time-before-day-zero'
  | 'time-too-late'
  | 'day-in-the-future'
  | 'rhythm-unknown'
  | 'group-unknown'
  | 'sex-unknown'
  | 'age-impossible'
  | 'birth-year-impossible'
  | 'birth-year-missing'
  | 'two-rhythms-at-once'
  | 'patient-contradicts-itself'
  | 'column-unknown'
  | 'burden-unit-missing'
  | 'patient-code-wrong'
  | 'patient-unknown'
  | 'patient-erased'
  | 'day-not-a-day'
  | 'day-before-birth'
  | 'day-after-death'
  | 'day-after-withdrawal'
  | 'device-unknown'
  | 'burden-not-a-number'
  | 'burden-over-a-day'
  | 'longest-not-a-number'
  | 'longest-over-the-burden'
  | 'two-values-for-a-day'
  | 'stored-differently';

/** One refusal: where it is, what stands there (never an identifier), why it is refused, how to mend it. */
export interface ImportFinding {
  readonly code: RefusalCode;
  /** Row as a spreadsheet counts: the heads are row 1. Null: the whole file. */
  readonly row: number | null;
  /** The column's name as the mapping writes it, or null. */
  readonly column: string | null;
  /** The cell as it may be shown, or null. */
  readonly value: string | null;
  readonly reason: string;
  readonly cure: string;
}

/** A refusal of the whole file. */
export function fileRefusal(
  code: RefusalCode,
  reason: string,
  cure: string,
  column: string | null = null,
): ImportFinding {
  return { code, row: null, column, value: null, reason, cure };
}

/** One line for a terminal or a list. */
export function sayFinding(finding: ImportFinding): string {
  const place = [
    finding.row === null ? 'the file' : `row ${finding.row}`,
    ...(finding.column === null ? [] : [`column "${finding.column}"`]),
    ...(finding.value === null ? [] : [`value ${finding.value}`]),
  ].join(', ');
  return `${place}: ${finding.reason} ${finding.cure}`;
}
