import { EVIDENCE_STRIDE, gradeIndexOf, ITEM_KIND, isSpanApart, kindOf } from './rhythm-evidence';
import { codesOf, EVIDENCE_GRADES, type Term } from './vocabulary';

/** How well one patient was watched in one stretch of time, from not at all to continuously. The index is the grade. */
export const WINDOW_GRADES = [
  { code: 'none', label: 'None', definition: 'Nobody heard of the patient.' },
  { code: 'symptoms', label: 'Symptoms only', definition: 'A contact without a recording.' },
  {
    code: 'ecg',
    label: 'ECG',
    definition: 'An ECG, a rhythm strip, or less than 24 h of a longer recording.',
  },
  { code: '24h', label: '24 h', definition: 'A recording of 24 h or longer.' },
  { code: '7d', label: '7 days', definition: 'A recording of 7 days or longer.' },
  { code: '14d', label: '14 days', definition: 'A recording of 14 days or longer.' },
  {
    code: 'continuous',
    label: 'Continuous',
    definition: 'An implanted device recorded at least 80 % of the days (the share is ours).',
  },
] as const satisfies readonly [Term, ...Term[]];
export type WindowGrade = (typeof WINDOW_GRADES)[number]['code'];

const CODES = codesOf(WINDOW_GRADES);
const gradeIndex = (code: WindowGrade): number => CODES.indexOf(code);
const SYMPTOMS = gradeIndex('symptoms');
/** By the grade of a recording. A recording is never mere contact. */
const GRADE_OF_RECORDING = EVIDENCE_GRADES.map(({ code }) => gradeIndex(code === 'contact' ? 'ecg' : code));
const CONTINUOUS = EVIDENCE_GRADES.findIndex(({ code }) => code === 'continuous');

/** Share of the days that an implanted device must have recorded: ours, no source. */
const CONTINUOUS_SHARE = 0.8;

/** Days since the procedure, both included. */
export interface EvidenceWindow {
  readonly fromDay: number;
  readonly toDay: number;
}

/**
 * The best evidence of a window, from the packed evidence of one procedure (rhythm-evidence.ts), which is in order of days.
 *
 * A recording that lies in the window whole has its own grade. Of one that reaches over an edge only the part inside counts,
 * in whole days between the first and last day inside; less than one is an ECG. Days of implanted devices are counted
 * together, each day once: 80 % of the window or more is continuous, less is worth as many days as were recorded.
 */
export function evidenceGradeOf(
  evidence: ArrayLike<number>,
  { fromDay, toDay }: EvidenceWindow,
): WindowGrade {
  let best = 0;
  let deviceDays = 0;
  /** Device days up to here are counted. */
  let counted = fromDay - 1;
  for (let at = 0; at < evidence.length; at += EVIDENCE_STRIDE) {
    const start = evidence[at];
    const code = evidence[at + 1];
    const end = evidence[at + 4];
    if (start > toDay) break;
    if (end < fromDay) continue;
    if (!isRecordedTime(code)) {
      if (isContact(code)) best = Math.max(best, SYMPTOMS);
    } else if (gradeIndexOf(code) === CONTINUOUS) {
      const last = Math.min(end, toDay);
      deviceDays += Math.max(0, last - Math.max(start - 1, counted));
      counted = Math.max(counted, last);
    } else {
      best = Math.max(best, gradeInside(code, start, end, fromDay, toDay));
    }
  }
  if (deviceDays === 0) return CODES[best] ?? 'none';
  const isContinuous = deviceDays >= CONTINUOUS_SHARE * (toDay - fromDay + 1);
  return CODES[Math.max(best, isContinuous ? gradeIndex('continuous') : gradeOfDays(deviceDays))] ?? 'none';
}

const isContact = (code: number): boolean =>
  kindOf(code) === ITEM_KIND.contact || kindOf(code) === ITEM_KIND.drugsKnown;

/** A recording, or the span that stands for it when its item begins at what it found. */
const isRecordedTime = (code: number): boolean =>
  kindOf(code) === ITEM_KIND.watched || (kindOf(code) === ITEM_KIND.recording && !isSpanApart(code));

function gradeInside(code: number, start: number, end: number, fromDay: number, toDay: number): number {
  const own = GRADE_OF_RECORDING[gradeIndexOf(code)];
  if (start >= fromDay && end <= toDay) return own;
  return Math.min(own, gradeOfDays(Math.min(end, toDay) - Math.max(start, fromDay)));
}

function gradeOfDays(days: number): number {
  if (days >= 14) return gradeIndex('14d');
  if (days >= 7) return gradeIndex('7d');
  return gradeIndex(days >= 1 ? '24h' : 'ecg');
}

/** True when a window was watched at least as well as its slot asks. A contact that the schedule names is asking. */
export function meetsGrade(grade: WindowGrade, needed: WindowGrade | 'contact'): boolean {
  return gradeIndex(grade) >= (needed === 'contact' ? SYMPTOMS : gradeIndex(needed));
}
