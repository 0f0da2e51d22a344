import { type CalendarDay, daysBetween } from '../registry/calendar-day';
import { readCsvRecords } from './csv-records';
import { fileRefusal, type ImportFinding } from './import-finding';
import { type CellOf, type PatientFacts, type RowFacts, readPatientFacts, readRow } from './rhythm-cells';
import type { ColumnRole, RhythmMapping } from './rhythm-mapping';
import { type PatientRows, type RhythmPatient, settlePatient } from './rhythm-patient';
import { showValue } from './value-shape';

export interface DecodedRhythm {
  readonly kind: 'decoded';
  /** Rows below the heads that hold anything. */
  readonly rowsRead: number;
  readonly blankRows: number;
  readonly patients: readonly RhythmPatient[];
  /** Patients of the file of whom no row was accepted. */
  readonly patientsLeftOut: number;
  /** Readings that repeat another one of the same patient, time and rhythm: kept, and counted here. */
  readonly repeatedReadings: number;
  /** One per refused row, in the order of the file. */
  readonly refusals: readonly ImportFinding[];
}

export type RhythmDecoding = DecodedRhythm | { readonly kind: 'refused'; readonly finding: ImportFinding };

const MAX_PATIENT_CHARACTERS = 100;

/**
 * Reads a CSV of rhythm readings, one row per reading, by a mapping. Pure; never throws: what cannot be read is a finding,
 * by row or for the whole file. `today` is the last day a reading may lie on.
 */
export function decodeRhythmCsv(
  bytes: Uint8Array,
  mapping: RhythmMapping,
  today: CalendarDay,
): RhythmDecoding {
  if (daysBetween(mapping.dayZero, today) < 0) return refuseFutureDayZero(mapping, today);
  const records = readCsvRecords(bytes, mapping.delimiter);
  if (records.kind === 'refused') return records;
  const places = placeColumns(records.heads, mapping);
  if ('code' in places) return { kind: 'refused', finding: places };
  const sheet = new RhythmSheet(mapping, places, records.heads.length, today);
  for (const [index, cells] of records.rows.entries()) sheet.take(cells, index + 2);
  return sheet.settle();
}

/** Name under which the rows of one patient are gathered: as the keyed hash sees it, so letter case and blanks do not matter. */
function normalReference(cell: string): string {
  return cell.normalize('NFKC').replaceAll(/\s+/gu, '').toUpperCase();
}

function refuseFutureDayZero({ dayZero }: RhythmMapping, today: CalendarDay): RhythmDecoding {
  const reason = `Day zero, ${dayZero}, lies after today, ${today}.`;
  const cure = 'Give the day of the procedures as "dayZero" in the mapping.';
  return { kind: 'refused', finding: fileRefusal('day-in-the-future', reason, cure) };
}

type Places = ReadonlyMap<ColumnRole, { readonly index: number; readonly name: string }>;

function placeColumns(heads: readonly string[], mapping: RhythmMapping): Places | ImportFinding {
  const places = new Map<ColumnRole, { index: number; name: string }>();
  for (const [role, name] of columnsOf(mapping)) {
    const index = heads.indexOf(name);
    if (index === -1) return missingColumn(heads, role, name);
    if (heads.indexOf(name, index + 1) !== -1) {
      return fileRefusal(
        'column-twice',
        'Two columns of the file have this name.',
        'Rename one of the two in the file.',
        name,
      );
    }
    places.set(role, { index, name });
  }
  return places;
}

function columnsOf({ columns }: RhythmMapping): [ColumnRole, string][] {
  const roles: readonly ColumnRole[] = ['patient', 'time', 'rhythm', 'group', 'sex', 'age', 'birthYear'];
  return roles.flatMap((role) => {
    const name = columns[role];
    return name === undefined ? [] : [[role, name] satisfies [ColumnRole, string]];
  });
}

/** The heads are not quoted: a file without heads begins with a patient. */
function missingColumn(heads: readonly string[], role: ColumnRole, name: string): ImportFinding {
  const near = heads.some((head) => head.toLowerCase() === name.toLowerCase());
  const cure = near
    ? 'A column of that name in other letter case is there: write it in the mapping as the file does.'
    : 'Check the first line of the file, the delimiter, and the name in the mapping.';
  const count = heads.length === 1 ? 'one column' : `${heads.length} columns`;
  const reason = `The mapping reads it as ${role}, but none of the ${count} of the first line has this name.`;
  return fileRefusal('column-missing', reason, cure, name);
}

/** A row whose cells were refused: shown only when all patients of the file are known, so that none is echoed. */
interface RefusedRow extends Omit<ImportFinding, 'value' | 'column'> {
  readonly cell: string | null;
  readonly role: ColumnRole | null;
}

class RhythmSheet {
  private readonly byPatient = new Map<string, PatientRows>();
  /** Every cell that stands where the patient should, readable row or not: none of them is ever shown. */
  private readonly references = new Set<string>();
  private readonly refused: RefusedRow[] = [];
  private rowsRead = 0;
  private blankRows = 0;

  constructor(
    private readonly mapping: RhythmMapping,
    private readonly places: Places,
    private readonly width: number,
    private readonly today: CalendarDay,
  ) {}

  take(cells: readonly string[], row: number): void {
    if (cells.every((cell) => cell.trim() === '')) {
      this.blankRows += 1;
      return;
    }
    this.rowsRead += 1;
    const cellOf: CellOf = (role) => cells[this.places.get(role)?.index ?? -1]?.trim() ?? '';
    const reference = normalReference(cellOf('patient'));
    this.references.add(reference);
    const fault = this.faultOfFrame(cells, reference);
    if (fault) {
      this.refused.push({ ...fault, row, cell: null });
      return;
    }
    const patient = this.patientOf(reference);
    const facts = this.accept(readPatientFacts(cellOf, this.mapping), row, cellOf);
    if (!facts) return;
    patient.facts.push({ row, ...facts });
    const reading = this.accept(readRow(cellOf, this.mapping, this.today), row, cellOf);
    if (reading) patient.rows.push({ row, ...reading });
  }

  settle(): DecodedRhythm {
    const patients: RhythmPatient[] = [];
    let repeatedReadings = 0;
    for (const [reference, rows] of this.byPatient) {
      const settled = settlePatient(reference, rows, this.mapping);
      this.refused.push(...settled.refused.map((refusal) => ({ ...refusal, cell: null, role: null })));
      repeatedReadings += settled.repeatedReadings;
      if (settled.patient) patients.push(settled.patient);
    }
    const refusals = this.refused
      .map((refusal) => this.show(refusal))
      .sort((a, b) => (a.row ?? 0) - (b.row ?? 0));
    return {
      kind: 'decoded',
      rowsRead: this.rowsRead,
      blankRows: this.blankRows,
      patients,
      patientsLeftOut: this.byPatient.size - patients.length,
      repeatedReadings,
      refusals,
    };
  }

  private patientOf(reference: string): PatientRows {
    const known = this.byPatient.get(reference);
    if (known) return known;
    const fresh: PatientRows = { facts: [], rows: [] };
    this.byPatient.set(reference, fresh);
    return fresh;
  }

  private faultOfFrame(cells: readonly string[], reference: string): Omit<RefusedRow, 'row' | 'cell'> | null {
    if (cells.length !== this.width) {
      const reason = `The row has ${cells.length} cells, the first line has ${this.width}.`;
      return {
        code: 'cells-differ',
        role: null,
        reason,
        cure: 'Check the delimiters and quotation marks of the row.',
      };
    }
    if (reference === '') {
      return {
        code: 'patient-blank',
        role: 'patient',
        reason: 'The patient is blank.',
        cure: 'Write the patient in every row.',
      };
    }
    if (reference.length > MAX_PATIENT_CHARACTERS) {
      const reason = `The patient has more than ${MAX_PATIENT_CHARACTERS} characters.`;
      return {
        code: 'patient-too-long',
        role: 'patient',
        reason,
        cure: 'Use a short number or code for each patient.',
      };
    }
    return null;
  }

  private accept<T extends RowFacts | PatientFacts>(
    read: { value: T } | { refusal: Omit<RefusedRow, 'row' | 'cell'> & { role: ColumnRole } },
    row: number,
    cellOf: CellOf,
  ): T | null {
    if ('value' in read) return read.value;
    this.refused.push({ ...read.refusal, row, cell: cellOf(read.refusal.role) });
    return null;
  }

  private show({ role, cell, ...refusal }: RefusedRow): ImportFinding {
    const column = role === null ? null : (this.places.get(role)?.name ?? null);
    const isIdentifier = (text: string): boolean => this.references.has(normalReference(text));
    return { ...refusal, column, value: cell === null ? null : showValue(cell, isIdentifier) };
  }
}
