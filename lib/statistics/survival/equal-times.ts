import type { Column } from '../check-input';

/** Square root of the machine epsilon: times closer than this are one time, blurred by arithmetic. */
export const TIME_TOLERANCE = 2 ** -26;

/**
 * The sorted distinct times of one or two columns. A time joins the one before it when the gap is at most
 * TIME_TOLERANCE, outright or as a fraction of the mean distinct time; a chain of such gaps is one time, its earliest.
 */
export function mergeEqualTimes(first: Column, second?: Column): Float64Array {
  const all = new Float64Array(first.length + (second?.length ?? 0));
  all.set(first);
  if (second) all.set(second, first.length);
  all.sort();
  let distinct = 0;
  let sum = 0;
  for (let i = 0; i < all.length; i += 1) {
    if (distinct > 0 && all[i] === all[distinct - 1]) continue;
    all[distinct] = all[i];
    sum += all[i];
    distinct += 1;
  }
  const mean = distinct > 0 ? sum / distinct : 0;
  let kept = 0;
  let previous = 0;
  for (let i = 0; i < distinct; i += 1) {
    const gap = all[i] - previous;
    previous = all[i];
    if (kept > 0 && (gap <= TIME_TOLERANCE || gap / mean <= TIME_TOLERANCE)) continue;
    all[kept] = all[i];
    kept += 1;
  }
  return all.slice(0, kept);
}

/** The place of a time on a grid that holds it or an equal earlier one: the last grid time not after it. */
export function placeOnGrid(times: Float64Array, time: number): number {
  let low = 0;
  let high = times.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle] <= time) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** How many sorted times are before `time`; a time equal to it within TIME_TOLERANCE is not before. */
export function countBefore(sortedTimes: Float64Array, time: number): number {
  return countUpTo(sortedTimes, time - TIME_TOLERANCE, false);
}

/** How many sorted times are at or before `time`, equal within TIME_TOLERANCE included. */
export function countThrough(sortedTimes: Float64Array, time: number): number {
  return countUpTo(sortedTimes, time + TIME_TOLERANCE, true);
}

function countUpTo(sortedTimes: Float64Array, bound: number, inclusive: boolean): number {
  let low = 0;
  let high = sortedTimes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sortedTimes[middle] < bound || (inclusive && sortedTimes[middle] === bound)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** How to find the place of a time on the grid; undefined where whole days stand at their own place. */
export function gridPlaces(times: Float64Array): ((time: number) => number) | undefined {
  return times.every((time, j) => time === j) ? undefined : (time) => placeOnGrid(times, time);
}

/** The places of times that stand on the grid as they are, both in order. */
export function placesOnGrid(grid: Float64Array, times: Float64Array): Int32Array {
  const places = new Int32Array(times.length);
  for (let j = 0, i = 0; i < times.length; j += 1) {
    if (grid[j] !== times[i]) continue;
    places[i] = j;
    i += 1;
  }
  return places;
}
