import type { Rhythm, Sex } from '../registry/vocabulary';
import type { RefusalCode } from './import-finding';
import { birthYearOfAge, EARLIEST_BIRTH_YEAR, type PatientFacts, type RowFacts } from './rhythm-cells';
import type { RhythmMapping } from './rhythm-mapping';

export interface RhythmReading {
  readonly row: number;
  /** Whole days since day 0. */
  readonly day: number;
  readonly rhythm: Rhythm;
}

/** A patient of the file with the readings that were accepted, in the order of the file. */
export interface RhythmPatient {
  /** The patient as the file names them: only for the keyed hash, never shown, logged or stored. */
  readonly reference: string;
  readonly cohortTag: string | null;
  readonly sex: Sex;
  readonly birthYear: number;
  readonly birthYearFrom: 'file' | 'age' | 'mapping';
  readonly ageYears: number | null;
  readonly readings: readonly RhythmReading[];
}

/** What the file says of one patient: facts of every readable row, readings of the rows that could be read whole. */
export interface PatientRows {
  readonly facts: ({ readonly row: number } & PatientFacts)[];
  readonly rows: ({ readonly row: number } & RowFacts)[];
}

interface SettledRefusal {
  readonly code: RefusalCode;
  readonly row: number;
  readonly reason: string;
  readonly cure: string;
}

export interface SettledPatient {
  /** Null when no row is left. */
  readonly patient: RhythmPatient | null;
  readonly refused: readonly SettledRefusal[];
  readonly repeatedReadings: number;
}

/** Joins the rows of a patient: refuses all when they contradict each other about the patient, and rhythms at one time. */
export function settlePatient(reference: string, file: PatientRows, mapping: RhythmMapping): SettledPatient {
  const refuseAll = (code: RefusalCode, reason: string, cure: string): SettledPatient => ({
    patient: null,
    refused: file.rows.map(({ row }) => ({ code, row, reason, cure })),
    repeatedReadings: 0,
  });
  const contradiction = contradictionOf(file);
  if (contradiction) return refuseAll('patient-contradicts-itself', ...contradiction);
  const { kept, refused, repeatedReadings } = partByTime(file);
  if (kept.length === 0) return { patient: null, refused, repeatedReadings };
  const ageYears = stated(file, 'ageYears');
  const born = birthYearOf(stated(file, 'birthYear'), ageYears, mapping);
  if (!born) {
    return refuseAll(
      'birth-year-missing',
      'The patient has neither age nor birth year.',
      'Add it, or give "birthYearWhenMissing" in the mapping.',
    );
  }
  if (born.birthYear < EARLIEST_BIRTH_YEAR) {
    return refuseAll(
      'birth-year-impossible',
      `The age puts the birth before ${EARLIEST_BIRTH_YEAR}.`,
      'Check the age, and day zero in the mapping.',
    );
  }
  const patient = {
    reference,
    cohortTag: stated(file, 'tag'),
    sex: stated(file, 'sex') ?? 'unknown',
    ...born,
    ageYears,
    readings: kept.map(({ row, day, rhythm }) => ({ row, day, rhythm })),
  } as const;
  return { patient, refused, repeatedReadings };
}

const FACT_WORDS = { tag: 'group', sex: 'sex', ageYears: 'age', birthYear: 'birth year' } as const;
type Fact = keyof typeof FACT_WORDS;

/** What the rows say about a fact: null when none says anything. Blank cells do not contradict. */
function stated<Name extends Fact>({ facts }: PatientRows, name: Name): PatientFacts[Name] | null {
  return facts.find((fact) => fact[name] !== null)?.[name] ?? null;
}

function contradictionOf(file: PatientRows): [reason: string, cure: string] | null {
  for (const name of ['tag', 'sex', 'ageYears', 'birthYear'] as const) {
    const first = file.facts.find((fact) => fact[name] !== null);
    const other = file.facts.find((fact) => fact[name] !== null && fact[name] !== first?.[name]);
    if (!first || !other) continue;
    const word = FACT_WORDS[name];
    const reason = `The ${word} of this patient differs between row ${first.row} and row ${other.row}: the patient is left out whole.`;
    return [reason, `Give the patient the same ${word} in every row.`];
  }
  return null;
}

/** Parts the rows at times where the rhythms differ from the others; what repeats a kept reading is counted. */
function partByTime({ rows }: PatientRows): Omit<SettledPatient, 'patient'> & { kept: PatientRows['rows'] } {
  const first = new Map<number, PatientRows['rows'][number]>();
  const clashing = new Set<number>();
  for (const row of rows) {
    const earlier = first.get(row.time) ?? row;
    first.set(row.time, earlier);
    if (earlier.rhythm !== row.rhythm) clashing.add(row.time);
  }
  const kept = rows.filter((row) => !clashing.has(row.time));
  const refused = rows
    .filter((row) => clashing.has(row.time))
    .map(({ row, time }) => ({
      code: 'two-rhythms-at-once' as const,
      row,
      reason: `This patient has two rhythms at the very same time (first in row ${first.get(time)?.row}).`,
      cure: 'Keep the right one, or write the times apart with decimals when both were recorded.',
    }));
  return { kept, refused, repeatedReadings: kept.filter((row) => first.get(row.time) !== row).length };
}

function birthYearOf(
  birthYear: number | null,
  ageYears: number | null,
  mapping: RhythmMapping,
): Pick<RhythmPatient, 'birthYear' | 'birthYearFrom'> | null {
  if (birthYear !== null) return { birthYear, birthYearFrom: 'file' };
  if (ageYears !== null)
    return { birthYear: birthYearOfAge(mapping.dayZero, ageYears), birthYearFrom: 'age' };
  const { birthYearWhenMissing } = mapping;
  return birthYearWhenMissing === undefined
    ? null
    : { birthYear: birthYearWhenMissing, birthYearFrom: 'mapping' };
}
