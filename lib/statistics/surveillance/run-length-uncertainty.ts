import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkConfidenceLevel } from '../check-input';
import type { MonitoredCusum } from './case-mix';
import { type ChainOptions, deriveCusumRunLength } from './cusum-run-length';

export type RunLengthUncertainty = {
  readonly kind: 'derived';
  /** The mean run length under each draw of the baseline, in the order given. */
  readonly runLengths: Float64Array;
  readonly median: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidenceLevel: number;
};

/**
 * What not knowing the baseline exactly does to the run length of a risk-adjusted CUSUM.
 *
 * Estimand: the distribution of the mean run length of a chart built on `probability` when the true risks of the same cases
 * are one of `draws`: equally likely columns, from the baseline's posterior (deriveRateDraws for a constant rate) or from
 * draws of a model's coefficients.
 * Formula: deriveCusumRunLength for each draw; median and limits are the quantiles of the draws, linear between neighbours
 * (rank 1 + (m - 1)q of m draws).
 * Not estimable: no draws, or a draw under which the chart has no run length.
 * @throws StatisticsError as deriveCusumRunLength, and outOfRange (confidence level).
 */
export function deriveRunLengthUncertainty(
  probability: Column,
  draws: readonly Column[],
  chart: MonitoredCusum,
  options: ChainOptions & { readonly confidenceLevel?: number } = {},
): RunLengthUncertainty | NotEstimable {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  if (draws.length === 0) return notEstimable('noRows');
  const runLengths = new Float64Array(draws.length);
  for (const [i, trueProbability] of draws.entries()) {
    const found = deriveCusumRunLength({ probability, trueProbability }, chart, options);
    if (found.kind === 'notEstimable') return found;
    runLengths[i] = found.mean;
  }
  const sorted = runLengths.slice().sort();
  const tail = (1 - confidenceLevel) / 2;
  return {
    kind: 'derived',
    runLengths,
    median: quantileOf(sorted, 0.5),
    lower: quantileOf(sorted, tail),
    upper: quantileOf(sorted, 1 - tail),
    confidenceLevel,
  };
}

function quantileOf(sorted: Float64Array, q: number): number {
  const rank = (sorted.length - 1) * q;
  const below = Math.floor(rank);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (rank - below) * (sorted[above] - sorted[below]);
}
