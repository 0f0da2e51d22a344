import type { Column } from '../check-input';
import { StatisticsError } from '../errors';
import { mergeEqualTimes, placeOnGrid } from '../survival/equal-times';

/** Times by their order: whole numbers from 0 to below `count`, equal for equal times. */
export type RankedTimes = {
  readonly exit: Column;
  readonly entry: Column | undefined;
  readonly count: number;
  readonly timeOf: (rank: number) => number;
};

/** Whole numbers below this differ by more than the tolerance for equal times, whatever their mean. */
const EXACT_DAYS = 2 ** 25;

/**
 * Ranks of exits and entries together; whole days are their own ranks.
 * @throws StatisticsError entryNotBeforeExit when the two differ by rounding only.
 */
export function rankTimes(timeDays: Column, entryDays: Column | undefined): RankedTimes {
  const last = largestWholeDay(timeDays);
  const days = last >= 0 && entryDays ? Math.min(last, largestWholeDay(entryDays)) : last;
  if (days >= 0) return { exit: timeDays, entry: entryDays, count: last + 1, timeOf: (rank) => rank };
  const times = mergeEqualTimes(timeDays, entryDays);
  const place = (time: number): number => placeOnGrid(times, time);
  const exit = Int32Array.from(timeDays, place);
  const entry = entryDays && Int32Array.from(entryDays, place);
  for (let i = 0; entry && i < exit.length; i += 1) {
    if (entry[i] < exit[i]) continue;
    const message = `entryDays[${i}] and timeDays[${i}] differ by rounding only; a case must enter before it leaves, so leave this row out.`;
    throw new StatisticsError('entryNotBeforeExit', 'entryDays', i, message);
  }
  return { exit, entry, count: times.length, timeOf: (rank) => times[rank] };
}

/** -1 unless all are whole and small enough to be told apart exactly. */
function largestWholeDay(times: Column): number {
  let largest = 0;
  for (let i = 0; i < times.length; i += 1) {
    const time = times[i];
    if ((time | 0) !== time) return -1;
    if (time > largest) largest = time;
  }
  return largest < EXACT_DAYS ? largest : -1;
}
