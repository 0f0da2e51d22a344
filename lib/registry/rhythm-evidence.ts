import { EVIDENCE_GRADES, type EvidenceGrade, type RecordingKind, RHYTHMS, type Rhythm } from './vocabulary';

/**
 * What is known about a patient's rhythm and drugs around one procedure, packed so that any endpoint definition is
 * derived by one linear pass over integers: five per item, [day, code, seconds, endDay, recordedTo], sorted by day, then
 * kind.
 *
 * day: days since the procedure (negative = before it). code: see `itemCode`. seconds: longest episode (-1 unknown).
 * endDay: recordings that found an arrhythmia: last day of its episode, else same as recordedTo. recordedTo: last day that
 * the recording covers, whatever it found. Both same as day for what is not a recording. Raise RULES_VERSION whenever the packing or what fills it changes: rows are then rebuilt.
 */
export const EVIDENCE_STRIDE = 5;
export const RULES_VERSION = 3;

/** Kinds, in the order in which they count within one day: recording, drug, repeat (not packed), death (not packed). */
export const ITEM_KIND = {
  recording: 0,
  cardioversion: 1,
  drugStart: 2,
  drugStop: 3,
  drugsKnown: 4,
  contact: 5,
  watched: 6,
} as const;
export type ItemKind = (typeof ITEM_KIND)[keyof typeof ITEM_KIND];

const FLAG_WHOLE_TRACING = 1 << 12;
const FLAG_SYMPTOMATIC = 1 << 13;
const FLAG_SEEN = 1 << 14;
const FLAG_DAY_BY_DAY = 1 << 15;
const FLAG_AT_MOST = 1 << 16;
const FLAG_SPAN_APART = 1 << 17;

export interface RecordingItem {
  readonly day: number;
  readonly endDay: number;
  readonly recordedToDay: number;
  readonly rhythm: Rhythm;
  readonly grade: EvidenceGrade;
  /** Longest episode in seconds, or null when unknown. */
  readonly seconds: number | null;
  readonly wholeTracing: boolean;
  readonly symptomatic: boolean;
  readonly seen: boolean;
  /** Known for each of its days by itself (an implanted device's own count): it may be read up to any of them. */
  readonly isDayByDay?: boolean;
  /** `seconds` is an upper limit: how long the longest episode was is not given. */
  readonly isAtMost?: boolean;
  /** It recorded before `day`: a watched span beside it tells from when on. */
  readonly isSpanApart?: boolean;
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

/** One packed item. */
export type PackedItem = [day: number, code: number, seconds: number, endDay: number, recordedTo: number];

/** Packs a recording. */
export function packRecording(item: RecordingItem): PackedItem {
  const code =
    ITEM_KIND.recording |
    ((RHYTHM_INDEX.get(item.rhythm) ?? 0) << 4) |
    ((GRADE_INDEX.get(item.grade) ?? 0) << 8) |
    (item.wholeTracing ? FLAG_WHOLE_TRACING : 0) |
    (item.symptomatic ? FLAG_SYMPTOMATIC : 0) |
    (item.seen ? FLAG_SEEN : 0) |
    (item.isDayByDay ? FLAG_DAY_BY_DAY : 0) |
    (item.isAtMost ? FLAG_AT_MOST : 0) |
    (item.isSpanApart ? FLAG_SPAN_APART : 0);
  return [item.day, code, item.seconds ?? -1, item.endDay, item.recordedToDay];
}

/**
 * Packs the days over which a recording ran whose item begins later, at the onset of what it found: it says how well the
 * time was watched, and nothing about freedom.
 */
export function packWatchedSpan(grade: EvidenceGrade, day: number, recordedTo: number): PackedItem {
  return [day, ITEM_KIND.watched | ((GRADE_INDEX.get(grade) ?? 0) << 8), -1, recordedTo, recordedTo];
}

/** Packs anything that is not a recording. Class I and III drugs only: other drugs never count. */
export function packMark(kind: Exclude<ItemKind, 0 | 6>, day: number): PackedItem {
  return [day, kind, -1, day, day];
}

export const kindOf = (code: number): number => code & 15;
export const rhythmIndexOf = (code: number): number => (code >> 4) & 15;
export const gradeIndexOf = (code: number): number => (code >> 8) & 15;
export const isWholeTracing = (code: number): boolean => (code & FLAG_WHOLE_TRACING) !== 0;
export const isSymptomatic = (code: number): boolean => (code & FLAG_SYMPTOMATIC) !== 0;
export const isSeen = (code: number): boolean => (code & FLAG_SEEN) !== 0;
export const isDayByDay = (code: number): boolean => (code & FLAG_DAY_BY_DAY) !== 0;
export const isSpanApart = (code: number): boolean => (code & FLAG_SPAN_APART) !== 0;
export const isAtMost = (code: number): boolean => (code & FLAG_AT_MOST) !== 0;

/** Sorts items by day, then by kind, then by all the rest, so that the same facts always give the same row; lays them end to end. */
export function packEvidence(items: readonly PackedItem[]): number[] {
  return [...items]
    .sort(
      (a, b) =>
        a[0] - b[0] ||
        kindOf(a[1]) - kindOf(b[1]) ||
        a[1] - b[1] ||
        a[2] - b[2] ||
        a[3] - b[3] ||
        a[4] - b[4],
    )
    .flat();
}
