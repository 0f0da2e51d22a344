import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { type ArmCount, checkArms } from './arms';
import { scoreRatioLimits } from './score-ratio';

export type RiskRatioLimits = 'koopman' | 'miettinenNurminen' | 'katz';

export type RiskRatio = {
  readonly kind: 'estimated';
  /** 0 without events in the first arm, Infinity without events in the second. */
  readonly ratio: number;
  /** Of the log ratio; with 'katz' only. */
  readonly logStandardError?: number;
  readonly lower: number;
  readonly upper: number;
  readonly limits: RiskRatioLimits;
  readonly confidenceLevel: number;
};

/**
 * The ratio of two independent proportions, first over second, with limits.
 *
 * Estimand: p1/p2, the ratio of the probabilities of the event.
 * Formula: limits 'koopman' (default): the ratios not rejected by the score test (Koopman, Biometrics 1984;40:513);
 * 'miettinenNurminen' the same with variance times N/(N - 1) (Stat Med 1985;4:213); 'katz' exp(log ratio -+
 * z root(1/x1 - 1/n1 + 1/x2 - 1/n2)) (Katz et al, Biometrics 1978;34:469), which has no value without events in an arm.
 * Without events in the first arm ratio and lower limit are 0; without events in the second, ratio and upper limit are
 * Infinity: the data set no bound on that side. Not estimable: an arm without cases; no event in either arm.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function estimateRiskRatio(
  first: ArmCount,
  second: ArmCount,
  options: { readonly limits?: RiskRatioLimits; readonly confidenceLevel?: number } = {},
): RiskRatio | NotEstimable {
  const { limits = 'koopman', confidenceLevel = 0.95 } = options;
  checkArms(first, second);
  checkConfidenceLevel(confidenceLevel);
  if (first.n === 0 || second.n === 0) return notEstimable('emptyArm');
  if (first.events + second.events === 0) return notEstimable('noEvents');
  if (limits === 'katz' && (first.events === 0 || second.events === 0)) return notEstimable('emptyCell');
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const ratio = first.events / first.n / (second.events / second.n);
  const n = first.n + second.n;
  const found =
    limits === 'katz'
      ? katzLimits(first, second, ratio, z)
      : scoreRatioLimits(first, second, z, limits === 'koopman' ? 1 : n / (n - 1));
  return { kind: 'estimated', ratio, ...found, limits, confidenceLevel };
}

function katzLimits(
  first: ArmCount,
  second: ArmCount,
  ratio: number,
  z: number,
): { readonly logStandardError: number; readonly lower: number; readonly upper: number } {
  const logStandardError = Math.sqrt(
    (first.n - first.events) / first.n / first.events + (second.n - second.events) / second.n / second.events,
  );
  const factor = Math.exp(z * logStandardError);
  return { logStandardError, lower: ratio / factor, upper: ratio * factor };
}
