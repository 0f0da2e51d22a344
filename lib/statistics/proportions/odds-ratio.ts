import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { type ArmCount, checkArms } from './arms';
import { highestEvents, lowestEvents, oddsRatioWhere, tableTails } from './table-distribution';

export type OddsRatioLimits = 'woolf' | 'haldaneAnscombe' | 'conditional';

export type OddsRatio = {
  readonly kind: 'estimated';
  /** With 'conditional' limits the conditional maximum likelihood estimate, not the cross product. */
  readonly ratio: number;
  /** Of the log ratio; with 'woolf' and 'haldaneAnscombe' only. */
  readonly logStandardError?: number;
  readonly lower: number;
  readonly upper: number;
  readonly limits: OddsRatioLimits;
  readonly confidenceLevel: number;
};

/**
 * The odds ratio of two independent proportions, first over second, with limits.
 *
 * Estimand: p1 (1 - p2)/(p2 (1 - p1)).
 * Formula: limits 'conditional' (default): estimate and central exact limits from Fisher's noncentral hypergeometric
 * distribution, both totals fixed (Fisher 1935; Cornfield 1956): each limit leaves half of 1 - confidenceLevel in its
 * tail; 'woolf' ad/bc exp(-+ z root(1/a + 1/b + 1/c + 1/d)) (Woolf, Ann Hum Genet 1955;19:251), which has no value with
 * a zero cell; 'haldaneAnscombe' the same with 1/2 added to every cell (estimate too).
 * With 'conditional' the estimate and lower limit are 0 at the fewest events the totals allow in the first arm, estimate
 * and upper limit Infinity at the most. Not estimable: an arm without cases; 'conditional' when the totals allow one
 * table only; 'woolf' with a zero cell.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function estimateOddsRatio(
  first: ArmCount,
  second: ArmCount,
  options: { readonly limits?: OddsRatioLimits; readonly confidenceLevel?: number } = {},
): OddsRatio | NotEstimable {
  const { limits = 'conditional', confidenceLevel = 0.95 } = options;
  checkArms(first, second);
  checkConfidenceLevel(confidenceLevel);
  if (first.n === 0 || second.n === 0) return notEstimable('emptyArm');
  if (limits === 'conditional' && lowestEvents(first, second) === highestEvents(first, second)) {
    return notEstimable('oneTable');
  }
  const cells = [first.events, first.n - first.events, second.events, second.n - second.events];
  if (limits === 'woolf' && cells.includes(0)) return notEstimable('emptyCell');
  const tail = (1 - confidenceLevel) / 2;
  const found =
    limits === 'conditional'
      ? conditional(first, second, tail)
      : crossProduct(limits === 'woolf' ? cells : cells.map((cell) => cell + 0.5), normalUpperQuantile(tail));
  return { kind: 'estimated', ...found, limits, confidenceLevel };
}

type Found = {
  readonly ratio: number;
  readonly logStandardError?: number;
  readonly lower: number;
  readonly upper: number;
};

function crossProduct([a, b, c, d]: readonly number[], z: number): Found {
  const ratio = ((a / b) * d) / c;
  const logStandardError = Math.sqrt(1 / a + 1 / b + 1 / c + 1 / d);
  const factor = Math.exp(z * logStandardError);
  return { ratio, logStandardError, lower: ratio / factor, upper: ratio * factor };
}

function conditional(first: ArmCount, second: ArmCount, tail: number): Found {
  const { events } = first;
  const fewest = events === lowestEvents(first, second);
  const most = events === highestEvents(first, second);
  return {
    ratio: fewest
      ? 0
      : most
        ? Number.POSITIVE_INFINITY
        : oddsRatioWhere(first, second, events, ({ lowest, probability }) =>
            probability.reduce((mean, p, i) => mean + p * (lowest + i), 0),
          ),
    lower: fewest ? 0 : oddsRatioWhere(first, second, tail, (at) => tableTails(at, events).upper),
    upper: most
      ? Number.POSITIVE_INFINITY
      : oddsRatioWhere(first, second, -tail, (at) => -tableTails(at, events).lower),
  };
}
