import { type Column, checkCodes, checkEqualLengths, checkTimes } from '../check-input';
import { StatisticsError } from '../errors';
import { TIME_TOLERANCE } from './equal-times';
import { checkEntries } from './event-table';
import type { SurvivalData } from './kaplan-meier';

export type LandmarkSelection = {
  /** Cases kept. */
  readonly n: number;
  /** Their rows in the columns given, ascending: any other column follows with `Float64Array.from(rows, (i) => column[i])`. */
  readonly rows: Int32Array;
  /** Days from the landmark. */
  readonly timeDays: Float64Array;
  readonly event: Uint8Array;
  /** Days from the landmark for those who enter after it, before 0 for nobody; undefined without delayed entry. */
  readonly entryDays?: Float64Array;
};

/**
 * The cases still free of the event and under observation after a landmark, with time counted from it.
 *
 * Estimand: what follows is about patients who got past the landmark, so that what is known by then (an early
 * course, a drug stopped) may define groups without favouring those who lived to show it.
 * Rule: kept are cases with time > landmark; a time equal to it within 2^-26 is not later (Anderson, Cain & Gelber,
 * J Clin Oncol 1983;1:710). A curve of the rows kept equals S(t)/S(landmark) of the whole curve.
 * Delayed entry: who enters after the landmark enters at that distance from it, everybody else at 0.
 * Shapes: columns of equal length. Units: days. Nobody left gives n = 0 and empty columns.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange
 * (landmarkDays).
 */
export function selectAtLandmark(data: SurvivalData, landmarkDays: number): LandmarkSelection {
  const { timeDays, event, entryDays } = data;
  if (!(landmarkDays >= 0 && landmarkDays < Number.POSITIVE_INFINITY)) {
    const message = `landmarkDays is ${landmarkDays}; give a number of days, zero or more.`;
    throw new StatisticsError('outOfRange', 'landmarkDays', undefined, message);
  }
  checkEqualLengths({ timeDays, event, entryDays });
  checkTimes('timeDays', timeDays);
  checkCodes('event', event, 2);
  if (entryDays) checkEntries(entryDays, timeDays);
  const rows = rowsAfter(timeDays, landmarkDays);
  const selection = {
    n: rows.length,
    rows,
    timeDays: Float64Array.from(rows, (i) => timeDays[i] - landmarkDays),
    event: Uint8Array.from(rows, (i) => event[i]),
  };
  if (!entryDays) return selection;
  return {
    ...selection,
    entryDays: Float64Array.from(rows, (i) => Math.max(0, entryDays[i] - landmarkDays)),
  };
}

function rowsAfter(timeDays: Column, landmarkDays: number): Int32Array {
  const rows: number[] = [];
  for (let i = 0; i < timeDays.length; i += 1) if (timeDays[i] - landmarkDays > TIME_TOLERANCE) rows.push(i);
  return Int32Array.from(rows);
}
