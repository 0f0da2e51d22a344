import { type CalendarDay, daysBetween } from './calendar-day';
import { evidenceGradeOf, meetsGrade, type WindowGrade } from './evidence-grade';
import type { PlannedSlot } from './follow-up-schedule';

/** 'open': not enough so far, and there is still time. 'ended': death or a next procedure closed the window early. */
export type WatchVerdict = 'enough' | 'short' | 'open' | 'ended';

/** How well one planned slot was watched. */
export interface WatchedSlot {
  readonly code: string;
  readonly label: string;
  readonly opensOn: CalendarDay;
  readonly closesOn: CalendarDay;
  readonly needed: PlannedSlot['slot']['evidence'];
  readonly grade: WindowGrade;
  readonly verdict: WatchVerdict;
}

export interface WatchedCase {
  readonly performedOn: CalendarDay;
  readonly plan: readonly PlannedSlot[];
  /** Packed as in rhythm-evidence.ts. */
  readonly evidence: ArrayLike<number>;
  readonly daysToNext: number | null;
  readonly daysToDeath: number | null;
}

/**
 * Every slot whose window has opened, with the evidence grade of its window. Time after a next procedure or death is not
 * watched for this case: a window that opens then is left out, one that it cuts is judged up to that day.
 */
export function watchedSlotsOf(watched: WatchedCase, today: CalendarDay): WatchedSlot[] {
  const since = (day: CalendarDay) => daysBetween(watched.performedOn, day);
  const end = Math.min(
    watched.daysToNext ?? Number.POSITIVE_INFINITY,
    watched.daysToDeath ?? Number.POSITIVE_INFINITY,
  );
  return watched.plan.flatMap(({ slot, opensOn, closesOn }) => {
    const fromDay = since(opensOn);
    if (opensOn > today || fromDay > end) return [];
    const toDay = Math.min(since(closesOn), since(today), end);
    const grade = evidenceGradeOf(watched.evidence, { fromDay, toDay });
    const isCut = end < Math.min(since(closesOn), since(today) + 1);
    const unmet = isCut ? 'ended' : closesOn < today ? 'short' : 'open';
    const verdict: WatchVerdict = meetsGrade(grade, slot.evidence) ? 'enough' : unmet;
    return [{ code: slot.code, label: slot.label, opensOn, closesOn, needed: slot.evidence, grade, verdict }];
  });
}
