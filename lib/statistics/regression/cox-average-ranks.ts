import { mergeEqualTimes, placeOnGrid } from '../survival/equal-times';
import type { SurvivalData } from '../survival/kaplan-meier';

/** The average rank, from 1, of each of `times` among the times of all rows, equal times merged first. */
export function averageRanks({ timeDays, entryDays }: SurvivalData, times: Float64Array): Float64Array {
  const grid = mergeEqualTimes(timeDays, entryDays);
  const counts = new Float64Array(grid.length);
  for (let i = 0; i < timeDays.length; i += 1) counts[placeOnGrid(grid, timeDays[i])] += 1;
  let before = 0;
  const ranks = counts.map((count) => {
    const rank = before + (count + 1) / 2;
    before += count;
    return rank;
  });
  return times.map((time) => ranks[placeOnGrid(grid, time)]);
}
