import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkConfidenceLevel, checkTimes, countCodes } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import { countThrough } from './equal-times';
import { type InfluenceRows, influenceRowsByGroup } from './influence-rows';
import { compareAt, type SurvivalDifference } from './survival-difference';
import { sumWeights, type WeightCounts } from './weight-counts';
import { curvesOfRows, type GroupedWeightedSurvivalData, tabulateWeighted } from './weighted-kaplan-meier';

export type WeightedDifferenceOptions = {
  /** The two codes compared, the first less the second; 0 and 1 unless stated. */
  readonly groups?: readonly [number, number];
  readonly confidenceLevel?: number;
};

/**
 * The difference of two weighted or clustered curves at times chosen beforehand.
 *
 * Estimand: S1(t) - S2(t) with the curves of estimateWeightedKaplanMeier, and the hypothesis that it is zero.
 * Formula: as testSurvivalDifference with the robust variances, less twice the covariance: where clusters have rows in both
 * groups, the sum over clusters of the products of their influences on the two curves. Without such clusters it is 0.
 * Conventions, absence: as testSurvivalDifference; not estimable too where every cluster moves both curves alike.
 * @throws StatisticsError as estimateWeightedKaplanMeier; notFinite, negative (`times`); unknownCode (`groups`).
 */
export function testWeightedSurvivalDifference(
  data: GroupedWeightedSurvivalData,
  times: Column,
  options: WeightedDifferenceOptions = {},
): (SurvivalDifference | NotEstimable)[] {
  const { groups = [0, 1], confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkTimes('times', times);
  checkPair(groups);
  const groupCount = Math.max(...groups, countCodes('group', data.group, undefined) - 1) + 1;
  const { columns, table } = tabulateWeighted(data, data.group, groupCount);
  const rows = influenceRowsByGroup(columns, data, table);
  const curves = curvesOfRows(table, rows, { confidenceLevel });
  const [first, second] = groups.map((g) => curves[g]);
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const sides = groups.map((g) => ({ rows: rows[g], counts: sumWeights(rows[g], table.times.length, 1) }));
  return Array.from(times, (timeDays) => {
    if (first.n === 0 || second.n === 0) return notEstimable('noRows');
    const places = countThrough(table.times, timeDays);
    const [a, b] = sides.map((side) => influencesThrough(side.rows, side.counts, places));
    const covariance = a.reduce((sum, value, c) => sum + value * b[c], 0);
    return compareAt(first, second, timeDays, z, covariance);
  });
}

function checkPair(groups: readonly [number, number]): void {
  const wrong = groups.find((code) => !Number.isInteger(code) || code < 0 || code >= 1024);
  if (wrong === undefined && groups[0] !== groups[1]) return;
  const message = `groups is ${groups.join(', ')}; give the codes of two different groups.`;
  throw new StatisticsError('unknownCode', 'groups', undefined, message);
}

/** What each cluster moves S by after the first `places` of the grid: -S times its sum of w (dN - Y D/N)/(N - D). */
function influencesThrough(rows: InfluenceRows, counts: WeightCounts, places: number): Float64Array {
  const { atRisk, events, allFail } = counts;
  const moved = new Float64Array(rows.clusterCount);
  const hazard = new Float64Array(places + 1);
  let survival = 1;
  for (let j = 0; j < places; j += 1) {
    const fails = events[j] > 0 && !allFail[j];
    hazard[j + 1] = hazard[j] + (fails ? events[j] / atRisk[j] / (atRisk[j] - events[j]) : 0);
    if (events[j] > 0) survival *= allFail[j] ? 0 : (atRisk[j] - events[j]) / atRisk[j];
  }
  if (survival === 0) return moved;
  for (let i = 0; i < rows.exit.length; i += 1) {
    const exit = rows.exit[i];
    const entered = Math.min(rows.entry[i] + 1, places);
    const left = exit < places ? atRisk[exit] - events[exit] : 0;
    const own = exit < places && rows.code[i] !== 0 && rows.weight[i] > 0 ? 1 / left : 0;
    moved[rows.cluster[i]] -=
      survival * rows.weight[i] * (own - (hazard[Math.min(exit + 1, places)] - hazard[entered]));
  }
  return moved;
}
