import { type Column, countCodes } from '../check-input';
import { type EventTable, tabulateEvents } from './event-table';
import { countsOfGroup } from './exit-counts';
import { type KaplanMeierOptions, type ProductLimitCurve, productLimit } from './product-limit';

/** One row per case: follow-up time in days, 1 for an event or 0 for censored, and (optionally) a delayed entry. */
export type SurvivalData = {
  readonly timeDays: Column;
  readonly event: Column;
  readonly entryDays?: Column;
};

export type GroupedSurvivalData = SurvivalData & { readonly group: Column };

/** A curve as far as reading values off it goes, whatever its standard errors come from. */
export type ReadableCurve = ProductLimitCurve & {
  /** Distinct entry times, ascending, with how many entered at each; empty without delayed entry. */
  readonly entryDays: Float64Array;
  readonly entered: Int32Array;
  /** How many clusters with weight a robust variance rests on; fewer than two carry none, and then there are no limits. */
  readonly clusterCount?: number;
};

/** With Greenwood's standard errors, which further calculations on counts agree with. */
export type KaplanMeierCurve = ReadableCurve & { readonly variance: 'greenwood' };

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
  return {
    ...productLimit(countsOfGroup(table, g), options),
    ...entriesOfGroup(table, g),
    variance: 'greenwood',
  };
}

export function entriesOfGroup(table: EventTable, g: number): Pick<ReadableCurve, 'entryDays' | 'entered'> {
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
