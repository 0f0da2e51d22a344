import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { type ArmCount, checkArms } from './arms';
import { scoreDifferenceLimits } from './score-difference';
import { wilsonLimits } from './wilson-limits';

export type RiskDifferenceLimits =
  | 'newcombe'
  | 'newcombeCorrected'
  | 'miettinenNurminen'
  | 'mee'
  | 'agrestiCaffo'
  | 'wald';

export type RiskDifference = {
  readonly kind: 'estimated';
  readonly firstProportion: number;
  readonly secondProportion: number;
  readonly difference: number;
  /** root(p q/n summed), whatever the limits; 0 when both arms are all or nothing. */
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly limits: RiskDifferenceLimits;
  readonly confidenceLevel: number;
};

type Limits = { readonly lower: number; readonly upper: number };

/**
 * The difference of two independent proportions, first minus second, with limits.
 *
 * Estimand: p1 - p2, the difference of the probabilities of the event.
 * Formula: limits 'newcombe' (default): d -+ root of the summed squared distances to the Wilson limits (Newcombe, Stat
 * Med 1998;17:873, method 10); 'newcombeCorrected' the same with continuity-corrected Wilson limits (method 11);
 * 'miettinenNurminen' the score limits with variance times N/(N - 1) (Stat Med 1985;4:213); 'mee' without that factor
 * (Biometrics 1984;40:1175); 'agrestiCaffo' one event and one non-event added to each arm (Am Stat 2000;54:280), not cut
 * at 1; 'wald' d -+ z root(p q/n summed), not cut at 1, without width when both arms are all or nothing.
 * Units: fractions of 1. Not estimable: an arm without cases.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function estimateRiskDifference(
  first: ArmCount,
  second: ArmCount,
  options: { readonly limits?: RiskDifferenceLimits; readonly confidenceLevel?: number } = {},
): RiskDifference | NotEstimable {
  const { limits = 'newcombe', confidenceLevel = 0.95 } = options;
  checkArms(first, second);
  checkConfidenceLevel(confidenceLevel);
  if (first.n === 0 || second.n === 0) return notEstimable('emptyArm');
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const firstProportion = first.events / first.n;
  const secondProportion = second.events / second.n;
  return {
    kind: 'estimated',
    firstProportion,
    secondProportion,
    difference: firstProportion - secondProportion,
    standardError: plainError(first, second),
    ...LIMITS[limits](first, second, z),
    limits,
    confidenceLevel,
  };
}

const LIMITS: Readonly<
  Record<RiskDifferenceLimits, (first: ArmCount, second: ArmCount, z: number) => Limits>
> = {
  newcombe: (first, second, z) => squareAndAdd(first, second, z, false),
  newcombeCorrected: (first, second, z) => squareAndAdd(first, second, z, true),
  miettinenNurminen: (first, second, z) => {
    const n = first.n + second.n;
    return scoreDifferenceLimits(first, second, z, n / (n - 1));
  },
  mee: (first, second, z) => scoreDifferenceLimits(first, second, z, 1),
  agrestiCaffo: ({ events: x1, n: n1 }, { events: x2, n: n2 }, z) =>
    plainLimits({ events: x1 + 1, n: n1 + 2 }, { events: x2 + 1, n: n2 + 2 }, z),
  wald: plainLimits,
};

function plainLimits(first: ArmCount, second: ArmCount, z: number): Limits {
  const difference = first.events / first.n - second.events / second.n;
  const margin = z * plainError(first, second);
  return { lower: difference - margin, upper: difference + margin };
}

function plainError(first: ArmCount, second: ArmCount): number {
  const p = first.events / first.n;
  const q = second.events / second.n;
  return Math.sqrt((p * (1 - p)) / first.n + (q * (1 - q)) / second.n);
}

function squareAndAdd(first: ArmCount, second: ArmCount, z: number, corrected: boolean): Limits {
  const p = first.events / first.n;
  const q = second.events / second.n;
  const own = wilsonLimits(first.events, first.n, z, corrected);
  const other = wilsonLimits(second.events, second.n, z, corrected);
  return {
    lower: p - q - Math.hypot(p - own.lower, other.upper - q),
    upper: p - q + Math.hypot(own.upper - p, q - other.lower),
  };
}
