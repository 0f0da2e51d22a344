import { type NotEstimable, notEstimable } from '../absence';
import {
  checkAboveZero,
  checkExpectedOutcomes,
  checkFraction,
  checkNewestShare,
  type ExpectedOutcomes,
} from './check-chart';
import { type FirstSignal, firstSignal } from './first-signal';

export type RiskAdjustedEwmaDesign = {
  /** Weight of the newest case: above 0, at most 1. */
  readonly newestShare: number;
  /** Distance of the limits from the expected average in standard deviations of the observed one. */
  readonly limitWidth: number;
  /** Where both averages start; the mean probability of all rows when left out. */
  readonly start?: number;
};

export type RiskAdjustedEwma = {
  readonly kind: 'derived';
  readonly observed: Float64Array;
  readonly expected: Float64Array;
  /** Of the observed average, were every case to have its expected probability. */
  readonly standardDeviation: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly firstSignal: FirstSignal;
};

/**
 * The moving averages of observed and of expected events, and limits around the expected one.
 *
 * Estimand: the current event rate beside the one that the cases' own risks lead to expect.
 * Formula: both averages by z_t = share x_t + (1 - share) z_(t-1), of the outcome and of its probability p; variance
 * v_t = share^2 p(1 - p) + (1 - share)^2 v_(t-1), v_0 = 0; limits expected -+ L root v (Cook, Coory & Webster, BMJ Qual Saf
 * 2011;20:469).
 * Convention: a signal is an observed average strictly outside the limits; cases are counted from 1. Limits are cut to
 * 0 and 1, which no average leaves. The default start looks ahead over the whole series: give the baseline's mean risk to monitor.
 * Shapes: one row per case, in order. Not estimable: no rows and no start.
 * @throws StatisticsError unequalLengths, notFinite, unknownCode, outOfRange (a probability, newestShare, limitWidth, start).
 */
export function deriveRiskAdjustedEwma(
  outcomes: ExpectedOutcomes,
  design: RiskAdjustedEwmaDesign,
): RiskAdjustedEwma | NotEstimable {
  const { event, probability } = outcomes;
  const { newestShare, limitWidth } = design;
  checkExpectedOutcomes(outcomes);
  checkNewestShare(newestShare);
  checkAboveZero('limitWidth', limitWidth);
  const n = event.length;
  if (n === 0) return notEstimable('noRows');
  const start = design.start ?? meanOf(probability);
  checkFraction('start', start);
  const observed = new Float64Array(n);
  const expected = new Float64Array(n);
  const standardDeviation = new Float64Array(n);
  const lower = new Float64Array(n);
  const upper = new Float64Array(n);
  const kept = 1 - newestShare;
  let [seen, due, variance] = [start, start, 0];
  for (let i = 0; i < n; i += 1) {
    const p = probability[i];
    seen = newestShare * event[i] + kept * seen;
    due = newestShare * p + kept * due;
    variance = newestShare * newestShare * p * (1 - p) + kept * kept * variance;
    const sd = Math.sqrt(variance);
    observed[i] = seen;
    expected[i] = due;
    standardDeviation[i] = sd;
    lower[i] = Math.max(0, due - limitWidth * sd);
    upper[i] = Math.min(1, due + limitWidth * sd);
  }
  const signal = firstSignal(observed, (value, i) => value < lower[i] || value > upper[i]);
  return { kind: 'derived', observed, expected, standardDeviation, lower, upper, firstSignal: signal };
}

function meanOf(column: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < column.length; i += 1) sum += column[i];
  return sum / column.length;
}
