import { type NotEstimable, notEstimable } from '../absence';
import { type Column, countCodes } from '../check-input';
import { chiSquareUpperTail } from '../special/chi-square';
import { type EventTable, tabulateEvents } from './event-table';
import type { GroupedSurvivalData } from './kaplan-meier';
import { componentsAtRisk, quadraticForm } from './score-quadratic';
import { tabulateStrata } from './strata';

export type LogRankData = GroupedSurvivalData & {
  /** Stratum codes, whole numbers of zero or more; comparisons are made within strata only. */
  readonly strata?: Column;
};

export type LogRankGroup = {
  readonly group: number;
  readonly n: number;
  readonly observed: number;
  readonly expected: number;
};

export type LogRankTest = {
  readonly kind: 'tested';
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
  /** One per group code, groups without cases included. */
  readonly groups: readonly LogRankGroup[];
  /** Covariance of observed minus expected, groupCount x groupCount, by rows. */
  readonly covariance: Float64Array;
};

/**
 * The log-rank test of equal hazards in two or more groups.
 *
 * Estimand: the hypothesis that all groups share one hazard at every time (within each stratum).
 * Formula: U = sum over event times of observed minus expected events, expected d n_g/n; covariance
 * d (n - d)/(n - 1) (delta n_g/n - n_g n_h/n^2), the hypergeometric one, nothing at n = 1; strata add U and V;
 * chi-square = U' V^- U (Mantel 1966; Peto & Peto, JRSS A 1972;135:185). Groups never at risk together with another at
 * an event carry no contrast; the degrees of freedom are the rank of V, for overlapping groups their number minus 1.
 * Ties, risk set, delayed entry: as estimateKaplanMeier; equal times are merged over all groups and strata.
 * Not estimable: fewer than two groups with cases, no event, no overlap.
 * Shapes: columns of equal length; group codes 0..groupCount - 1 (default: the largest plus one). Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function testLogRank(
  data: LogRankData,
  options: { readonly groupCount?: number } = {},
): LogRankTest | NotEstimable {
  const groupCount = countCodes('group', data.group, options.groupCount);
  const sums = newSums(groupCount);
  const { timeDays, event, group, entryDays, strata } = data;
  const columns = { timeDays, code: event, codeName: 'event', group, entryDays };
  if (!strata) addTable(sums, tabulateEvents(columns, groupCount, 2));
  else for (const table of tabulateStrata({ ...columns, group, strata }, groupCount)) addTable(sums, table);
  const { sizes, observed, expected, covariance } = sums;
  if (sizes.filter((n) => n > 0).length < 2) return notEstimable('fewerThanTwoGroups');
  if (observed.every((count) => count === 0)) return notEstimable('noEvents');
  const score = observed.map((count, g) => count - expected[g]);
  const { value, rank } = quadraticForm(score, covariance, sums.component);
  if (rank === 0) return notEstimable('noOverlap');
  return {
    kind: 'tested',
    chiSquare: value,
    degreesOfFreedom: rank,
    pValue: chiSquareUpperTail(value, rank),
    groups: Array.from(sizes, (n, group) => ({
      group,
      n,
      observed: observed[group],
      expected: expected[group],
    })),
    covariance,
  };
}

type Sums = {
  readonly sizes: Int32Array;
  readonly observed: Float64Array;
  readonly expected: Float64Array;
  readonly covariance: Float64Array;
  /** component[g]: a smaller or equal code of a group that g was compared with, directly or through others. */
  readonly component: Int32Array;
};

function newSums(groupCount: number): Sums {
  return {
    sizes: new Int32Array(groupCount),
    observed: new Float64Array(groupCount),
    expected: new Float64Array(groupCount),
    covariance: new Float64Array(groupCount * groupCount),
    component: Int32Array.from({ length: groupCount }, (_, g) => g),
  };
}

function addTable(sums: Sums, table: EventTable): void {
  const { times, groupCount, exits, entries } = table;
  const atRisk = new Int32Array(groupCount);
  let total = 0;
  for (let j = 0; j < times.length; j += 1) {
    for (let g = 0; g < groupCount; g += 1) {
      const cell = 2 * (j * groupCount + g);
      sums.sizes[g] += exits[cell] + exits[cell + 1];
      if (!entries) {
        atRisk[g] += exits[cell] + exits[cell + 1];
        total += exits[cell] + exits[cell + 1];
      }
    }
  }
  for (let j = 0; j < times.length; j += 1) {
    const row = 2 * j * groupCount;
    let events = 0;
    for (let g = 0; g < groupCount; g += 1) {
      events += exits[row + 2 * g + 1];
      sums.observed[g] += exits[row + 2 * g + 1];
    }
    if (events > 0) addEventTime(sums, atRisk, total, events);
    for (let g = 0; g < groupCount; g += 1) {
      const change =
        (entries ? entries[j * groupCount + g] : 0) - exits[row + 2 * g] - exits[row + 2 * g + 1];
      atRisk[g] += change;
      total += change;
    }
  }
}

function addEventTime(sums: Sums, atRisk: Int32Array, total: number, events: number): void {
  const groupCount = atRisk.length;
  for (let g = 0; g < groupCount; g += 1) sums.expected[g] += (atRisk[g] / total) * events;
  if (events === total) return;
  const spread = (events * (total - events)) / (total - 1);
  for (let g = 0; g < groupCount; g += 1) {
    if (atRisk[g] === 0) continue;
    const share = atRisk[g] / total;
    for (let h = 0; h < g; h += 1) {
      const shared = (spread * share * atRisk[h]) / total;
      sums.covariance[g * groupCount + h] -= shared;
      sums.covariance[h * groupCount + g] -= shared;
    }
    sums.covariance[g * groupCount + g] += (spread * share * (total - atRisk[g])) / total;
  }
  componentsAtRisk(sums.component, atRisk);
}
