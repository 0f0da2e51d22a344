import { type CalendarDay, daysBetween } from './calendar-day';
import { OUTCOMES, type Verdict } from './complication-vocabulary';
import type { ComplicationCode, Harm, Severity } from './complications';

/** What decides how a complication counts: both states of it consist of these. */
export interface ComplicationFacts {
  readonly type: ComplicationCode;
  readonly onsetOn: CalendarDay;
  readonly harms: readonly Harm[];
  readonly severity: Severity;
}

/** A complication as far as its standing depends on it. */
export interface TwoStates {
  readonly reported: ComplicationFacts;
  /** What the second person found; no facts where the verdict is that there was no complication. */
  readonly adjudication:
    | { readonly verdict: Exclude<Verdict, 'refuted'>; readonly facts: ComplicationFacts }
    | { readonly verdict: 'refuted' }
    | null;
  readonly isVoided: boolean;
}

export type Standing =
  | { readonly kind: 'counts'; readonly by: 'report' | 'adjudication'; readonly facts: ComplicationFacts }
  /** The second person found no complication. */
  | { readonly kind: 'refuted' }
  /** Entered by mistake: nothing to judge. */
  | { readonly kind: 'voided' };

/** What counts in rates: the adjudicated state where there is one, else the reported one; never both. */
export function standingOf({ reported, adjudication, isVoided }: TwoStates): Standing {
  if (isVoided) return { kind: 'voided' };
  if (adjudication === null) return { kind: 'counts', by: 'report', facts: reported };
  return adjudication.verdict === 'refuted'
    ? { kind: 'refuted' }
    : { kind: 'counts', by: 'adjudication', facts: adjudication.facts };
}

/** True while somebody else has to judge what was reported. */
export const isToAdjudicate = ({ adjudication, isVoided }: TwoStates): boolean =>
  adjudication === null && !isVoided;

interface Course {
  readonly outcome: string | null;
  readonly resolvedOn: CalendarDay | null;
}

/** True while somebody should still ask how it went: it counts, no end is known, and the patient lives. */
export function isUnresolved(
  complication: TwoStates & Course,
  patient: { readonly diedOn: CalendarDay | null },
): boolean {
  const { outcome, resolvedOn } = complication;
  if (standingOf(complication).kind !== 'counts' || resolvedOn !== null || patient.diedOn !== null)
    return false;
  return !OUTCOMES.some(({ code, isFinal }) => code === outcome && isFinal);
}

/** The last day of the windows in which harm of the procedure is counted. */
export const LAST_COUNTED_DAY = 90;

/** True for an onset after day 90: recorded and marked late, outside every window of the rates. */
export function isLateOnset(performedOn: CalendarDay, onsetOn: CalendarDay): boolean {
  return daysBetween(performedOn, onsetOn) > LAST_COUNTED_DAY;
}
