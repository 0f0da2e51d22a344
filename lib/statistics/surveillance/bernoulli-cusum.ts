import { type Column, checkCodes } from '../check-input';
import { StatisticsError } from '../errors';
import { checkAboveZero, checkOpenFraction } from './check-chart';
import { type CusumPath, cusumPath } from './cusum-path';

export type BernoulliCusumDesign = {
  /** The rate in control, and the one to detect: larger for a rise, smaller for a fall. */
  readonly baselineRate: number;
  readonly shiftedRate: number;
  /** The chart signals when the sum reaches this. */
  readonly threshold: number;
};

export type BernoulliCusum = CusumPath & {
  readonly weightOfEvent: number;
  readonly weightOfNone: number;
};

/**
 * The cumulative sum of outcomes that all have one expected rate.
 *
 * Estimand: the evidence, since the chart last stood at 0, for the shifted rate against the baseline rate.
 * Formula: W = log(p1/p0) after an event, log((1 - p1)/(1 - p0)) after none; S_t = max(0, S_(t-1) + W_t), S_0 = 0
 * (Reynolds & Stoumbos, J Qual Technol 1999;31:87). It is the risk-adjusted CUSUM of cases with equal risk.
 * Convention: a signal is S_t >= threshold; cases are counted from 1.
 * Shapes: one row per case, in the order of entry; an empty series gives an empty chart.
 * @throws StatisticsError notFinite, unknownCode (event), outOfRange (a rate not between 0 and 1, two equal rates, a
 * threshold of 0 or less).
 */
export function deriveBernoulliCusum(event: Column, design: BernoulliCusumDesign): BernoulliCusum {
  const { baselineRate, shiftedRate, threshold } = design;
  checkCodes('event', event, 2);
  checkOpenFraction('baselineRate', baselineRate);
  checkOpenFraction('shiftedRate', shiftedRate);
  checkAboveZero('threshold', threshold);
  if (baselineRate === shiftedRate) {
    const message = `shiftedRate is ${shiftedRate}, the same as in control; give the rate to detect.`;
    throw new StatisticsError('outOfRange', 'shiftedRate', undefined, message);
  }
  const weightOfEvent = Math.log(shiftedRate / baselineRate);
  const weightOfNone = Math.log((1 - shiftedRate) / (1 - baselineRate));
  const weight = Float64Array.from(event, (y) => (y === 1 ? weightOfEvent : weightOfNone));
  return { weightOfEvent, weightOfNone, ...cusumPath(weight, threshold) };
}
