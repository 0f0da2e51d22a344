import { checkCount } from '../check-counts';
import { checkPersonTime } from './check-person-time';

/** One group: how many events in how much summed time under observation. */
export type RateCount = { readonly events: number; readonly personTime: number };

/** @throws StatisticsError notFinite, negative, notInteger; the argument reads like 'first.events'. */
export function checkRateArms(first: RateCount, second: RateCount): void {
  checkCount('first.events', first.events);
  checkPersonTime('first.personTime', first.personTime);
  checkCount('second.events', second.events);
  checkPersonTime('second.personTime', second.personTime);
}
