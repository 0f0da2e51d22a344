import { type Column, checkEqualLengths } from '../check-input';
import { checkAboveZero, checkProbabilities } from './check-chart';
import { type CusumHypotheses, checkHypotheses, cusumWeight } from './cusum-weight';

/** The cases that will come: each row equally likely, independent of the one before. */
export type CaseMix = {
  /** The risk that the chart reckons with. */
  readonly probability: Column;
  /** The risk that is true, where it differs; the same as `probability` when left out. */
  readonly trueProbability?: Column;
};

export type MonitoredCusum = CusumHypotheses & {
  readonly threshold: number;
  /** Odds of the event against the true risk while the chart runs; 1 (default) is in control. */
  readonly trueOddsRatio?: number;
};

/** What one case may add to the sum, and with which chance: twice as many rows as cases, events first. */
export type Increments = { readonly value: Float64Array; readonly chance: Float64Array };

/** @throws StatisticsError unequalLengths, notFinite, outOfRange. */
export function incrementsOf(mix: CaseMix, chart: Omit<MonitoredCusum, 'threshold'>): Increments {
  const { probability, trueProbability = probability } = mix;
  const { trueOddsRatio = 1 } = chart;
  checkEqualLengths({ probability, trueProbability });
  checkProbabilities('probability', probability);
  checkProbabilities('trueProbability', trueProbability);
  checkHypotheses(chart);
  checkAboveZero('trueOddsRatio', trueOddsRatio);
  const n = probability.length;
  const value = new Float64Array(2 * n);
  const chance = new Float64Array(2 * n);
  for (let i = 0; i < n; i += 1) {
    const none = 1 - trueProbability[i];
    const odds = trueOddsRatio * trueProbability[i];
    value[i] = cusumWeight(1, probability[i], chart);
    value[n + i] = cusumWeight(0, probability[i], chart);
    chance[i] = odds / (none + odds) / n;
    chance[n + i] = none / (none + odds) / n;
  }
  return { value, chance };
}

/** The chance that one case raises the sum. */
export function chanceOfRise({ value, chance }: Increments): number {
  let sum = 0;
  for (let i = 0; i < value.length; i += 1) if (value[i] > 0) sum += chance[i];
  return sum;
}
