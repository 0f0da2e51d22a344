import { type Column, checkConfidenceLevel, countCodes } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { placesOnGrid } from './equal-times';
import { type EventColumns, type EventTable, tabulateEvents } from './event-table';
import { countsOfGroup } from './exit-counts';
import { checkWeightColumns, type InfluenceRows, influenceRowsByGroup } from './influence-rows';
import { sumSquaredInfluence } from './influence-squares';
import { entriesOfGroup, type ReadableCurve, type SurvivalData } from './kaplan-meier';
import type { KaplanMeierOptions, ProductLimitCurve } from './product-limit';
import { limitsOnScale, type SurvivalLimits } from './survival-limits';
import { addWeights, type CellSums, sumCells } from './weight-cells';
import { sumWeights, type WeightCounts } from './weight-counts';

export type WeightedSurvivalData = SurvivalData & {
  /** Zero or more, known before the curve is looked at; 1 unless given. */
  readonly weights?: Column;
  /** Which rows belong together (one patient, several procedures): whole numbers. Every row is one of its own unless given. */
  readonly cluster?: Column;
};

export type GroupedWeightedSurvivalData = WeightedSurvivalData & { readonly group: Column };

/** A curve to read like any other; atRisk, events and censored count cases, the weight columns their weights. */
export type WeightedKaplanMeierCurve = ReadableCurve & {
  readonly variance: 'robust';
  readonly clusterCount: number;
  readonly weightAtRisk: Float64Array;
  readonly weightEvents: Float64Array;
  readonly weightCensored: Float64Array;
  readonly weightTotal: number;
  /** (sum of weights)^2 / sum of squared weights: how many equally weighted cases would say as much. 0 without weight. */
  readonly effectiveSampleSize: number;
};

/**
 * A Kaplan-Meier curve of weighted cases, of cases in clusters, or both, with its robust standard error.
 *
 * Estimand: S(t) = P(T > t) in the population to which the weights carry the sample, entry and censoring independent of the
 * event within it. Without weights: the plain curve, its variance not fooled by one patient who counts several times.
 * Formula: S(t) = product over u <= t of (N - D)/N with N, D sums of weights; variance sum over clusters of (sum of w dS/dw)^2,
 * dS/dw = -S sum over u of (dN - Y D/N)/(N - D): the infinitesimal jackknife, weights taken as known. The scale of the weights
 * does not matter. With weights 1 and no clusters it is Greenwood's (without delayed entry), with whole weights the curve,
 * but not its variance, is that of the rows repeated.
 * Ties, risk set and delayed entry: as estimateKaplanMeier. Rows of weight 0 are counted but move nothing.
 * Not estimable (by the readers): limits from fewer than two clusters with weight.
 * Shapes: columns of equal length. Units: days. Estimated weights: the variance takes no account of it, which for
 * inverse-probability weights makes it too large rather than too small.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function estimateWeightedKaplanMeier(
  data: WeightedSurvivalData,
  options: KaplanMeierOptions = {},
): WeightedKaplanMeierCurve {
  return curvesOf(data, undefined, 1, options)[0];
}

/**
 * One weighted curve per group code (see estimateWeightedKaplanMeier); equal times are merged over all groups together.
 * @throws StatisticsError as estimateWeightedKaplanMeier, and unknownCode for a group outside 0..groupCount - 1.
 */
export function estimateWeightedKaplanMeierByGroup(
  data: GroupedWeightedSurvivalData,
  options: KaplanMeierOptions & { readonly groupCount?: number } = {},
): WeightedKaplanMeierCurve[] {
  return curvesOf(data, data.group, countCodes('group', data.group, options.groupCount), options);
}

function curvesOf(
  data: WeightedSurvivalData,
  group: Column | undefined,
  groupCount: number,
  options: KaplanMeierOptions,
): WeightedKaplanMeierCurve[] {
  checkConfidenceLevel(options.confidenceLevel ?? 0.95);
  const { columns, table } = tabulateWeighted(data, group, groupCount);
  if (data.cluster || data.entryDays)
    return curvesOfRows(table, influenceRowsByGroup(columns, data, table), options);
  const cells = addWeights(columns, data.weights, table);
  return Array.from({ length: groupCount }, (_, g) =>
    curveOfGroup(table, g, sumCells(cells, table, g), options),
  );
}

/** The counts of all groups, once all columns have been checked. */
export function tabulateWeighted(
  { timeDays, event, entryDays, weights, cluster }: WeightedSurvivalData,
  group: Column | undefined,
  groupCount: number,
): { readonly columns: EventColumns; readonly table: EventTable } {
  const columns = { timeDays, code: event, codeName: 'event', group, entryDays };
  const table = tabulateEvents(columns, groupCount, 2);
  checkWeightColumns(timeDays, { weights, cluster });
  return { columns, table };
}

/** The general way: any clusters, any entries. */
export function curvesOfRows(
  table: EventTable,
  groups: readonly InfluenceRows[],
  options: KaplanMeierOptions,
): WeightedKaplanMeierCurve[] {
  return groups.map((rows, g) => {
    const counts = sumWeights(rows, table.times.length, 1);
    const { logSurvival } = sumSquaredInfluence(rows, counts, 1);
    return curveOfGroup(table, g, { counts, logSurvival, ...totalsOf(rows) }, options);
  });
}

function totalsOf({
  weight,
  cluster,
  clusterCount,
}: InfluenceRows): Omit<CellSums, 'counts' | 'logSurvival'> {
  let weightTotal = 0;
  let squareTotal = 0;
  const seen = new Uint8Array(clusterCount);
  for (let i = 0; i < weight.length; i += 1) {
    weightTotal += weight[i];
    squareTotal += weight[i] * weight[i];
    if (weight[i] > 0) seen[cluster[i]] = 1;
  }
  return { weightTotal, squareTotal, weightedTotal: seen.reduce((sum, one) => sum + one, 0) };
}

function curveOfGroup(
  table: EventTable,
  g: number,
  sums: CellSums,
  { limits = 'log-log', confidenceLevel = 0.95 }: KaplanMeierOptions,
): WeightedKaplanMeierCurve {
  const { timeDays, ...exits } = countsOfGroup(table, g);
  const { counts, logSurvival, weightTotal, squareTotal, weightedTotal: clusterCount } = sums;
  const places = placesOnGrid(table.times, timeDays);
  const at = (column: Float64Array): Float64Array => Float64Array.from(places, (j) => column[j]);
  const { survival, ...range } = fall(counts, places);
  const { intervalFrom, intervalTo } = clusterCount < 2 ? { intervalFrom: 0, intervalTo: 0 } : range;
  const relativeError = at(logSurvival).map(Math.sqrt);
  return {
    ...exits,
    ...entriesOfGroup(table, g),
    ...{ timeDays, eventTotal: exits.events.reduce((sum, count) => sum + count, 0), survival },
    ...limitsOfCurve(survival, relativeError, intervalTo, limits, confidenceLevel),
    ...{ intervalFrom, intervalTo, limits, confidenceLevel, variance: 'robust', clusterCount },
    ...{
      weightAtRisk: at(counts.atRisk),
      weightEvents: at(counts.events),
      weightCensored: at(counts.censored),
    },
    weightTotal,
    effectiveSampleSize: squareTotal > 0 ? (weightTotal * weightTotal) / squareTotal : 0,
  };
}

function fall(
  { atRisk, events, allFail }: WeightCounts,
  places: Int32Array,
): { survival: Float64Array; intervalFrom: number; intervalTo: number } {
  const length = places.length;
  const survival = new Float64Array(length);
  let s = 1;
  let intervalFrom = length;
  let intervalTo = length;
  for (const [i, j] of places.entries()) {
    if (events[j] > 0) {
      intervalFrom = Math.min(intervalFrom, i);
      if (allFail[j]) intervalTo = Math.min(intervalTo, i);
      s *= allFail[j] ? 0 : (atRisk[j] - events[j]) / atRisk[j];
    }
    survival[i] = s;
  }
  return { survival, intervalFrom, intervalTo };
}

function limitsOfCurve(
  survival: Float64Array,
  relativeError: Float64Array,
  intervalTo: number,
  limits: SurvivalLimits,
  confidenceLevel: number,
): Pick<ProductLimitCurve, 'standardError' | 'lower' | 'upper'> {
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const writeLimits = limitsOnScale(limits);
  const standardError = new Float64Array(intervalTo);
  const lower = new Float64Array(intervalTo).fill(1);
  const upper = new Float64Array(intervalTo).fill(1);
  for (let i = 0; i < intervalTo; i += 1) {
    standardError[i] = survival[i] * relativeError[i];
    if (survival[i] < 1) writeLimits(survival[i], relativeError[i], z, lower, upper, i);
  }
  return { standardError, lower, upper };
}
