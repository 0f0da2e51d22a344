import { STATUS } from '../../registry/time-to-event';
import { incidenceAt, type QuantileLimit, survivalAt, survivalQuantile } from '../../statistics/index';
import type { FreedomCurve } from './freedom-curve';
import { formatDays, formatPercent, formatPercentInterval } from './numbers-in-words';

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
}

const absent = (note: string): EstimateWords => ({ value: 'not given', interval: undefined, note });

/** Freedom on a day, with 95 % limits. `entryDay` is the day on which the risk set opens. */
export function freedomInWords(series: FreedomCurve, day: number, entryDay: number): EstimateWords {
  if (entryDay >= day) return absent(`Blanking runs to day ${entryDay}, so day ${day} says nothing yet.`);
  const [point] = survivalAt(series.curve, [day]);
  if (point.kind === 'notEstimable') return absent('No case was analysed.');
  if (point.beyondFollowUp && point.survival > 0) return absent(`Nobody was followed to day ${day}.`);
  const few =
    point.atRisk < FEWEST_AT_RISK && !point.beyondFollowUp
      ? `Only ${point.atRisk} at risk on day ${day}.`
      : undefined;
  if (point.interval.kind === 'notEstimable') {
    return {
      value: formatPercent(point.survival),
      interval: undefined,
      note: [point.interval.reason, few].filter(Boolean).join(' '),
    };
  }
  const { lower, upper } = point.interval;
  return { value: formatPercent(point.survival), interval: formatPercentInterval(lower, upper), note: few };
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
  };
}

/** The day by which half have had the event, with 95 % limits, or that it is not reached. */
export function medianInWords(series: FreedomCurve): EstimateWords {
  const median = survivalQuantile(series.curve, 0.5);
  if (median.kind === 'notEstimable') return absent('No case was analysed.');
  const { lower, upper } = median;
  const interval =
    lower.kind === 'notReached' && upper.kind === 'notReached'
      ? undefined
      : lower.kind === 'reached' && upper.kind === 'reached'
        ? `${formatDays(lower.timeDays).replace(/ days?$/, '')} to ${formatDays(upper.timeDays)}`
        : `${limitInWords(lower)} to ${limitInWords(upper)}`;
  return median.kind === 'reached'
    ? { value: formatDays(median.timeDays), interval, note: undefined }
    : { value: 'not reached', interval, note: undefined };
}

const limitInWords = (limit: QuantileLimit): string =>
  limit.kind === 'reached' ? formatDays(limit.timeDays) : 'not reached';
