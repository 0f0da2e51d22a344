import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { estimateProportion } from '../proportions/proportion';
import { normalUpperQuantile } from '../special/normal';
import { checkRateArms, type RateCount } from './rate-arms';

export type RateRatioLimits = 'exact' | 'wald';

export type RateRatio = {
  readonly kind: 'estimated';
  /** 0 without events in the first group, Infinity without events in the second. */
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  readonly limits: RateRatioLimits;
  readonly confidenceLevel: number;
};

/**
 * The ratio of two rates of events per person-time, first over second.
 *
 * Estimand: the ratio of the rates of two independent Poisson processes.
 * Formula: (x1/t1)/(x2/t2). Limits 'exact' (default): given all events, those of the first group are binomial with
 * probability r t1/(r t1 + t2); the Clopper-Pearson limits of x1/(x1 + x2), turned back into r (Przyborowski &
 * Wilenski, Biometrika 1940;31:313). 'wald': exp(log ratio -+ z root(1/x1 + 1/x2)), which has no value without events in a
 * group. Exact limits are 0 without events in the first group and Infinity without events in the second.
 * Not estimable: a group without person-time; no event in either group; 'wald' without events in a group.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange (confidence level).
 */
export function estimateRateRatio(
  first: RateCount,
  second: RateCount,
  options: { readonly limits?: RateRatioLimits; readonly confidenceLevel?: number } = {},
): RateRatio | NotEstimable {
  const { limits = 'exact', confidenceLevel = 0.95 } = options;
  checkRateArms(first, second);
  checkConfidenceLevel(confidenceLevel);
  if (first.personTime === 0 || second.personTime === 0) return notEstimable('noPersonTime');
  if (first.events + second.events === 0) return notEstimable('noEvents');
  const ratio = first.events / first.personTime / (second.events / second.personTime);
  if (limits === 'wald') {
    if (first.events === 0 || second.events === 0) return notEstimable('emptyCell');
    const z = normalUpperQuantile((1 - confidenceLevel) / 2);
    const factor = Math.exp(z * Math.sqrt(1 / first.events + 1 / second.events));
    return {
      kind: 'estimated',
      ratio,
      lower: ratio / factor,
      upper: ratio * factor,
      limits,
      confidenceLevel,
    };
  }
  const share = estimateProportion(first.events, first.events + second.events, {
    limits: 'clopperPearson',
    confidenceLevel,
  });
  if (share.kind === 'notEstimable') return share;
  const ratioAt = (p: number): number => (p / (1 - p)) * (second.personTime / first.personTime);
  return {
    kind: 'estimated',
    ratio,
    lower: ratioAt(share.lower),
    upper: ratioAt(share.upper),
    limits,
    confidenceLevel,
  };
}
