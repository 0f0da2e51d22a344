import { type Column, countCodes } from '../check-input';
import { type EventTable, tabulateEvents } from './event-table';
import type { GroupedSurvivalData } from './kaplan-meier';
import { type LogRankWeighting, type WeightOfTime, weightsOfTimes } from './log-rank-weights';
import { componentsAtRisk } from './score-quadratic';
import { tabulateStrata } from './strata';

export type LogRankData = GroupedSurvivalData & {
  /** Stratum codes, whole numbers of zero or more; comparisons are made within strata only. */
  readonly strata?: Column;
};

export type LogRankOptions = {
  /** Groups are 0..groupCount - 1; by default the largest code found plus one. */
  readonly groupCount?: number;
  /** How much each event time counts; all the same unless stated. */
  readonly weighting?: LogRankWeighting;
};

/** What every log-rank test is made of, summed over event times and strata. */
export type LogRankSums = {
  readonly sizes: Int32Array;
  /** Weighted, as everything below. */
  readonly observed: Float64Array;
  readonly expected: Float64Array;
  /** Of observed minus expected, groupCount x groupCount, by rows. */
  readonly covariance: Float64Array;
  /** component[g]: a smaller or equal code of a group that g was compared with, directly or through others. */
  readonly component: Int32Array;
  eventTotal: number;
  weightTotal: number;
};

/** One pass over the rows, one over the table of counts of each stratum. */
export function sumLogRank(data: LogRankData, options: LogRankOptions): LogRankSums {
  const { timeDays, event, group, entryDays, strata } = data;
  const groupCount = countCodes('group', group, options.groupCount);
  const weighting = options.weighting ?? 'equal';
  const sums: LogRankSums = {
    sizes: new Int32Array(groupCount),
    observed: new Float64Array(groupCount),
    expected: new Float64Array(groupCount),
    covariance: new Float64Array(groupCount * groupCount),
    component: Int32Array.from({ length: groupCount }, (_, g) => g),
    eventTotal: 0,
    weightTotal: 0,
  };
  const columns = { timeDays, code: event, codeName: 'event', group, entryDays };
  const add = (table: EventTable): void => addTable(sums, table, weightsOfTimes(weighting));
  if (!strata) add(tabulateEvents(columns, groupCount, 2));
  else for (const table of tabulateStrata({ ...columns, group, strata }, groupCount, 2)) add(table);
  mirror(sums.covariance, groupCount);
  return sums;
}

function addTable(sums: LogRankSums, table: EventTable, weightOf: WeightOfTime): void {
  const { times, groupCount, exits, entries } = table;
  const { sizes, observed } = sums;
  const atRisk = new Int32Array(groupCount);
  let total = 0;
  for (let j = 0, cell = 0; j < times.length; j += 1) {
    for (let g = 0; g < groupCount; g += 1, cell += 2) {
      const leaving = exits[cell] + exits[cell + 1];
      sizes[g] += leaving;
      if (!entries) {
        atRisk[g] += leaving;
        total += leaving;
      }
    }
  }
  for (let j = 0; j < times.length; j += 1) {
    const row = 2 * j * groupCount;
    let events = 0;
    for (let g = 0; g < groupCount; g += 1) events += exits[row + 2 * g + 1];
    if (events > 0) {
      const weight = weightOf(total, events);
      for (let g = 0; g < groupCount; g += 1) observed[g] += weight * exits[row + 2 * g + 1];
      addEventTime(sums, atRisk, total, events, weight);
    }
    for (let g = 0; g < groupCount; g += 1) {
      const entering = entries ? entries[j * groupCount + g] : 0;
      const change = entering - exits[row + 2 * g] - exits[row + 2 * g + 1];
      atRisk[g] += change;
      total += change;
    }
  }
}

function addEventTime(
  sums: LogRankSums,
  atRisk: Int32Array,
  total: number,
  events: number,
  weight: number,
): void {
  const { expected, covariance } = sums;
  const groupCount = atRisk.length;
  sums.eventTotal += events;
  sums.weightTotal += weight;
  for (let g = 0; g < groupCount; g += 1) expected[g] += weight * (atRisk[g] / total) * events;
  if (events === total || weight === 0) return;
  const spread = (weight * weight * events * (total - events)) / (total - 1) / (total * total);
  for (let g = 0; g < groupCount; g += 1) {
    if (atRisk[g] === 0) continue;
    const row = g * groupCount;
    const part = spread * atRisk[g];
    for (let h = 0; h < g; h += 1) covariance[row + h] -= part * atRisk[h];
    covariance[row + g] += part * (total - atRisk[g]);
  }
  componentsAtRisk(sums.component, atRisk);
}

/** Event times add below the diagonal only. */
function mirror(matrix: Float64Array, size: number): void {
  for (let g = 0; g < size; g += 1)
    for (let h = 0; h < g; h += 1) matrix[h * size + g] = matrix[g * size + h];
}
