import { type NotEstimable, notEstimable } from '../absence';
import { type CaseMix, incrementsOf, type MonitoredCusum } from './case-mix';
import { checkAboveZero, checkCells, checkOpenFraction, checkWholeFrom } from './check-chart';
import { signalChance } from './cusum-chain';
import type { ChainOptions } from './cusum-run-length';

export type CusumDetectableChange = {
  readonly kind: 'derived';
  /** The true odds ratio closest to 1 that the chart finds with the power wanted. */
  readonly trueOddsRatio: number;
  /** The chance of an alarm without any change, in as many cases. */
  readonly falseAlarmChance: number;
};

/** Odds further from those expected than this are no change of results but other cases. */
const LARGEST_LOG_RATIO = Math.log(1000);
/** Halvings of the logarithm of the odds ratio: to seven digits. */
const HALVINGS = 26;

/**
 * The smallest change of the odds that a risk-adjusted CUSUM would show within a number of cases.
 *
 * Estimand: the true odds ratio closest to 1, above 1 for a chart of a rise and below for one of a fall, at which the chart
 * signals within `cases` cases with the power wanted, starting from a sum of 0 as the change sets in.
 * Formula: halving of log odds ratios between 1 and 1000 (or 1/1000), with the chance of deriveCusumAlarmChance at each.
 * Not estimable: no rows; a change beyond 1000 (or 1/1000) would be needed; a chart that signals as often without a change.
 * @throws StatisticsError as deriveCusumAlarmChance, and outOfRange (power not strictly between 0 and 1).
 */
export function deriveCusumDetectableChange(
  mix: CaseMix,
  chart: Omit<MonitoredCusum, 'trueOddsRatio'>,
  cases: number,
  options: ChainOptions & { readonly power?: number } = {},
): CusumDetectableChange | NotEstimable {
  const { power = 0.8, cells = 100 } = options;
  const chanceAt = (trueOddsRatio: number): number =>
    signalChance(incrementsOf(mix, { ...chart, trueOddsRatio }), chart.threshold, cells, cases);
  const { oddsRatio, baselineOddsRatio = 1 } = chart;
  incrementsOf(mix, chart);
  checkAboveZero('threshold', chart.threshold);
  checkWholeFrom('cases', cases, 0);
  checkCells(cells);
  checkOpenFraction('power', power);
  if (mix.probability.length === 0) return notEstimable('noRows');
  const falseAlarmChance = chanceAt(1);
  if (falseAlarmChance >= power) return notEstimable('alarmsWithoutChange');
  const direction = oddsRatio > baselineOddsRatio ? 1 : -1;
  let missed = 0;
  let found = LARGEST_LOG_RATIO;
  if (chanceAt(Math.exp(direction * found)) < power) return notEstimable('tooFewCases');
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (missed + found) / 2;
    if (chanceAt(Math.exp(direction * middle)) < power) missed = middle;
    else found = middle;
  }
  return { kind: 'derived', trueOddsRatio: Math.exp(direction * found), falseAlarmChance };
}
