import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { chiSquareUpperTail } from '../special/chi-square';
import { reasonForNoTest } from './log-rank';
import { type LogRankData, type LogRankOptions, type LogRankSums, sumLogRank } from './log-rank-sums';

export type LogRankTrendTest = {
  readonly kind: 'tested';
  /** Above 0: groups with higher scores have more events than expected. */
  readonly z: number;
  /** z squared, with one degree of freedom. */
  readonly chiSquare: number;
  readonly pValue: number;
};

/**
 * The log-rank test for a hazard that rises or falls along scores of the groups.
 *
 * Estimand: the hypothesis of one hazard, against hazards ordered like the scores.
 * Formula: z = a'U / root(a' V a), U and V those of testLogRank (plain or weighted), a the score of each group (Tarone,
 * Biometrika 1975;62:679; Klein & Moeschberger 2003, equation 7.4.2, from memory). Adding a constant to the scores or
 * multiplying them by a positive number changes nothing.
 * Ties, risk set, delayed entry, strata: as testLogRank.
 * Not estimable: as testLogRank, or when groups that meet have the same score.
 * Shapes: one finite score per group code, by default the codes known. Units: days.
 * @throws StatisticsError as testLogRank; notFinite (`scores`), unequalLengths when groupCount is no score count.
 */
export function testLogRankTrend(
  data: LogRankData,
  scores: Column,
  options: LogRankOptions = {},
): LogRankTrendTest | NotEstimable {
  checkFinite('scores', scores);
  const { groupCount = scores.length } = options;
  if (groupCount !== scores.length) {
    const message = `scores has ${scores.length} values for ${groupCount} groups; give one score per group code.`;
    throw new StatisticsError('unequalLengths', 'scores', undefined, message);
  }
  const sums = sumLogRank(data, { ...options, groupCount });
  const absent = reasonForNoTest(sums);
  if (absent) return absent;
  const contrast = withinComponents(scores, sums.component);
  if (groupCount === new Set(sums.component).size) return notEstimable('noOverlap');
  if (contrast.every((score) => score === 0)) return notEstimable('oneScore');
  const { score, variance } = project(sums, contrast);
  const z = score / Math.sqrt(variance);
  return { kind: 'tested', z, chiSquare: z * z, pValue: chiSquareUpperTail(z * z, 1) };
}

/** Scores less that of the first group of their component: V knows differences within components only. */
function withinComponents(scores: Column, component: Int32Array): Float64Array {
  return Float64Array.from(scores, (score, g) => score - scores[component[g]]);
}

function project(sums: LogRankSums, contrast: Float64Array): { score: number; variance: number } {
  const { observed, expected, covariance } = sums;
  const groupCount = contrast.length;
  let score = 0;
  let variance = 0;
  for (let g = 0; g < groupCount; g += 1) {
    score += contrast[g] * (observed[g] - expected[g]);
    for (let h = 0; h < groupCount; h += 1)
      variance += contrast[g] * contrast[h] * covariance[g * groupCount + h];
  }
  return { score, variance };
}
