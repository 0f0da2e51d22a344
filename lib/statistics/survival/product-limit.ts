import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import type { ExitCounts } from './exit-counts';
import { limitsOnScale, type SurvivalLimits } from './survival-limits';

export type KaplanMeierOptions = {
  /** Scale of the limits; log-log unless stated. */
  readonly limits?: SurvivalLimits;
  /** Two-sided, 0.95 unless stated. */
  readonly confidenceLevel?: number;
};

/**
 * A curve by distinct times at which somebody left (event or censored), ascending; S = 1 before the first.
 * All columns have one value per time, except that standardError, lower and upper end at `intervalTo`: from there on
 * S = 0 and Greenwood's sum has no value. Before `intervalFrom` (the first event) they hold 0, 1, 1: S = 1 without
 * width, to be drawn but not to be quoted as an interval.
 */
export type ProductLimitCurve = ExitCounts & {
  readonly eventTotal: number;
  readonly survival: Float64Array;
  readonly standardError: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly intervalFrom: number;
  readonly intervalTo: number;
  readonly limits: SurvivalLimits;
  readonly confidenceLevel: number;
};

/** The product-limit curve of these counts, with Greenwood's standard error and limits. */
export function productLimit(counts: ExitCounts, options: KaplanMeierOptions): ProductLimitCurve {
  const { limits = 'log-log', confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const writeLimits = limitsOnScale(limits);
  const { atRisk, events } = counts;
  const length = events.length;
  const [survival, standardError, lower, upper] = Array.from({ length: 4 }, () => new Float64Array(length));
  let s = 1;
  let greenwood = 0;
  let eventTotal = 0;
  let intervalFrom = length;
  let intervalTo = length;
  for (let i = 0; i < length; i += 1) {
    const n = atRisk[i];
    const d = events[i];
    if (d > 0) {
      if (eventTotal === 0) intervalFrom = i;
      eventTotal += d;
      s *= (n - d) / n;
      if (d < n) greenwood += d / (n * (n - d));
      else if (intervalTo === length) intervalTo = i;
    }
    survival[i] = s;
    if (intervalTo < length) continue;
    if (eventTotal === 0) {
      lower[i] = 1;
      upper[i] = 1;
    } else if (d === 0) {
      standardError[i] = standardError[i - 1];
      lower[i] = lower[i - 1];
      upper[i] = upper[i - 1];
    } else {
      const relativeError = Math.sqrt(greenwood);
      standardError[i] = s * relativeError;
      writeLimits(s, relativeError, z, lower, upper, i);
    }
  }
  return {
    ...counts,
    eventTotal,
    survival,
    standardError: standardError.subarray(0, intervalTo),
    lower: lower.subarray(0, intervalTo),
    upper: upper.subarray(0, intervalTo),
    intervalFrom,
    intervalTo,
    limits,
    confidenceLevel,
  };
}
