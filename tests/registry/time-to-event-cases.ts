import type { Cohort, CohortColumn } from '@/lib/registry/cohort';
import {
  ITEM_KIND,
  packEvidence,
  packMark,
  packRecording,
  type RecordingItem,
} from '@/lib/registry/rhythm-evidence';

/** One procedure and what is known around it, as objects: what the oracle reads, and what is packed for the product. */
export interface TestCase {
  readonly ordinal: number;
  /** Days from this procedure to the next one and to death; null = none. */
  readonly next: number | null;
  readonly death: number | null;
  readonly recordings: readonly RecordingItem[];
  /** Class I and III drugs only; stop = last day taken. */
  readonly drugs: readonly { readonly start: number; readonly stop: number | null }[];
  readonly cardioversions: readonly number[];
  /** Days on which the drugs were asked for. */
  readonly drugReviews: readonly number[];
  readonly contacts: readonly number[];
}

export const EMPTY_CASE: TestCase = {
  ordinal: 1,
  next: null,
  death: null,
  recordings: [],
  drugs: [],
  cardioversions: [],
  drugReviews: [],
  contacts: [],
};

/** A recording of one day. Unless told otherwise: an ECG of 10 s filled by the rhythm, its tracing seen. */
export function recorded(
  rhythm: RecordingItem['rhythm'],
  day: number,
  more: Partial<RecordingItem> = {},
): RecordingItem {
  return {
    day,
    endDay: day,
    recordedToDay: more.endDay ?? day,
    rhythm,
    grade: 'ecg',
    seconds: null,
    wholeTracing: rhythm !== 'sinus',
    symptomatic: false,
    seen: true,
    ...more,
  };
}

function column(size: number): CohortColumn {
  return { codes: [''], index: new Uint16Array(size) };
}

function packed(one: TestCase): number[] {
  return packEvidence([
    ...one.recordings.map(packRecording),
    ...one.drugs.map((drug) => packMark(ITEM_KIND.drugStart, drug.start)),
    ...one.drugs.flatMap((drug) => (drug.stop === null ? [] : [packMark(ITEM_KIND.drugStop, drug.stop)])),
    ...one.cardioversions.map((day) => packMark(ITEM_KIND.cardioversion, day)),
    ...one.drugReviews.map((day) => packMark(ITEM_KIND.drugsKnown, day)),
    ...one.contacts.map((day) => packMark(ITEM_KIND.contact, day)),
  ]);
}

/** The cases as the columns that records fills; covariates are not recorded. */
export function cohortOf(cases: readonly TestCase[]): Cohort {
  const size = cases.length;
  const evidence = cases.map(packed);
  const evidenceStart = new Int32Array(size + 1);
  evidence.forEach((items, index) => {
    evidenceStart[index + 1] = evidenceStart[index] + items.length;
  });
  return {
    dataVersion: '1',
    size,
    procedureId: cases.map((_, index) => `procedure-${index}`),
    patientId: cases.map((_, index) => `patient-${index}`),
    patientCode: cases.map((_, index) => `P-${index}`),
    patientIndex: Int32Array.from(cases.keys()),
    performedOnDay: new Int32Array(size),
    ordinal: Uint8Array.from(cases, (one) => one.ordinal),
    daysToNext: Int32Array.from(cases, (one) => one.next ?? -1),
    daysToDeath: Int32Array.from(cases, (one) => one.death ?? -1),
    daysToLastContact: new Int32Array(size).fill(-1),
    ageYears: new Int16Array(size).fill(-1),
    laDiameterMm: new Int16Array(size).fill(-1),
    lvefPct: new Int16Array(size).fill(-1),
    structuralHeartDisease: new Int8Array(size).fill(-1),
    sex: column(size),
    afType: column(size),
    intendedStrategy: column(size),
    derivedStrategy: column(size),
    energy: column(size),
    operator: column(size),
    cohortTag: column(size),
    evidenceStart,
    evidence: Int32Array.from(evidence.flat()),
  };
}
