import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths, checkTimes } from '../check-input';

export type FollowUpSummary = {
  readonly n: number;
  /** Days under observation, of all cases together. */
  readonly personDays: number;
  /** The middle time of all cases: short because events end follow-up. */
  readonly medianDays: number | NotEstimable;
  /** The middle time of those without an event: tells nothing of how long the others could have been followed. */
  readonly medianDaysOfCensored: number | NotEstimable;
};

/**
 * Plain figures on how long cases were observed. For the median follow-up use estimateReverseKaplanMeier: the two
 * medians here are what reports often print instead.
 *
 * Formula: sums and sample medians (the mean of the middle two of an even number).
 * Not estimable: medians of nobody. Shapes: columns of equal length. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode.
 */
export function summariseFollowUp(data: {
  readonly timeDays: Column;
  readonly event: Column;
}): FollowUpSummary {
  const { timeDays, event } = data;
  checkEqualLengths({ timeDays, event });
  checkTimes('timeDays', timeDays);
  checkCodes('event', event, 2);
  const all = Float64Array.from(timeDays);
  return {
    n: all.length,
    personDays: all.reduce((sum, time) => sum + time, 0),
    medianDays: median(all) ?? notEstimable('noRows'),
    medianDaysOfCensored:
      median(all.filter((_, i) => event[i] === 0)) ??
      notEstimable(all.length === 0 ? 'noRows' : 'noCensoring'),
  };
}

function median(values: Float64Array): number | undefined {
  if (values.length === 0) return undefined;
  const sorted = values.toSorted();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
