import { type Column, checkConfidenceLevel, countCodes } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import { placesOnGrid } from './equal-times';
import { type EventColumns, type EventTable, tabulateEvents } from './event-table';
import { type IncidenceLimits, incidenceLimitsOnScale } from './incidence-limits';
import { checkWeightColumns, type InfluenceRows, influenceRowsByGroup } from './influence-rows';
import { sumSquaredInfluence } from './influence-squares';
import { sumWeights } from './weight-counts';

/** One row per case: follow-up time in days, 0 for censored or the cause 1.. of its first event, optional entry. */
export type CompetingData = {
  readonly timeDays: Column;
  readonly status: Column;
  readonly entryDays?: Column;
  /** Which rows belong together (one patient, several procedures): whole numbers. Changes the standard errors alone. */
  readonly cluster?: Column;
};

export type GroupedCompetingData = CompetingData & { readonly group: Column };

export type IncidenceOptions = {
  /** Causes are 1..causeCount; by default the largest code found. */
  readonly causeCount?: number;
  /** Scale of the limits; log-log (of 1 - F) unless stated. */
  readonly limits?: IncidenceLimits;
  /** Two-sided, 0.95 unless stated. */
  readonly confidenceLevel?: number;
};

/**
 * The curve of one cause, one value per time of the estimate. lower and upper end at `intervalTo`, from where F = 1 and
 * has no interval; before `intervalFrom` (the first event of this cause) they hold 0, to be drawn but not quoted.
 */
export type CauseIncidence = {
  readonly cause: number;
  readonly eventTotal: number;
  readonly events: Int32Array;
  readonly incidence: Float64Array;
  readonly standardError: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly intervalFrom: number;
  readonly intervalTo: number;
};

export type CumulativeIncidence = {
  readonly n: number;
  /** Distinct times at which somebody left, ascending. */
  readonly timeDays: Float64Array;
  readonly atRisk: Int32Array;
  readonly censored: Int32Array;
  /** Free of every cause: the Kaplan-Meier curve of any event. */
  readonly eventFree: Float64Array;
  /** causes[cause - 1]. */
  readonly causes: readonly CauseIncidence[];
  readonly limits: IncidenceLimits;
  readonly confidenceLevel: number;
};

/**
 * The probability of having had each cause first, by each time (Aalen-Johansen).
 *
 * Estimand: F_j(t) = P(T <= t, cause j) in a world where the other causes act too; sum of F_j plus event-free is 1.
 * Formula: F_j(t) = sum over u <= t of S(u-) d_j/n, S the Kaplan-Meier curve of any cause (Aalen & Johansen, Scand J
 * Stat 1978;5:141). Variance by the delta method (Marubini & Valsecchi 1995): sum (F(t) - F(u))^2
 * d/(n(n - d)) + sum S(u-)^2 d_j (n - d_j)/n^3 - 2 sum (F(t) - F(u)) S(u-) d_j/n^2.
 * With clusters: the sum over clusters of the squared sums of what each row moves F by (infinitesimal jackknife), which
 * without delayed entry and with every row its own cluster is the same.
 * Ties, risk set and delayed entry: as estimateKaplanMeier; several causes may share a time.
 * Shapes: columns of equal length; empty columns give an estimate without times (n = 0). Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function estimateCumulativeIncidence(
  data: CompetingData,
  options: IncidenceOptions = {},
): CumulativeIncidence {
  return incidencesOf(data, undefined, 1, options)[0];
}

/**
 * One estimate per group code (see estimateCumulativeIncidence); causes and equal times are shared over the groups.
 * @throws StatisticsError as estimateCumulativeIncidence, and unknownCode for a group outside 0..groupCount - 1.
 */
export function estimateCumulativeIncidenceByGroup(
  data: GroupedCompetingData,
  options: IncidenceOptions & { readonly groupCount?: number } = {},
): CumulativeIncidence[] {
  const groupCount = countCodes('group', data.group, options.groupCount);
  return incidencesOf(data, data.group, groupCount, options);
}

function incidencesOf(
  data: CompetingData,
  group: Column | undefined,
  groupCount: number,
  options: IncidenceOptions,
): CumulativeIncidence[] {
  const { timeDays, status, entryDays, cluster } = data;
  const columns = { timeDays, code: status, codeName: 'status', group, entryDays };
  const table = tabulateCompeting(columns, groupCount, options);
  checkWeightColumns(timeDays, { cluster });
  const rows = cluster ? influenceRowsByGroup(columns, { cluster }, table) : [];
  return Array.from({ length: groupCount }, (_, g) => incidenceOfGroup(table, g, rows[g], options));
}

function tabulateCompeting(
  columns: EventColumns,
  groupCount: number,
  { causeCount }: IncidenceOptions,
): EventTable {
  if (causeCount !== undefined && causeCount < 1) {
    const message = `causeCount is ${causeCount}; give the number of causes, 1 or more.`;
    throw new StatisticsError('outOfRange', 'causeCount', undefined, message);
  }
  // Without any event in the data there is still one cause to report on.
  const given = causeCount === undefined ? undefined : causeCount + 1;
  const codeCount = Math.max(2, countCodes('status', columns.code, given));
  return tabulateEvents(columns, groupCount, codeCount);
}

function incidenceOfGroup(
  table: EventTable,
  g: number,
  rows: InfluenceRows | undefined,
  options: IncidenceOptions,
): CumulativeIncidence {
  const { limits = 'log-log', confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  const steps = stepsOfGroup(table, g);
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const causes = steps.eventsByCause.map((_, index) => {
    const plain = incidenceOfCause(steps, index);
    const curve = rows
      ? { ...plain, standardError: clusteredErrors(rows, table.times, steps.timeDays, index + 1) }
      : plain;
    return { ...curve, ...limitsOfCause(curve, limits, z) };
  });
  const { n, timeDays, atRisk, censored, eventFree } = steps;
  return { n, timeDays, atRisk, censored, eventFree, causes, limits, confidenceLevel };
}

type Steps = {
  n: number;
  timeDays: Float64Array;
  atRisk: Int32Array;
  censored: Int32Array;
  events: Int32Array;
  eventFree: Float64Array;
  eventsByCause: Int32Array[];
};

function stepsOfGroup(table: EventTable, g: number): Steps {
  const { times, groupCount, codeCount, exits, entries } = table;
  const leaving = new Int32Array(times.length);
  let n = 0;
  let length = 0;
  for (let j = 0; j < times.length; j += 1) {
    const cell = (j * groupCount + g) * codeCount;
    for (let code = 0; code < codeCount; code += 1) leaving[j] += exits[cell + code];
    if (leaving[j] > 0) length += 1;
    n += leaving[j];
  }
  const steps: Steps = {
    n,
    timeDays: new Float64Array(length),
    atRisk: new Int32Array(length),
    censored: new Int32Array(length),
    events: new Int32Array(length),
    eventFree: new Float64Array(length),
    eventsByCause: Array.from({ length: codeCount - 1 }, () => new Int32Array(length)),
  };
  let present = entries ? 0 : n;
  let free = 1;
  for (let j = 0, i = 0; j < times.length; j += 1) {
    if (leaving[j] > 0) {
      const cell = (j * groupCount + g) * codeCount;
      const events = leaving[j] - exits[cell];
      free *= (present - events) / present;
      steps.timeDays[i] = times[j];
      steps.atRisk[i] = present;
      steps.censored[i] = exits[cell];
      steps.events[i] = events;
      steps.eventFree[i] = free;
      for (let cause = 1; cause < codeCount; cause += 1)
        steps.eventsByCause[cause - 1][i] = exits[cell + cause];
      present -= leaving[j];
      i += 1;
    }
    if (entries) present += entries[j * groupCount + g];
  }
  return steps;
}

type CauseCurve = Omit<CauseIncidence, 'lower' | 'upper'>;

function incidenceOfCause(steps: Steps, index: number): CauseCurve {
  const { atRisk, events, eventFree } = steps;
  const own = steps.eventsByCause[index];
  const length = own.length;
  const incidence = new Float64Array(length);
  const standardError = new Float64Array(length);
  let f = 0;
  let eventTotal = 0;
  let others = 0;
  let intervalFrom = length;
  let intervalTo = length;
  // The three sums of the variance, moved along with F so that nothing large is ever subtracted:
  // square = sum (F - F_u)^2 a, first = sum (F - F_u) a, weight = sum a with a = d/(n(n - d)); cross = sum (F - F_u) c.
  let weight = 0;
  let first = 0;
  let square = 0;
  let ownPart = 0;
  let crossWeight = 0;
  let cross = 0;
  for (let i = 0; i < length; i += 1) {
    const n = atRisk[i];
    const d = events[i];
    const before = i === 0 ? 1 : eventFree[i - 1];
    if (own[i] > 0 && before > 0) {
      if (eventTotal === 0) intervalFrom = i;
      const rise = before * (own[i] / n);
      square += rise * (2 * first + rise * weight);
      first += rise * weight;
      cross += rise * crossWeight;
      ownPart += (before * before * (own[i] / n) * ((n - own[i]) / n)) / n;
      crossWeight += (before * (own[i] / n)) / n;
      f += rise;
    }
    eventTotal += own[i];
    if (before > 0) others += d - own[i];
    if (d > 0 && d < n) weight += d / (n * (n - d));
    if (eventFree[i] === 0 && others === 0 && d > 0) f = 1;
    if (f >= 1 && intervalTo === length) intervalTo = i;
    incidence[i] = f;
    standardError[i] = Math.sqrt(Math.max(0, square + ownPart - 2 * cross));
  }
  return { cause: index + 1, eventTotal, events: own, incidence, standardError, intervalFrom, intervalTo };
}

function limitsOfCause(
  curve: CauseCurve,
  limits: IncidenceLimits,
  z: number,
): { lower: Float64Array; upper: Float64Array } {
  const writeLimits = incidenceLimitsOnScale(limits);
  const lower = new Float64Array(curve.intervalTo);
  const upper = new Float64Array(curve.intervalTo);
  for (let i = curve.intervalFrom; i < curve.intervalTo; i += 1) {
    writeLimits(curve.incidence[i], curve.standardError[i], z, lower, upper, i);
  }
  return { lower, upper };
}

function clusteredErrors(
  rows: InfluenceRows,
  grid: Float64Array,
  timeDays: Float64Array,
  cause: number,
): Float64Array {
  const { incidence } = sumSquaredInfluence(rows, sumWeights(rows, grid.length, cause), cause);
  return Float64Array.from(placesOnGrid(grid, timeDays), (j) => Math.sqrt(incidence[j]));
}
