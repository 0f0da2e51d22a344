import { type Column, checkTimes } from '../check-input';
import { TIME_TOLERANCE } from './equal-times';
import type { TurnbullCurve } from './turnbull';

export type SurvivalBounds = {
  readonly kind: 'determined' | 'undetermined';
  readonly timeDays: number;
  /** All mass whose interval has begun counted as events. */
  readonly lower: number;
  /** Only mass whose interval has ended counted as events. */
  readonly upper: number;
};

/**
 * A curve from interval-censored times read at fixed times (days, any order).
 *
 * Estimand: S(t), as far as the data determine it. Inside an interval that holds mass they do not: the two bounds differ and
 * the point is tagged undetermined; a single number there would pretend. Elsewhere both bounds are S(t).
 * Conventions: an interval (left, right] has begun after left and ended at right, an exact day begins and ends at once; after
 * the last case without an event was seen, its mass stays open. A time asked for is equal to an end within 2^-26.
 * @throws StatisticsError notFinite, negative (argument `times`).
 */
export function survivalBoundsAt(curve: TurnbullCurve, times: Column): SurvivalBounds[] {
  checkTimes('times', times);
  return Array.from(times, (timeDays) => boundsAt(curve, timeDays));
}

function boundsAt({ leftDays, rightDays, mass }: TurnbullCurve, timeDays: number): SurvivalBounds {
  // Summed from the end, so that what is left of the curve is exact where it is small.
  let lower = 0;
  let upper = 0;
  for (let j = mass.length - 1; j >= 0; j -= 1) {
    const ended = rightDays[j] <= timeDays + TIME_TOLERANCE;
    const begun = ended || leftDays[j] < timeDays - TIME_TOLERANCE;
    if (!begun) lower += mass[j];
    if (!ended) upper += mass[j];
  }
  const whole = leftDays[0] >= timeDays - TIME_TOLERANCE && rightDays[0] > timeDays + TIME_TOLERANCE;
  // Before the first mass the sum is one but for rounding.
  if (whole) return { kind: 'determined', timeDays, lower: 1, upper: 1 };
  // A mass too small to part the two sums leaves one number.
  return { kind: lower < upper ? 'undetermined' : 'determined', timeDays, lower, upper: Math.min(1, upper) };
}
