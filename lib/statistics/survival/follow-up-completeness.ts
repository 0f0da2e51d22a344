import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths, checkTimes } from '../check-input';
import { StatisticsError } from '../errors';
import { TIME_TOLERANCE } from './equal-times';

export type FollowUpCompletenessData = {
  readonly timeDays: Column;
  readonly event: Column;
  /** Days from each case's start to the closing date: how long it could have been followed at most. */
  readonly potentialDays: Column;
};

export type FollowUpCompleteness = {
  readonly kind: 'estimated';
  readonly n: number;
  /** Clark's C, between 0 and 1: observed time over potential time, the potential of an event ending with it. */
  readonly clarkIndex: number;
  /** The potential time of each case that clarkIndex uses. */
  readonly potentialUsedDays: Float64Array;
  /** The same with cases that had the event credited with their whole potential, observed and potential. */
  readonly simplifiedPersonTime: number;
  /** Share of cases with the event or followed to the closing date. */
  readonly completeShare: number;
};

/**
 * How much of the possible follow-up was obtained.
 *
 * Estimand: the observed share of the person-time that could have been observed by the closing date.
 * Formula: C = sum of observed times / sum of potential times, where the potential of a case with the event is its
 * own event time, else closing date minus start (Clark, Altman & De Stavola, Lancet 2002;359:1309); the simplified
 * person-time and the percentage method as compared in Xue et al., BMC Med Res Methodol 2017;17:149 (from memory).
 * Conventions: a time within 2^-26 of the potential reaches it.
 * Not estimable: no cases, or no potential time at all. Shapes: columns of equal length. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode; outOfRange (`potentialDays`) where a
 * case was followed beyond its closing date.
 */
export function estimateFollowUpCompleteness(
  data: FollowUpCompletenessData,
): FollowUpCompleteness | NotEstimable {
  const { timeDays, event, potentialDays } = data;
  checkEqualLengths({ timeDays, event, potentialDays });
  checkTimes('timeDays', timeDays);
  checkTimes('potentialDays', potentialDays);
  checkCodes('event', event, 2);
  checkPotential(timeDays, potentialDays);
  const n = timeDays.length;
  if (n === 0) return notEstimable('noRows');
  const potentialUsedDays = Float64Array.from(potentialDays, (days, i) =>
    event[i] === 1 ? timeDays[i] : days,
  );
  const sum = (daysOf: (i: number) => number): number => {
    let total = 0;
    for (let i = 0; i < n; i += 1) total += daysOf(i);
    return total;
  };
  const potentialUsed = sum((i) => potentialUsedDays[i]);
  if (potentialUsed === 0) return notEstimable('noPotentialTime');
  const reaches = (i: number): boolean => timeDays[i] >= potentialDays[i] - TIME_TOLERANCE;
  return {
    kind: 'estimated',
    n,
    clarkIndex: sum((i) => timeDays[i]) / potentialUsed,
    potentialUsedDays,
    simplifiedPersonTime:
      sum((i) => (event[i] === 1 ? potentialDays[i] : timeDays[i])) / sum((i) => potentialDays[i]),
    completeShare: sum((i) => (event[i] === 1 || reaches(i) ? 1 : 0)) / n,
  };
}

function checkPotential(timeDays: Column, potentialDays: Column): void {
  for (let i = 0; i < timeDays.length; i += 1) {
    if (timeDays[i] > potentialDays[i] + TIME_TOLERANCE) {
      throw new StatisticsError(
        'outOfRange',
        'potentialDays',
        i,
        `potentialDays[${i}] is ${potentialDays[i]} but timeDays[${i}] is ${timeDays[i]}; nobody is followed beyond the closing date, so end the time there or give a later date.`,
      );
    }
  }
}
