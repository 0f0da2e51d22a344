import { type NotEstimable, notEstimable } from '../absence';
import { maximiseMasses } from './interval-masses';
import { checkIntervals, deriveIntervalCells, type IntervalData } from './maximal-intersections';

export type TurnbullCurve = {
  readonly kind: 'estimated';
  readonly n: number;
  /** The intervals that hold mass, (left, right] or the day left = right, in order; right is Infinity where no end is known. */
  readonly leftDays: Float64Array;
  readonly rightDays: Float64Array;
  readonly mass: Float64Array;
  readonly logLikelihood: number;
  /** Largest derivative of the log-likelihood by a mass anywhere, divided by n: 1 at the maximum. */
  readonly largestGradient: number;
};

/**
 * The probability of being free of the event, from event times known only to lie between two looks (Turnbull).
 *
 * Estimand: S(t) = P(T > t), when the looks do not depend on the event; nonparametric maximum likelihood.
 * Formula: mass only on the maximal intersections of the intervals (Peto, Appl Stat 1973;22:86; Turnbull, JRSS B
 * 1976;38:290); maximised until no derivative exceeds n (1 + 1e-10). With exact and right-censored times it is
 * Kaplan-Meier. Inside an interval that holds mass the curve is not determined.
 * Conventions: (left, right]; an event on the day of a look was before or at it. left = right is an exact day, left = 0 an
 * event at any time after 0 up to right, right = Infinity no event up to left. Equal times are merged as in
 * estimateKaplanMeier, so an interval of no more than rounding is an exact day.
 * No standard error is given: Greenwood's does not hold here, and the bootstrap converges at another rate.
 * Not estimable: no cases; no maximum found.
 * Shapes: columns of equal length. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, outOfRange (an interval that ends before it begins).
 */
export function estimateTurnbull(data: IntervalData): TurnbullCurve | NotEstimable {
  checkIntervals(data);
  if (data.leftDays.length === 0) return notEstimable('noRows');
  const cells = deriveIntervalCells(data);
  const { mass, logLikelihood, largestGradient, converged } = maximiseMasses(cells);
  if (!converged) return notEstimable('noConvergence');
  const held = Array.from(mass.keys()).filter((j) => mass[j] > 0);
  return {
    kind: 'estimated',
    n: cells.n,
    leftDays: Float64Array.from(held, (j) => cells.left[j]),
    rightDays: Float64Array.from(held, (j) => cells.right[j]),
    mass: Float64Array.from(held, (j) => mass[j]),
    logLikelihood,
    largestGradient,
  };
}
