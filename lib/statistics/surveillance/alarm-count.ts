import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { checkConfidenceLevel } from '../check-input';
import { poissonQuantile, poissonUpperQuantile } from '../special/poisson';
import { checkAboveZero } from './check-chart';

export type AlarmCountTest = {
  readonly kind: 'tested';
  readonly expected: number;
  /** Whole counts; both limits belong to the interval. */
  readonly lower: number;
  readonly upper: number;
  readonly asExpected: boolean;
};

/**
 * Whether a chart, started again after each alarm, gives as many alarms over a stable series as its run length says.
 *
 * Estimand: the hypothesis that alarms come at the rate 1/runLength.
 * Formula: alarms ~ Poisson(cases/runLength), nearly, as run lengths in control are nearly geometric; the interval runs from
 * the quantile of half of 1 - confidenceLevel to that of the upper half, 99 % when left out.
 * Convention: limits are whole counts and belong to the interval.
 * Not estimable: no cases.
 * @throws StatisticsError notFinite, negative, notInteger (alarms, cases), outOfRange (runLength, confidence level).
 */
export function testAlarmCount(
  alarms: number,
  cases: number,
  runLength: number,
  options: { readonly confidenceLevel?: number } = {},
): AlarmCountTest | NotEstimable {
  const { confidenceLevel = 0.99 } = options;
  checkCount('alarms', alarms);
  checkCount('cases', cases);
  checkAboveZero('runLength', runLength);
  checkConfidenceLevel(confidenceLevel);
  if (cases === 0) return notEstimable('noRows');
  const expected = cases / runLength;
  const tail = (1 - confidenceLevel) / 2;
  const lower = poissonQuantile(tail, expected);
  const upper = poissonUpperQuantile(tail, expected);
  return { kind: 'tested', expected, lower, upper, asExpected: alarms >= lower && alarms <= upper };
}
