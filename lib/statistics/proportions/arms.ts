import { checkEventsAmong } from '../check-counts';

/** One group of independent cases: how many had the event, among how many. */
export type ArmCount = { readonly events: number; readonly n: number };

/**
 * Throws unless both arms are counts with no more events than cases.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange; the argument reads like 'first.events'.
 */
export function checkArms(first: ArmCount, second: ArmCount): void {
  checkEventsAmong('first.events', first.events, 'first.n', first.n);
  checkEventsAmong('second.events', second.events, 'second.n', second.n);
}
