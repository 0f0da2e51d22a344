import { type NotEstimable, notEstimable } from '../absence';
import { chiSquareUpperTail } from '../special/chi-square';
import { type LogRankData, type LogRankOptions, type LogRankSums, sumLogRank } from './log-rank-sums';
import type { LogRankWeighting } from './log-rank-weights';
import { quadraticForm } from './score-quadratic';

export type LogRankGroup = {
  readonly group: number;
  readonly n: number;
  /** Events, each counted with the weight of its time. */
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
  readonly weighting: LogRankWeighting;
};

/**
 * The log-rank test of equal hazards in two or more groups, plain or weighted.
 *
 * Estimand: the hypothesis that all groups share one hazard at every time (within each stratum).
 * Formula: U = sum over event times of w (observed minus expected events), expected d n_g/n; covariance
 * w^2 d (n - d)/(n - 1) (delta n_g/n - n_g n_h/n^2), the hypergeometric one, nothing at n = 1; strata add U and V,
 * their weights made within; chi-square = U' V^- U (Mantel 1966; Peto & Peto, JRSS A 1972;135:185). Weights: see
 * LogRankWeighting (Gehan 1965, Breslow 1970; Tarone & Ware 1977; Prentice 1978, Andersen et al. 1993 p. 349 for the
 * two of Peto; Fleming & Harrington 1991, equation 7.2.2, all from memory).
 * Groups never at risk together with another at an event that counts carry no contrast; the degrees of freedom are
 * the rank of V, for overlapping groups their number minus 1.
 * Ties, risk set, delayed entry: as estimateKaplanMeier; equal times are merged over all groups and strata.
 * Not estimable: fewer than two groups with cases, no event, no overlap, no event time with a weight.
 * Shapes: columns of equal length; group codes 0..groupCount - 1 (default: the largest plus one). Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function testLogRank(data: LogRankData, options: LogRankOptions = {}): LogRankTest | NotEstimable {
  const sums = sumLogRank(data, options);
  const absent = reasonForNoTest(sums);
  if (absent) return absent;
  const { sizes, observed, expected, covariance } = sums;
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
    weighting: options.weighting ?? 'equal',
  };
}

/** Why these sums allow no test at all; undefined when they do as far as counts can tell. */
export function reasonForNoTest(sums: LogRankSums): NotEstimable | undefined {
  if (sums.sizes.filter((n) => n > 0).length < 2) return notEstimable('fewerThanTwoGroups');
  if (sums.eventTotal === 0) return notEstimable('noEvents');
  if (sums.weightTotal === 0) return notEstimable('noWeight');
  return undefined;
}
