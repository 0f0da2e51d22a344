import { EVIDENCE_STRIDE, ITEM_KIND, isWholeTracing, kindOf, rhythmIndexOf } from './rhythm-evidence';
import { RHYTHMS, type Term } from './vocabulary';

/** Blanking of three months as trials write it, its last day included: what falls into it is early recurrence. */
export const EARLY_DAYS = 90;
const LEAST_SECONDS = 30;

/** Bands in which early recurrence is reported: the three months of blanking. Day 0 itself is never counted (see below). */
export const EARLY_BANDS = [
  { code: '0-30', label: 'Day 0 to 30', definition: 'The first month.' },
  { code: '31-60', label: 'Day 31 to 60', definition: 'The second month.' },
  { code: '61-90', label: 'Day 61 to 90', definition: 'The third month.' },
] as const satisfies readonly [Term, ...Term[]];
export type EarlyBand = (typeof EARLY_BANDS)[number]['code'];

/** The band of a day from 1 to 90. */
export function bandOf(day: number): EarlyBand {
  return day <= 30 ? '0-30' : day <= 60 ? '31-60' : '61-90';
}

export type EarlyRecurrence =
  | {
      readonly kind: 'found';
      /** First and last day within day 1 to 90 on which it was recorded. */
      readonly firstDay: number;
      readonly lastDay: number;
      /** The 90 days are over: a later one can no longer be added. */
      readonly isComplete: boolean;
    }
  /** None was recorded although somebody looked, and the 90 days are over. */
  | { readonly kind: 'none' }
  /** The 90 days are over and nothing was recorded in them. */
  | { readonly kind: 'not-watched' }
  /** None so far, and the 90 days are not over. */
  | { readonly kind: 'not-yet' }
  /** None was recorded before a repeat or death ended the 90 days. */
  | { readonly kind: 'cut-short'; readonly by: 'repeat' | 'death'; readonly onDay: number };

/** What is known about time after one procedure. */
export interface TimeAfterProcedure {
  /** Whole days since the procedure, today. */
  readonly daysSince: number;
  readonly daysToNext: number | null;
  readonly daysToDeath: number | null;
}

/**
 * AF, AT or flutter of 30 s or more, or filling the whole tracing, on days 1 to 90 after a procedure and not after a repeat.
 * What was recorded on day 0 alone may be older than the ablation; an episode that began then and was still recorded on day
 * 1 counts from day 1. A recording that began before the procedure is baseline. `evidence` is packed as in
 * rhythm-evidence.ts.
 */
export function earlyRecurrenceOf(evidence: ArrayLike<number>, time: TimeAfterProcedure): EarlyRecurrence {
  const stop = endOf(time);
  const lastLooked = Math.min(EARLY_DAYS, stop?.onDay ?? EARLY_DAYS);
  let firstDay = 0;
  let lastDay = 0;
  let wasWatched = false;
  for (let at = 0; at < evidence.length; at += EVIDENCE_STRIDE) {
    const [day, code, seconds, endDay, recordedTo] = [0, 1, 2, 3, 4].map((i) => evidence[at + i]);
    if (day > lastLooked) break;
    if (kindOf(code) !== ITEM_KIND.recording || day < 0 || recordedTo < 1) continue;
    wasWatched = true;
    if (endDay < 1 || !counts(code, seconds)) continue;
    firstDay ||= Math.max(1, day);
    lastDay = Math.max(lastDay, Math.min(endDay, lastLooked));
  }
  const isOver = time.daysSince > EARLY_DAYS;
  if (firstDay > 0) return { kind: 'found', firstDay, lastDay, isComplete: isOver || stop !== null };
  if (stop) return { kind: 'cut-short', ...stop };
  if (!isOver) return { kind: 'not-yet' };
  return { kind: wasWatched ? 'none' : 'not-watched' };
}

/** A repeat or death within the 90 days. */
function endOf({ daysToNext, daysToDeath }: TimeAfterProcedure) {
  const ends = [
    { by: 'repeat' as const, onDay: daysToNext },
    { by: 'death' as const, onDay: daysToDeath },
  ].flatMap(({ by, onDay }) => (onDay !== null && onDay <= EARLY_DAYS ? [{ by, onDay }] : []));
  return ends.sort((a, b) => a.onDay - b.onDay)[0] ?? null;
}

function counts(code: number, seconds: number): boolean {
  const rhythm = RHYTHMS[rhythmIndexOf(code)]?.code;
  if (rhythm === undefined || rhythm === 'sinus' || rhythm === 'other') return false;
  return isWholeTracing(code) || seconds >= LEAST_SECONDS;
}

/** One sentence for the page of a case. */
export function earlyRecurrenceInWords(early: EarlyRecurrence): string {
  switch (early.kind) {
    case 'found': {
      const { firstDay, lastDay, isComplete } = early;
      const days =
        firstDay === lastDay
          ? `on day ${firstDay} (band ${bandOf(firstDay)})`
          : `first on day ${firstDay} (band ${bandOf(firstDay)}), last on day ${lastDay} (band ${bandOf(lastDay)})`;
      return `Recorded ${days}.${isComplete ? '' : ` The ${EARLY_DAYS} days are not over.`}`;
    }
    case 'none':
      return `None was recorded on days 1 to ${EARLY_DAYS}.`;
    case 'not-watched':
      return `Not known: nothing was recorded on days 1 to ${EARLY_DAYS}.`;
    case 'not-yet':
      return `None so far; the ${EARLY_DAYS} days are not over.`;
    case 'cut-short':
      return early.by === 'repeat'
        ? `None was recorded before the repeat ablation on day ${early.onDay}.`
        : `None was recorded before death on day ${early.onDay}.`;
  }
}
