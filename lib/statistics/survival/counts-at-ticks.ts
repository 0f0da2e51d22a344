import { type Column, checkTimes } from '../check-input';
import { countBefore, countThrough } from './equal-times';
import type { ReadableCurve } from './kaplan-meier';

/** The rows of numbers under a curve, one value per tick, in the order of the ticks. */
export type TickCounts = {
  readonly tickDays: Float64Array;
  readonly atRisk: Int32Array;
  readonly eventsSoFar: Int32Array;
  readonly censoredSoFar: Int32Array;
  readonly notYetEntered: Int32Array;
};

/**
 * How many are at risk, have had the event and were censored by each tick (days).
 *
 * Convention: "so far" is before the tick; a case that leaves on the tick is still at risk there, as in the risk set
 * of the curve. A case that enters on the tick is at risk from it on, so that a risk set that opens at day 90 shows
 * everybody at tick 90 (the risk set of an event on that very day holds only earlier entries). Therefore
 * atRisk + eventsSoFar + censoredSoFar + notYetEntered = n at every tick.
 * @throws StatisticsError notFinite, negative (argument `ticks`).
 */
export function countsAtTicks(curve: ReadableCurve, ticks: Column): TickCounts {
  checkTimes('ticks', ticks);
  const eventsThrough = runningTotals(curve.events);
  const censoredThrough = runningTotals(curve.censored);
  const enteredThrough = runningTotals(curve.entered);
  const length = ticks.length;
  const counts = {
    tickDays: Float64Array.from(ticks),
    atRisk: new Int32Array(length),
    eventsSoFar: new Int32Array(length),
    censoredSoFar: new Int32Array(length),
    notYetEntered: new Int32Array(length),
  };
  const delayed = curve.entryDays.length > 0;
  for (let i = 0; i < length; i += 1) {
    const gone = countBefore(curve.timeDays, ticks[i]);
    const entered = delayed ? enteredThrough[countThrough(curve.entryDays, ticks[i])] : curve.n;
    counts.eventsSoFar[i] = eventsThrough[gone];
    counts.censoredSoFar[i] = censoredThrough[gone];
    counts.notYetEntered[i] = curve.n - entered;
    counts.atRisk[i] = entered - eventsThrough[gone] - censoredThrough[gone];
  }
  return counts;
}

/** totals[k] is the sum of the first k counts. */
function runningTotals(counts: Int32Array): Int32Array {
  const totals = new Int32Array(counts.length + 1);
  for (let i = 0; i < counts.length; i += 1) totals[i + 1] = totals[i] + counts[i];
  return totals;
}
