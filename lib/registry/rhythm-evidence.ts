import { EVIDENCE_GRADES, type EvidenceGrade, RHYTHMS, type RecordingKind, type Rhythm } from './vocabulary';

/**
 * What is known about a patient's rhythm and drugs around one procedure, packed so that any endpoint definition is
 * derived by one linear pass over integers: four per item, [day, code, seconds, endDay], sorted by day, then kind.
 *
 * day: days since the procedure (negative = before it). code: see `itemCode`. seconds: longest episode (-1 unknown).
 * endDay: recordings: last day of the episode when arrhythmia was found, else last day of the recording;
 * others: same as day. Raise RULES_VERSION whenever the packing or what fills it changes: rows are then rebuilt.
 */
export const EVIDENCE_STRIDE = 4;
export const RULES_VERSION = 1;

/** Kinds, in the order in which they count within one day: recording, drug, repeat (not packed), death (not packed). */
export const ITEM_KIND = { recording: 0, cardioversion: 1, drugStart: 2, drugStop: 3, drugsKnown: 4, contact: 5 } as const;
export type ItemKind = (typeof ITEM_KIND)[keyof typeof ITEM_KIND];

const FLAG_WHOLE_TRACING = 1 << 12;
const FLAG_SYMPTOMATIC = 1 << 13;
const FLAG_SEEN = 1 << 14;

export interface RecordingItem {
  readonly day: number;
  readonly endDay: number;
  readonly rhythm: Rhythm;
  readonly grade: EvidenceGrade;
  /** Longest episode in seconds, or null when unknown. */
  readonly seconds: number | null;
  readonly wholeTracing: boolean;
  readonly symptomatic: boolean;
  readonly seen: boolean;
}

const RHYTHM_INDEX = new Map<string, number>(RHYTHMS.map((term, index) => [term.code, index]));
const GRADE_INDEX = new Map<string, number>(EVIDENCE_GRADES.map((term, index) => [term.code, index]));

/** The grade of a recording from its kind and how long it ran. */
export function gradeOfRecording(kind: RecordingKind, durationMinutes: number | null): EvidenceGrade {
  if (kind === 'implanted') return 'continuous';
  if (durationMinutes === null || kind !== 'holter') return 'ecg';
  if (durationMinutes >= 14 * 1440) return '14d';
  if (durationMinutes >= 7 * 1440) return '7d';
  return durationMinutes >= 1440 ? '24h' : 'ecg';
}

/** Packs a recording as four integers. */
export function packRecording(item: RecordingItem): [number, number, number, number] {
  const code =
    ITEM_KIND.recording |
    ((RHYTHM_INDEX.get(item.rhythm) ?? 0) << 4) |
    ((GRADE_INDEX.get(item.grade) ?? 0) << 8) |
    (item.wholeTracing ? FLAG_WHOLE_TRACING : 0) |
    (item.symptomatic ? FLAG_SYMPTOMATIC : 0) |
    (item.seen ? FLAG_SEEN : 0);
  return [item.day, code, item.seconds ?? -1, item.endDay];
}

/** Packs anything that is not a recording. Class I and III drugs only: other drugs never count. */
export function packMark(kind: Exclude<ItemKind, 0>, day: number): [number, number, number, number] {
  return [day, kind, -1, day];
}

export const kindOf = (code: number): number => code & 15;
export const rhythmIndexOf = (code: number): number => (code >> 4) & 15;
export const gradeIndexOf = (code: number): number => (code >> 8) & 15;
export const isWholeTracing = (code: number): boolean => (code & FLAG_WHOLE_TRACING) !== 0;
export const isSymptomatic = (code: number): boolean => (code & FLAG_SYMPTOMATIC) !== 0;
export const isSeen = (code: number): boolean => (code & FLAG_SEEN) !== 0;

/** Sorts items by day, then by kind, and lays them end to end. */
export function packEvidence(items: readonly (readonly [number, number, number, number])[]): number[] {
  return [...items].sort((a, b) => a[0] - b[0] || kindOf(a[1]) - kindOf(b[1]) || a[1] - b[1] || a[2] - b[2]).flat();
}
