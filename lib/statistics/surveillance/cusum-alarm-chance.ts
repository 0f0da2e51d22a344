import { type NotEstimable, notEstimable } from '../absence';
import { type CaseMix, incrementsOf, type MonitoredCusum } from './case-mix';
import { checkAboveZero, checkCells, checkWholeFrom } from './check-chart';
import { signalChance } from './cusum-chain';
import type { ChainOptions } from './cusum-run-length';

export type CusumAlarmChance = { readonly kind: 'derived'; readonly chance: number };

/**
 * The chance that a risk-adjusted CUSUM signals within a number of cases.
 *
 * Estimand: P(run length <= cases) from a sum of 0, cases and events as in deriveCusumRunLength: the chance of a false
 * alarm in control, the power after a change.
 * Formula: the distribution of the sum on the chain's grid after each case (Brook & Evans, Biometrika 1972;59:539).
 * Not estimable: no rows. @throws StatisticsError as deriveCusumRunLength, and for cases below 0 or not whole.
 */
export function deriveCusumAlarmChance(
  mix: CaseMix,
  chart: MonitoredCusum,
  cases: number,
  options: ChainOptions = {},
): CusumAlarmChance | NotEstimable {
  const { cells = 400 } = options;
  const increments = incrementsOf(mix, chart);
  checkAboveZero('threshold', chart.threshold);
  checkWholeFrom('cases', cases, 0);
  checkCells(cells);
  if (increments.value.length === 0) return notEstimable('noRows');
  return { kind: 'derived', chance: signalChance(increments, chart.threshold, cells, cases) };
}
