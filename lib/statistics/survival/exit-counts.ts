import type { EventTable } from './event-table';

/** Who left one group and when: one value per distinct time at which somebody left, ascending. */
export type ExitCounts = {
  readonly n: number;
  readonly timeDays: Float64Array;
  /** At risk just before each time: entered earlier, not yet gone. */
  readonly atRisk: Int32Array;
  readonly events: Int32Array;
  readonly censored: Int32Array;
};

/** The exits of group g, from a table with two outcomes: 0 censored, 1 event. */
export function countsOfGroup(table: EventTable, g: number): ExitCounts {
  const { times, groupCount, exits, entries } = table;
  const stride = 2 * groupCount;
  let n = 0;
  let length = 0;
  for (let j = 0, cell = 2 * g; j < times.length; j += 1, cell += stride) {
    const leaving = exits[cell] + exits[cell + 1];
    if (leaving > 0) length += 1;
    n += leaving;
  }
  const timeDays = new Float64Array(length);
  const atRisk = new Int32Array(length);
  const events = new Int32Array(length);
  const censored = new Int32Array(length);
  let present = entries ? 0 : n;
  for (let j = 0, cell = 2 * g, i = 0; j < times.length; j += 1, cell += stride) {
    const leaving = exits[cell] + exits[cell + 1];
    if (leaving > 0) {
      timeDays[i] = times[j];
      atRisk[i] = present;
      censored[i] = exits[cell];
      events[i] = exits[cell + 1];
      present -= leaving;
      i += 1;
    }
    if (entries) present += entries[j * groupCount + g];
  }
  return { n, timeDays, atRisk, events, censored };
}
