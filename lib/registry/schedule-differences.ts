import { nominalDay, type ScheduleSlot } from './follow-up-schedule';
import { evidenceWords } from './slot-evidence';

/** '14 days before to 45 after', 'on the day'. */
export function windowWords({ windowBeforeDays: before, windowAfterDays: after }: ScheduleSlot): string {
  if (before === 0 && after === 0) return 'on the day';
  return `${before} ${before === 1 ? 'day' : 'days'} before to ${after} after`;
}

/** How a slot differs from the one of the same code before it, in words; 'as before' when it does not, 'new' without one. */
function differenceWords(before: ScheduleSlot | null, after: ScheduleSlot): string {
  if (before === null) return 'new';
  const parts = [
    before.kind === after.kind ? '' : `was ${before.label}`,
    windowWords(before) === windowWords(after) ? '' : `window was ${windowWords(before)}`,
    before.evidence === after.evidence ? '' : `needed ${evidenceWords(before)}`,
  ].filter(Boolean);
  return parts.length === 0 ? 'as before' : parts.join('; ');
}

/** A line of a version compared with the one before it: in order of due days, dropped slots in their place. */
export interface ScheduleLine {
  readonly slot: ScheduleSlot;
  /** Null where there is nothing to compare with. */
  readonly difference: string | null;
}

/** The slots of a version, and what differs from the version before it (null: nothing before). */
export function linesOfSchedule(
  slots: readonly ScheduleSlot[],
  before: readonly ScheduleSlot[] | null,
): ScheduleLine[] {
  if (before === null) return slots.map((slot) => ({ slot, difference: null }));
  const of = (list: readonly ScheduleSlot[], code: string) => list.find((slot) => slot.code === code) ?? null;
  const dropped = before.filter(({ code }) => of(slots, code) === null);
  return [
    ...slots.map((slot) => ({ slot, difference: differenceWords(of(before, slot.code), slot) })),
    ...dropped.map((slot) => ({ slot, difference: 'dropped' })),
  ].sort((a, b) => nominalDay(a.slot) - nominalDay(b.slot));
}
