import { type NotEstimable, notEstimable } from '../absence';
import { type Column, countCodes } from '../check-input';
import { StatisticsError } from '../errors';
import { factorSymmetric, inverseQuadratic } from '../regression/cholesky';
import { chiSquareUpperTail } from '../special/chi-square';
import type { GroupedCompetingData } from './cumulative-incidence';
import { tabulateEvents } from './event-table';
import { addGrayStratum, type GraySums } from './gray-sums';
import { tabulateStrata } from './strata';

export type GrayData = Omit<GroupedCompetingData, 'entryDays' | 'cluster'> & {
  /** Stratum codes, whole numbers of zero or more; comparisons are made within strata only. */
  readonly strata?: Column;
};

export type GrayOptions = {
  /** The cause whose incidence is compared; 1 unless stated. */
  readonly cause?: number;
  /** Weights (1 - pooled incidence)^rho: above 0 early times count more. 0 unless stated. */
  readonly rho?: number;
  /** Groups are 0..groupCount - 1; by default the largest code found plus one. */
  readonly groupCount?: number;
};

export type GrayTest = {
  readonly kind: 'tested';
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
  readonly cause: number;
  readonly rho: number;
  /** Per group: weighted events beyond those due under one incidence for all. They sum to 0. */
  readonly score: Float64Array;
  /** Of the score, groupCount x groupCount, by rows. */
  readonly covariance: Float64Array;
};

/** What is left of a variance below this share of its parts is rounding. */
const RANK_TOLERANCE = 1e-10;

/**
 * Gray's test of equal cumulative incidence of one cause in two or more groups, the other causes acting too.
 *
 * Estimand: the hypothesis that all groups share one subdistribution hazard of the cause (within each stratum).
 * Formula: Gray, Ann Stat 1988;16:1141. With Y_i at risk, S_i event-free, F_i the incidence in group i, h_i = Y_i/S_i(t-),
 * R_i = h_i (1 - F_i(t-)): score_i = sum W (d_i - d R_i/R), W = (1 - F0(t-))^rho, F0 the pooled incidence rising by d/h;
 * covariance from the martingales of the cause and of the other causes, corrected for ties; strata add both. The
 * statistic is U' V^- U on the groups but the last.
 * Ties: as estimateKaplanMeier, events before censorings; equal times are merged over all groups and strata. Delayed
 * entry is not provided for.
 * Not estimable: fewer than two groups with cases, no event of the cause, groups never at risk together at one (or no
 * variance left), pooled incidence at one before an event, a variance that the correction for ties makes negative. The degrees of freedom are the rank of V.
 * Shapes: columns of equal length; status 0 censored, 1.. causes; group codes from 0. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, outOfRange.
 */
export function testGray(data: GrayData, options: GrayOptions = {}): GrayTest | NotEstimable {
  const { cause = 1, rho = 0 } = options;
  checkGrayOptions(cause, rho);
  const sums = sumGray(data, options, cause, rho);
  const present = sums.sizes.filter((n) => n > 0).length;
  if (present < 2) return notEstimable('fewerThanTwoGroups');
  if (sums.eventTotal === 0) return notEstimable('noEvents');
  if (sums.pooledAtOne) return notEstimable('pooledIncidenceAtOne');
  const { score, covariance, reference } = sums;
  const factor = factorSymmetric(covariance, score.length, RANK_TOLERANCE, reference);
  if (sums.negativePart && factor.rank < present - 1) return notEstimable('varianceNotPositive');
  if (factor.rank === 0) return notEstimable('noOverlap');
  const chiSquare = inverseQuadratic(factor, score);
  return {
    kind: 'tested',
    chiSquare,
    degreesOfFreedom: factor.rank,
    pValue: chiSquareUpperTail(chiSquare, factor.rank),
    cause,
    rho,
    score,
    covariance,
  };
}

function checkGrayOptions(cause: number, rho: number): void {
  if (!Number.isInteger(cause) || cause < 1) {
    const message = `cause is ${cause}; causes are numbered 1, 2 and so on.`;
    throw new StatisticsError('unknownCode', 'cause', undefined, message);
  }
  if (!Number.isFinite(rho)) {
    const message = `rho is ${rho}; give a number, 0 for equal weights.`;
    throw new StatisticsError('outOfRange', 'rho', undefined, message);
  }
}

function sumGray(data: GrayData, options: GrayOptions, cause: number, rho: number): GraySums {
  const { timeDays, status, group, strata } = data;
  const groupCount = countCodes('group', group, options.groupCount);
  const codeCount = Math.max(cause + 1, countCodes('status', status, undefined));
  const sums: GraySums = {
    sizes: new Int32Array(groupCount),
    score: new Float64Array(groupCount),
    covariance: new Float64Array(groupCount * groupCount),
    reference: new Float64Array(groupCount),
    eventTotal: 0,
    pooledAtOne: false,
    negativePart: false,
  };
  const columns = { timeDays, code: status, codeName: 'status', group };
  const tables = strata
    ? tabulateStrata({ ...columns, strata }, groupCount, codeCount)
    : [tabulateEvents(columns, groupCount, codeCount)];
  for (const table of tables) addGrayStratum(sums, table, cause, rho);
  return sums;
}
