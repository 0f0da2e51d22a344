import { type NotEstimable, notEstimable } from '../absence';
import { type CaseMix, incrementsOf, type MonitoredCusum } from './case-mix';
import { checkAboveZero, checkCells } from './check-chart';
import { meanRunLength } from './cusum-chain';

export type CusumRunLength = {
  readonly kind: 'derived';
  /** Mean number of cases from a sum of 0 until the first signal, the signalling case counted. */
  readonly mean: number;
};

export type ChainOptions = {
  /** Grid steps between 0 and the threshold, 400 when left out; a grid twice as fine is used as well. */
  readonly cells?: number;
};

/**
 * The mean run length of a risk-adjusted CUSUM, without simulation.
 *
 * Estimand: the mean number of cases from a sum of 0 to the first signal, when cases are drawn one by one from the case mix
 * and their events happen at `trueOddsRatio` times the odds of their true risk. At 1 with true risks it is the run length
 * in control, above 1 the delay after a rise.
 * Formula: the Markov chain of Brook & Evans (Biometrika 1972;59:539) on a grid of `cells` steps, as used for this chart by
 * Steiner et al. (Biostatistics 2000;1:441); increments between grid points are shared between both so that their mean is
 * kept, and the step is extrapolated to 0 from two grids. Exact when all increments are whole steps; otherwise the error was
 * below 0.3 % wherever it was looked for with the default.
 * Convention: a signal is a sum at or above the threshold. Shapes: one row per case of the mix, all equally likely.
 * Not estimable: no rows; a chart that no case can raise, or that practically never signals.
 * @throws StatisticsError unequalLengths, notFinite, outOfRange (a probability, odds ratio, threshold or cells), notInteger.
 */
export function deriveCusumRunLength(
  mix: CaseMix,
  chart: MonitoredCusum,
  options: ChainOptions = {},
): CusumRunLength | NotEstimable {
  const { cells = 400 } = options;
  const increments = incrementsOf(mix, chart);
  checkAboveZero('threshold', chart.threshold);
  checkCells(cells);
  if (increments.value.length === 0) return notEstimable('noRows');
  const mean = meanRunLength(increments, chart.threshold, cells);
  return Number.isFinite(mean) ? { kind: 'derived', mean } : notEstimable('neverSignals');
}
