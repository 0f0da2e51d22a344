import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import type { LogRankGroup, LogRankTest } from './log-rank';

export type LogRankHazardRatio = {
  readonly kind: 'estimated';
  /** The ratio is of the hazard of `group` to that of `reference`: the smaller code is `group`. */
  readonly group: number;
  readonly reference: number;
  readonly hazardRatio: number;
  readonly lower: number;
  readonly upper: number;
  /** (O1/E1) / (O2/E2): the ratio of the two relative event rates. */
  readonly rateRatio: number | NotEstimable;
  /** Sum of (O - E)^2/E over both groups: never above the chi-square of the test it stands in for. */
  readonly conservativeChiSquare: number;
};

/**
 * The hazard ratio that a log-rank test of two groups implies, without a model being fitted.
 *
 * Estimand: the ratio of two hazards, assumed the same at all times.
 * Formula: exp((O1 - E1)/V11), limits exp((O1 - E1)/V11 -+ z/root V11) (one step: Peto, Pike, Armitage et al., Br J
 * Cancer 1977;35:1; Yusuf et al. 1985, from memory); beside it (O1/E1)/(O2/E2). One step falls short of the ratio
 * where it is far from 1 or the groups are very unequal; a Cox model is the better answer there.
 * Ties, strata, delayed entry: as the test was made.
 * Not estimable: more than two groups with cases; the ratio of rates alone when a group has no event.
 * @throws StatisticsError outOfRange for a weighted test or a confidence level not between 0 and 1.
 */
export function estimateLogRankHazardRatio(
  test: LogRankTest,
  options: { readonly confidenceLevel?: number } = {},
): LogRankHazardRatio | NotEstimable {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  if (test.weighting !== 'equal') {
    const message =
      'test is a weighted one; give the test with equal weights, the only one a hazard ratio follows from.';
    throw new StatisticsError('outOfRange', 'test', undefined, message);
  }
  const [first, second, ...others] = test.groups.filter(({ n }) => n > 0);
  if (others.length > 0) return notEstimable('moreThanTwoGroups');
  const variance = test.covariance[first.group * test.groups.length + first.group];
  const excess = first.observed - first.expected;
  const width = normalUpperQuantile((1 - confidenceLevel) / 2) / Math.sqrt(variance);
  return {
    kind: 'estimated',
    group: first.group,
    reference: second.group,
    hazardRatio: Math.exp(excess / variance),
    lower: Math.exp(excess / variance - width),
    upper: Math.exp(excess / variance + width),
    rateRatio: rateRatio(first, second),
    conservativeChiSquare:
      excess ** 2 / first.expected + (second.observed - second.expected) ** 2 / second.expected,
  };
}

function rateRatio(first: LogRankGroup, second: LogRankGroup): number | NotEstimable {
  if (first.observed === 0 || second.observed === 0) return notEstimable('noEventsInGroup');
  return first.observed / first.expected / (second.observed / second.expected);
}
