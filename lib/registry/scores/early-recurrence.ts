import { EARLY_DAYS, earlyRecurrenceOf, type TimeAfterProcedure } from '../early-recurrence';

/**
 * The answer that scores ask for: was there early recurrence in days 1 to 90? Null while the 90 days run, when a repeat or
 * death cut them short without one, and when nothing was recorded in them.
 */
export function earlyRecurrenceFact(evidence: ArrayLike<number>, time: TimeAfterProcedure): boolean | null {
  if (time.daysSince <= EARLY_DAYS) return null;
  const { kind } = earlyRecurrenceOf(evidence, time);
  return kind === 'found' ? true : kind === 'none' ? false : null;
}
