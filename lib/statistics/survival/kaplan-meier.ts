import { type Column, checkConfidenceLevel, countCodes } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { type EventTable, tabulateEvents } from './event-table';
import { type SurvivalLimits, survivalLimitsAt } from './survival-limits';

/** One row per case: follow-up time in days, 1 for an event or 0 for censored, and (optionally) a delayed entry. */
export type SurvivalData = {
  readonly timeDays: Column;
  readonly event: Column;
  readonly entryDays?: Column;
};

export type GroupedSurvivalData = SurvivalData & { readonly group: Column };

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
export type KaplanMeierCurve = {
  readonly n: number;
  readonly eventTotal: number;
  readonly timeDays: Float64Array;
  /** At risk just before each time: entered earlier, not yet gone. */
  readonly atRisk: Int32Array;
  readonly events: Int32Array;
  readonly censored: Int32Array;
  readonly survival: Float64Array;
  readonly standardError: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly intervalFrom: number;
  readonly intervalTo: number;
  readonly limits: SurvivalLimits;
  readonly confidenceLevel: number;
  /** Distinct entry times, ascending, with how many entered at each; empty without delayed entry. */
  readonly entryDays: Float64Array;
  readonly entered: Int32Array;
};

/**
 * The probability of being free of the event beyond each time, by the product limit.
 *
 * Estimand: S(t) = P(T > t), under censoring (and entry) independent of the event.
 * Formula: S(t) = product over event times u <= t of (n - d)/n (Kaplan & Meier, JASA 1958;53:457); standard
 * error S sqrt(sum d/(n(n - d))) (Greenwood 1926); limits on the chosen scale (Kalbfleisch & Prentice 1980;
 * Borgan & Liestol, Scand J Stat 1990;17:35 for arcsin).
 * Ties: times equal within 2^-26 (outright or against the mean distinct time) are one; at one time events precede
 * censorings. Risk set at t: entry < t <= time; without entries everyone counts from the start, so time 0 may hold
 * events. Once S is 0 it stays 0.
 * Shapes: columns of equal length; empty columns give a curve without times (n = 0). Units: days, whole or not.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function estimateKaplanMeier(data: SurvivalData, options: KaplanMeierOptions = {}): KaplanMeierCurve {
  return curveOfGroup(tabulateSurvival(data, undefined, 1), 0, options);
}

/**
 * One Kaplan-Meier curve per group code (see estimateKaplanMeier); equal times are merged over all groups together.
 * A code without cases gives a curve with n = 0. `groupCount` defaults to the largest code plus one.
 * @throws StatisticsError as estimateKaplanMeier, and unknownCode for a group outside 0..groupCount - 1.
 */
export function estimateKaplanMeierByGroup(
  data: GroupedSurvivalData,
  options: KaplanMeierOptions & { readonly groupCount?: number } = {},
): KaplanMeierCurve[] {
  const groupCount = countCodes('group', data.group, options.groupCount);
  const table = tabulateSurvival(data, data.group, groupCount);
  return Array.from({ length: groupCount }, (_, g) => curveOfGroup(table, g, options));
}

function tabulateSurvival(data: SurvivalData, group: Column | undefined, groupCount: number): EventTable {
  const { timeDays, event, entryDays } = data;
  return tabulateEvents({ timeDays, code: event, codeName: 'event', group, entryDays }, groupCount, 2);
}

function curveOfGroup(table: EventTable, g: number, options: KaplanMeierOptions): KaplanMeierCurve {
  const { limits = 'log-log', confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  const { times, groupCount, exits, entries } = table;
  const stride = 2 * groupCount;
  let n = 0;
  let length = 0;
  for (let j = 0, cell = 2 * g; j < times.length; j += 1, cell += stride) {
    const leaving = exits[cell] + exits[cell + 1];
    if (leaving > 0) length += 1;
    n += leaving;
  }
  const entry = entriesOfGroup(table, g);
  const timeDays = new Float64Array(length);
  const atRisk = new Int32Array(length);
  const events = new Int32Array(length);
  const censored = new Int32Array(length);
  const survival = new Float64Array(length);
  const relativeError = new Float64Array(length);
  let present = entries ? 0 : n;
  let s = 1;
  let greenwood = 0;
  let eventTotal = 0;
  let intervalFrom = -1;
  let intervalTo = length;
  for (let j = 0, cell = 2 * g, i = 0; j < times.length; j += 1, cell += stride) {
    const lost = exits[cell];
    const d = exits[cell + 1];
    if (lost + d > 0) {
      timeDays[i] = times[j];
      atRisk[i] = present;
      events[i] = d;
      censored[i] = lost;
      if (d > 0) {
        if (intervalFrom < 0) intervalFrom = i;
        eventTotal += d;
        s *= (present - d) / present;
        if (d < present) greenwood += d / (present * (present - d));
        else if (intervalTo === length) intervalTo = i;
      }
      survival[i] = s;
      relativeError[i] = Math.sqrt(greenwood);
      present -= lost + d;
      i += 1;
    }
    if (entries) present += entries[j * groupCount + g];
  }
  if (intervalFrom < 0) intervalFrom = length;
  const interval = limitsOfCurve(survival, relativeError, intervalTo, limits, confidenceLevel);
  return {
    ...{ n, eventTotal, timeDays, atRisk, events, censored, survival },
    ...interval,
    ...{ intervalFrom, intervalTo, limits, confidenceLevel },
    ...entry,
  };
}

function limitsOfCurve(
  survival: Float64Array,
  relativeError: Float64Array,
  intervalTo: number,
  limits: SurvivalLimits,
  confidenceLevel: number,
): Pick<KaplanMeierCurve, 'standardError' | 'lower' | 'upper'> {
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const limitsAt = survivalLimitsAt(limits);
  const standardError = new Float64Array(intervalTo);
  const lower = new Float64Array(intervalTo);
  const upper = new Float64Array(intervalTo);
  for (let i = 0; i < intervalTo; i += 1) {
    const s = survival[i];
    standardError[i] = s * relativeError[i];
    const unchanged = i > 0 && s === survival[i - 1];
    const [low, high] =
      s === 1 ? [1, 1] : unchanged ? [lower[i - 1], upper[i - 1]] : limitsAt(s, relativeError[i], z);
    lower[i] = low;
    upper[i] = high;
  }
  return { standardError, lower, upper };
}

function entriesOfGroup(table: EventTable, g: number): Pick<KaplanMeierCurve, 'entryDays' | 'entered'> {
  const { times, groupCount, entries } = table;
  const days: number[] = [];
  const counts: number[] = [];
  if (entries) {
    for (let j = 0; j < times.length; j += 1) {
      const count = entries[j * groupCount + g];
      if (count > 0) {
        days.push(times[j]);
        counts.push(count);
      }
    }
  }
  return { entryDays: Float64Array.from(days), entered: Int32Array.from(counts) };
}
