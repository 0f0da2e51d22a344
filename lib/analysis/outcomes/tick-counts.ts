import { type DerivedOutcomes, STATUS } from '../../registry/time-to-event';
import { countsAtTicks } from '../../statistics/index';
import type { DaySet } from './case-set';
import type { FreedomCurve } from './freedom-curve';

/** Who stands where on one day; together they are all cases of the series. */
export interface CountsOnDay {
  readonly day: number;
  readonly counts: Readonly<Record<DaySet, number>>;
}

/**
 * The rows under a curve. 'Before' is before the day; a case that leaves on the day is still at risk on it. Deaths that
 * compete are taken out of those who left without the event.
 */
export function countsOnDays(
  outcomes: DerivedOutcomes,
  series: FreedomCurve,
  days: readonly number[],
): CountsOnDay[] {
  const counts = countsAtTicks(series.curve, days);
  return days.map((day, i) => {
    const died = series.competingTotal === 0 ? 0 : diedBefore(outcomes, series, day);
    return {
      day,
      counts: {
        'at-risk': counts.atRisk[i],
        'events-before': counts.eventsSoFar[i],
        'censored-before': counts.censoredSoFar[i] - died,
        'died-before': died,
        'not-entered': counts.notYetEntered[i],
      },
    };
  });
}

function diedBefore(outcomes: DerivedOutcomes, series: FreedomCurve, day: number): number {
  let died = 0;
  for (const position of series.positions) {
    if (outcomes.status[position] === STATUS.competingDeath && outcomes.timeDays[position] < day) died += 1;
  }
  return died;
}
