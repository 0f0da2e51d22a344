import { type Column, checkFinite } from '../check-input';
import { checkAboveZero, checkNewestShare, checkSetting } from './check-chart';
import { type FirstSignal, firstSignal } from './first-signal';

export type EwmaDesign = {
  /** Mean and standard deviation of one value while the process is in control. */
  readonly target: number;
  readonly standardDeviation: number;
  /** Weight of the newest value: above 0, at most 1 (lambda). */
  readonly newestShare: number;
  /** Distance of the limits from the target in standard deviations of the average (L). */
  readonly limitWidth: number;
};

export type Ewma = {
  readonly average: Float64Array;
  /** Limits at each value; they widen towards the asymptotic ones. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly asymptoticLower: number;
  readonly asymptoticUpper: number;
  readonly firstSignal: FirstSignal;
};

/**
 * The exponentially weighted moving average of a series, with its limits.
 *
 * Estimand: the current level of a process with independent values of known mean and spread.
 * Formula: z_t = share x_t + (1 - share) z_(t-1), z_0 the target; limits target -+ L sd root(share/(2 - share)
 * (1 - (1 - share)^(2t))), asymptotically without the last factor (Roberts, Technometrics 1959;1:239; Lucas & Saccucci,
 * Technometrics 1990;32:1).
 * Convention: a signal is an average strictly outside the limits of its own time; cases are counted from 1.
 * Shapes: one value per row, in order; an empty series gives an empty chart. Units: those of the values.
 * @throws StatisticsError notFinite, outOfRange (standardDeviation, newestShare, limitWidth).
 */
export function deriveEwma(values: Column, design: EwmaDesign): Ewma {
  const { target, standardDeviation, newestShare, limitWidth } = design;
  checkFinite('values', values);
  checkSetting('target', target);
  checkAboveZero('standardDeviation', standardDeviation);
  checkNewestShare(newestShare);
  checkAboveZero('limitWidth', limitWidth);
  const n = values.length;
  const average = new Float64Array(n);
  const lower = new Float64Array(n);
  const upper = new Float64Array(n);
  const fullMargin = limitWidth * standardDeviation * Math.sqrt(newestShare / (2 - newestShare));
  let level = target;
  for (let i = 0; i < n; i += 1) {
    level = newestShare * values[i] + (1 - newestShare) * level;
    const margin = fullMargin * Math.sqrt(1 - (1 - newestShare) ** (2 * (i + 1)));
    average[i] = level;
    lower[i] = target - margin;
    upper[i] = target + margin;
  }
  return {
    average,
    lower,
    upper,
    asymptoticLower: target - fullMargin,
    asymptoticUpper: target + fullMargin,
    firstSignal: firstSignal(average, (value, i) => value < lower[i] || value > upper[i]),
  };
}
