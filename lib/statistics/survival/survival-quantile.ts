import { type NotEstimable, notEstimable } from '../absence';
import { StatisticsError } from '../errors';
import type { ReadableCurve } from './kaplan-meier';

/** A time that a curve reaches, or the plain statement that it does not. */
export type QuantileLimit =
  | { readonly kind: 'reached'; readonly timeDays: number }
  | { readonly kind: 'notReached'; readonly reason: string };

export type SurvivalQuantile =
  | {
      readonly kind: 'reached';
      readonly timeDays: number;
      readonly lower: QuantileLimit;
      readonly upper: QuantileLimit;
    }
  | {
      readonly kind: 'notReached';
      readonly reason: string;
      readonly lower: QuantileLimit;
      readonly upper: QuantileLimit;
    }
  | NotEstimable;

/** A level is met when the curve is within this of it: products of fractions rarely hit one half exactly. */
const LEVEL_TOLERANCE = 1.5e-8;

/**
 * The time by which a fraction `probability` has had the event (0.5: the median), with its limits.
 *
 * Estimand: the smallest t with S(t) <= 1 - probability. Where S equals 1 - probability (within 1.5e-8) and falls
 * later, the mean of that time and the time of the next fall; if it never falls again, that time.
 * Limits: the same rule on the lower and the upper limit curve (Brookmeyer & Crowley, Biometrics 1982;38:29), on the
 * scale and level of the curve, where limits are defined. What the follow-up does not reach is said, not guessed.
 * @throws StatisticsError outOfRange unless 0 < probability < 1.
 */
export function survivalQuantile(curve: ReadableCurve, probability: number): SurvivalQuantile {
  if (!(probability > 0 && probability < 1)) {
    throw new StatisticsError(
      'outOfRange',
      'probability',
      undefined,
      `probability is ${probability}; give a fraction between 0 and 1, such as 0.5 for the median.`,
    );
  }
  if (curve.n === 0) return notEstimable('noRows');
  const level = 1 - probability;
  const estimate = firstTimeAt(curve.timeDays, curve.survival, level, 'The curve');
  const lower = firstTimeAt(curve.timeDays, curve.lower, level, 'The lower limit of the curve');
  const upper = firstTimeAt(curve.timeDays, curve.upper, level, 'The upper limit of the curve');
  return { ...estimate, lower, upper };
}

function firstTimeAt(
  timeDays: Float64Array,
  values: Float64Array,
  level: number,
  what: string,
): QuantileLimit {
  const first = values.findIndex((value) => value < level + LEVEL_TOLERANCE);
  if (first < 0) {
    return {
      kind: 'notReached',
      reason: `${what} stays above ${Number((100 * level).toPrecision(6))} % during follow-up.`,
    };
  }
  if (Math.abs(values[first] - level) < LEVEL_TOLERANCE) {
    const next = values.findIndex((value, i) => i > first && value < values[first]);
    if (next > 0) return { kind: 'reached', timeDays: (timeDays[first] + timeDays[next]) / 2 };
  }
  return { kind: 'reached', timeDays: timeDays[first] };
}
