import { type Column, checkFinite } from '../check-input';
import { checkAboveZero, checkFromZero, checkSetting } from './check-chart';
import { type FirstSignal, firstSignal } from './first-signal';

export type TabularCusumDesign = {
  readonly target: number;
  /** What a value may differ from the target before it counts (k): half of the shift to detect. */
  readonly slack: number;
  /** The chart signals when a sum exceeds this (h). */
  readonly threshold: number;
};

export type TabularCusum = {
  /** The sums of what lies above and below the target, both never below 0. */
  readonly high: Float64Array;
  readonly low: Float64Array;
  readonly firstHigh: FirstSignal;
  readonly firstLow: FirstSignal;
};

/**
 * The two one-sided cumulative sums of a measured series.
 *
 * Estimand: a lasting shift of the mean away from the target.
 * Formula: H_t = max(0, H_(t-1) + x_t - target - k), L_t = max(0, L_(t-1) + target - k - x_t), both from 0 (Page, Biometrika
 * 1954;41:100, in the tabular form of Montgomery's textbook).
 * Convention: a signal is a sum strictly above the threshold; values are counted from 1.
 * Shapes: one value per row, in order; an empty series gives an empty chart. Units: those of the values, k and h too.
 * @throws StatisticsError notFinite, negative (slack), outOfRange (threshold).
 */
export function deriveTabularCusum(values: Column, design: TabularCusumDesign): TabularCusum {
  const { target, slack, threshold } = design;
  checkFinite('values', values);
  checkSetting('target', target);
  checkFromZero('slack', slack);
  checkAboveZero('threshold', threshold);
  const high = new Float64Array(values.length);
  const low = new Float64Array(values.length);
  let [above, below] = [0, 0];
  for (let i = 0; i < values.length; i += 1) {
    above = Math.max(0, above + values[i] - target - slack);
    below = Math.max(0, below + target - slack - values[i]);
    high[i] = above;
    low[i] = below;
  }
  const exceeds = (value: number): boolean => value > threshold;
  return { high, low, firstHigh: firstSignal(high, exceeds), firstLow: firstSignal(low, exceeds) };
}
