import type { Column } from '../check-input';
import type { EventTable } from '../survival/event-table';

/**
 * How many left at each event time, and how many without an event between two: all that the curve depends on. Cell 0
 * holds those censored before the first event time, cell 2j + 1 the events at event time j, cell 2j + 2 those who leave
 * after them and before the next (at the last, all the rest).
 */
export type DepartureCells = {
  readonly counts: Int32Array;
  /** Per time asked for: how many of the event times it has reached. */
  readonly reached: Int32Array;
  /** Room for the curve after each number of event times; the first value is 1. */
  readonly path: Float64Array;
};

/** Of a table of one group and two codes. Events after the last time asked for are among the rest. */
export function departureCells(table: EventTable, asked: Column): DepartureCells {
  const { times, exits } = table;
  let last = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < asked.length; k += 1) last = Math.max(last, asked[k]);
  const eventTimes: number[] = [];
  const counts: number[] = [0];
  for (let j = 0; j < times.length; j += 1) {
    const [censored, events] = [exits[2 * j], exits[2 * j + 1]];
    if (events > 0 && times[j] <= last) {
      eventTimes.push(times[j]);
      counts.push(events, censored);
    } else counts[counts.length - 1] += censored + events;
  }
  const reached = Int32Array.from({ length: asked.length }, (_, k) => {
    let count = 0;
    while (count < eventTimes.length && eventTimes[count] <= asked[k]) count += 1;
    return count;
  });
  return { counts: Int32Array.from(counts), reached, path: new Float64Array(eventTimes.length + 1).fill(1) };
}

/** Kaplan-Meier at each time asked for, from counts of these cells. */
export function survivalOfCounts(
  { reached, path }: DepartureCells,
  counts: Int32Array,
  rows: number,
  found: Float64Array,
): void {
  let atRisk = rows - counts[0];
  let survival = 1;
  for (let j = 0; j + 1 < path.length; j += 1) {
    const events = counts[2 * j + 1];
    if (events > 0) survival *= (atRisk - events) / atRisk;
    path[j + 1] = survival;
    atRisk -= events + counts[2 * j + 2];
  }
  for (let k = 0; k < reached.length; k += 1) found[k] = path[reached[k]];
}

/** Per cell: the influence of one of its rows on the value at one of the times, in units of 1 / rows. */
export function survivalInfluence(
  { counts, reached }: DepartureCells,
  rows: number,
  k: number,
): Float64Array {
  const influence = new Float64Array(counts.length);
  let atRisk = rows - counts[0];
  let survival = 1;
  let passed = 0;
  for (let j = 0; j < reached[k]; j += 1) {
    const events = counts[2 * j + 1];
    const left = atRisk - events;
    // Where the curve is at zero it stays there, whatever a row weighs.
    if (left === 0) return new Float64Array(counts.length);
    passed += events / (atRisk * left);
    influence[2 * j + 1] = 1 / left - passed;
    influence[2 * j + 2] = -passed;
    survival *= left / atRisk;
    atRisk = left - counts[2 * j + 2];
  }
  influence.fill(-passed, 2 * reached[k] + 1);
  return influence.map((value) => -survival * rows * value);
}
