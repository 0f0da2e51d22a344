import { checkAboveZero, checkExpectedOutcomes, type ExpectedOutcomes } from './check-chart';
import { type CusumPath, cusumPath } from './cusum-path';
import { type CusumHypotheses, checkHypotheses, cusumWeight } from './cusum-weight';

export type RiskAdjustedCusumDesign = CusumHypotheses & {
  /** The chart signals when the sum reaches this. */
  readonly threshold: number;
};

export type RiskAdjustedCusum = CusumPath & {
  /** The log-likelihood ratio that each case adds. */
  readonly weight: Float64Array;
};

/**
 * The risk-adjusted cumulative sum of one direction: a rise for an odds ratio above 1, a fall for one below.
 *
 * Estimand: the evidence, since the chart last stood at 0, that the odds of the event are `oddsRatio` times what the cases'
 * own risks lead to expect, rather than `baselineOddsRatio` times.
 * Formula: W = log{(1 - p + R0 p) RA / ((1 - p + RA p) R0)} after an event, log{(1 - p + R0 p)/(1 - p + RA p)} after none;
 * S_t = max(0, S_(t-1) + W_t), S_0 = 0 (Steiner, Cook, Farewell & Treasure, Biostatistics 2000;1:441).
 * Convention: a signal is S_t >= threshold; cases are counted from 1. The sum of a fall is positive too (the paper draws
 * it downwards). Both are kept: the sum that goes on, and the one that starts again after each signal.
 * Shapes: one row per case, in the order of entry; an empty series gives an empty chart.
 * @throws StatisticsError unequalLengths, notFinite, unknownCode, outOfRange (a probability, an odds ratio of 0 or less, two
 * equal odds ratios, a threshold of 0 or less).
 */
export function deriveRiskAdjustedCusum(
  outcomes: ExpectedOutcomes,
  design: RiskAdjustedCusumDesign,
): RiskAdjustedCusum {
  checkExpectedOutcomes(outcomes);
  checkHypotheses(design);
  checkAboveZero('threshold', design.threshold);
  const { event, probability } = outcomes;
  const weight = new Float64Array(event.length);
  for (let i = 0; i < weight.length; i += 1) weight[i] = cusumWeight(event[i], probability[i], design);
  return { weight, ...cusumPath(weight, design.threshold) };
}
