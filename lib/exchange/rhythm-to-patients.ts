import { addDays, type CalendarDay } from '../registry/calendar-day';
import { codeLengthFor, LONGEST_CODE, makePatientCode } from '../registry/patient-code';
import type { Rhythm } from '../registry/vocabulary';
import type { DecodedRhythm } from './rhythm-csv';
import type { RhythmMapping } from './rhythm-mapping';
import type { RhythmPatient, RhythmReading } from './rhythm-patient';

/** What an import needs from outside: chance and what is taken come from the caller, so that this stays pure. */
export interface ImportMeans {
  /** SHA-256 of the file, 32 bytes. */
  readonly fileSha256: Uint8Array<ArrayBuffer>;
  readonly nextId: () => string;
  readonly randomBytes: (size: number) => Uint8Array;
  /** Patient codes of the lab: none of them is drawn again. */
  readonly takenCodes: readonly string[];
}

interface Identities extends Pick<ImportMeans, 'nextId'> {
  readonly batchId: string;
  readonly nextCode: () => string;
}

/** A decoded file as the rows and the batch entry that the loader publishes. Counts of the batch are rows of the file. */
export function importToLoad(decoded: DecodedRhythm, mapping: RhythmMapping, means: ImportMeans) {
  const batchId = means.nextId();
  const { nextId } = means;
  const identities = { batchId, nextId, nextCode: codeDrawer(decoded.patients.length, means) };
  return {
    patients: decoded.patients.map((patient) => patientToLoad(patient, mapping, identities)),
    batch: {
      id: batchId,
      source: mapping.source,
      fileSha256: means.fileSha256,
      rows: decoded.rowsRead,
      published: decoded.patients.reduce((sum, patient) => sum + patient.readings.length, 0),
      refused: decoded.refusals.length,
    },
  };
}

/** Codes two characters longer than needed: a patient unknown to the caller is met once in many thousand imports. */
function codeDrawer(newPatients: number, { randomBytes, takenCodes }: ImportMeans): () => string {
  const taken = new Set(takenCodes);
  const length = Math.min(LONGEST_CODE, codeLengthFor(taken.size + newPatients) + 2);
  return () => {
    for (;;) {
      const code = makePatientCode(randomBytes(8 * length), length);
      if (taken.has(code)) continue;
      taken.add(code);
      return code;
    }
  };
}

/**
 * A patient of the file as rows to load: one procedure on day 0, one recording per reading. The file's own patient number
 * goes on as `importReference` alone, which the loader keeps as a keyed hash; the source is part of it, so that two files
 * that both begin to count at 1 do not meet.
 */
function patientToLoad(patient: RhythmPatient, mapping: RhythmMapping, identities: Identities) {
  const { batchId, nextId } = identities;
  const patientId = nextId();
  return {
    importReference: JSON.stringify([mapping.source, patient.reference]),
    patient: {
      id: patientId,
      code: identities.nextCode(),
      birthYear: patient.birthYear,
      sex: patient.sex,
      cohortTag: patient.cohortTag,
      importBatchId: batchId,
    },
    procedures: [
      {
        id: nextId(),
        patientId,
        ordinal: 1,
        performedOn: mapping.dayZero,
        ageYears: patient.ageYears,
        importBatchId: batchId,
      },
    ],
    recordings: patient.readings.map((reading) => recordingOf(reading, mapping, patientId, identities)),
    baselines: [],
    lesionElements: [],
    complications: [],
    readmissions: [],
    visits: [],
    deviceDays: [],
    drugEpisodes: [],
    cardioversions: [],
  };
}

interface RecordingToLoad {
  readonly id: string;
  readonly patientId: string;
  readonly kind: string;
  readonly startedOn: CalendarDay;
  readonly endedOn: CalendarDay;
  readonly rhythm: Rhythm;
  readonly wholeTracing: boolean;
  readonly source: 'reported';
  readonly importBatchId: string;
}

function recordingOf(
  { day, rhythm }: RhythmReading,
  mapping: RhythmMapping,
  patientId: string,
  { batchId, nextId }: Identities,
): RecordingToLoad {
  const on = addDays(mapping.dayZero, day);
  return {
    id: nextId(),
    patientId,
    kind: mapping.reading.kind,
    startedOn: on,
    endedOn: on,
    rhythm,
    // "Whole tracing" says that an arrhythmia fills the tracing: there is none to fill it in sinus rhythm.
    wholeTracing: rhythm !== 'sinus',
    source: 'reported',
    importBatchId: batchId,
  };
}
