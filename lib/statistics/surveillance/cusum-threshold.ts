import { type NotEstimable, notEstimable } from '../absence';
import { bisect } from '../bisection';
import { type CaseMix, chanceOfRise, incrementsOf, type MonitoredCusum } from './case-mix';
import { checkAboveZero, checkCells } from './check-chart';
import { meanRunLength } from './cusum-chain';
import type { ChainOptions } from './cusum-run-length';

export type CusumThreshold = {
  readonly kind: 'derived';
  readonly threshold: number;
  /** The mean run length at this threshold: the wanted one or a little more. */
  readonly runLength: number;
};

/**
 * The threshold that gives a risk-adjusted CUSUM a wanted mean run length, in control unless `trueOddsRatio` says otherwise.
 *
 * Estimand: the smallest threshold whose mean run length (deriveCusumRunLength) is at least `runLength`.
 * Formula: doubling, then halving, with the chain's run length at each threshold. Where few kinds of case make the run length
 * jump, the threshold of the jump is found to within a step of the grid.
 * Not estimable: no rows; a chart that no case can raise; a run length that is passed before the second rise, whatever the
 * threshold.
 * @throws StatisticsError as deriveCusumRunLength, and outOfRange or notFinite for runLength.
 */
export function deriveCusumThreshold(
  mix: CaseMix,
  chart: Omit<MonitoredCusum, 'threshold'>,
  runLength: number,
  options: ChainOptions = {},
): CusumThreshold | NotEstimable {
  const { cells = 400 } = options;
  const increments = incrementsOf(mix, chart);
  checkAboveZero('runLength', runLength);
  checkCells(cells);
  if (increments.value.length === 0) return notEstimable('noRows');
  const rise = chanceOfRise(increments);
  if (rise === 0) return notEstimable('neverSignals');
  if (runLength <= 1 / rise) return notEstimable('runLengthTooShort');
  const lengthAt = (threshold: number): number => meanRunLength(increments, threshold, cells);
  let high = 1;
  while (lengthAt(high) < runLength) high *= 2;
  const { failing } = bisect(0, high, (threshold) => lengthAt(threshold) < runLength);
  return { kind: 'derived', threshold: failing, runLength: lengthAt(failing) };
}
