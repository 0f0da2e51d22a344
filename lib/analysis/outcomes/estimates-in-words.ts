import { STATUS } from '../../registry/time-to-event';
import {
  estimateWilsonInterval,
  incidenceAt,
  type QuantileLimit,
  survivalAt,
  survivalQuantile,
} from '../../statistics/index';
import type { FreedomCurve } from './freedom-curve';
import { formatDays, formatPercent, formatPercentInterval, THIN_SPACE } from './numbers-in-words';

/** Fewer at risk than this and nothing is drawn, and a number is said to rest on few. */
export const FEWEST_AT_RISK = 10;

/** An estimate as printed: its value or why there is none, its interval or why there is none. */
export interface EstimateWords {
  /** '57.6 %', '412 days', 'not reached', 'not given'. */
  readonly value: string;
  /** Lower to upper. */
  readonly interval: string | undefined;
  /** What must be known to read it: why there is no value or interval, or that few were at risk. */
  readonly note: string | undefined;
  /** The note in a few words, for a sentence. */
  readonly brief: string | undefined;
}

const absent = (brief: string, note: string): EstimateWords => ({
  value: 'not given',
  interval: undefined,
  note,
  brief,
});

const NO_CASE = absent('no case', 'No case was analysed.');

/** Freedom on a day, with 95 % limits. `entryDay` is the day on which the risk set opens. */
export function freedomInWords(series: FreedomCurve, day: number, entryDay: number): EstimateWords {
  if (entryDay >= day) {
    return absent('blanking', `Blanking runs to day ${entryDay}, so day ${day} says nothing yet.`);
  }
  const [point] = survivalAt(series.curve, [day]);
  if (point.kind === 'notEstimable') return NO_CASE;
  if (point.beyondFollowUp && point.survival > 0) {
    return absent('nobody followed so far', `Nobody was followed to day ${day}.`);
  }
  const value = formatPercent(point.survival);
  const few = point.atRisk < FEWEST_AT_RISK && !point.beyondFollowUp;
  if (point.interval.kind === 'estimated') {
    return {
      value,
      interval: formatPercentInterval(point.interval.lower, point.interval.upper),
      note: few ? `Only ${point.atRisk} at risk on day ${day}.` : undefined,
      brief: few ? `only ${point.atRisk} at risk` : undefined,
    };
  }
  if (point.interval.code !== 'noEventYet') {
    return { value, interval: undefined, note: point.interval.reason, brief: 'all have had it' };
  }
  return { value, interval: undefined, note: noneYetInWords(point.atRisk, day), brief: 'none yet' };
}

/** No event is not no risk: what share of events the followed could hide. */
function noneYetInWords(atRisk: number, day: number): string {
  const bound = estimateWilsonInterval(0, atRisk);
  return bound.kind === 'notEstimable'
    ? `None has had it by day ${day}.`
    : `None has had it by day ${day}. That is no proof of no risk: ${atRisk} followed so far without one are compatible with up to ${formatPercent(bound.upper)} having had it (95${THIN_SPACE}% Wilson limit).`;
}

/** The incidence of death before the event on a day; undefined unless death competes and somebody was followed so far. */
export function deathBeforeEventInWords(series: FreedomCurve, day: number): EstimateWords | undefined {
  if (!series.incidence) return undefined;
  const [point] = incidenceAt(series.incidence, STATUS.competingDeath, [day]);
  if (point.kind === 'notEstimable' || point.beyondFollowUp) return undefined;
  return {
    value: formatPercent(point.incidence),
    interval:
      point.interval.kind === 'estimated'
        ? formatPercentInterval(point.interval.lower, point.interval.upper)
        : undefined,
    note: point.interval.kind === 'estimated' ? undefined : point.interval.reason,
    brief: undefined,
  };
}

/** The day by which half have had the event, with 95 % limits, or that it is not reached. */
export function medianInWords(series: FreedomCurve): EstimateWords {
  const median = survivalQuantile(series.curve, 0.5);
  if (median.kind === 'notEstimable') return NO_CASE;
  const { lower, upper } = median;
  const interval =
    lower.kind === 'notReached' && upper.kind === 'notReached'
      ? undefined
      : lower.kind === 'reached' && upper.kind === 'reached'
        ? `${formatDays(lower.timeDays).replace(/ days?$/, '')} to ${formatDays(upper.timeDays)}`
        : `${limitInWords(lower)} to ${limitInWords(upper)}`;
  const value = median.kind === 'reached' ? formatDays(median.timeDays) : 'not reached';
  return { value, interval, note: undefined, brief: undefined };
}

const limitInWords = (limit: QuantileLimit): string =>
  limit.kind === 'reached' ? formatDays(limit.timeDays) : 'not reached';
