import { type Column, checkCodes, checkEqualLengths } from '../check-input';
import { checkWeights } from '../check-weights';
import { gridPlaces } from './equal-times';
import type { EventColumns, EventTable } from './event-table';

/** The rows of one group with their places on the grid of times, for variances that are sums over cases or clusters. */
export type InfluenceRows = {
  /** Places on the grid; entry is -1 without delayed entry. */
  readonly exit: Int32Array;
  readonly entry: Int32Array;
  readonly code: Int32Array;
  readonly weight: Float64Array;
  /** From 0 without gaps, over all groups together. */
  readonly cluster: Int32Array;
  readonly clusterCount: number;
};

export type WeightColumns = {
  readonly weights?: Column | undefined;
  readonly cluster?: Column | undefined;
};

const ANY_CODE = 2 ** 31;

/** @throws StatisticsError unequalLengths, notFinite, negative (weights), unknownCode (cluster). */
export function checkWeightColumns(rows: Column, { weights, cluster }: WeightColumns): void {
  checkEqualLengths({ timeDays: rows, weights, cluster });
  if (weights) checkWeights(weights);
  if (cluster) checkCodes('cluster', cluster, ANY_CODE);
}

/** Rows of each group, once `table` has been made of the same columns and has found no fault with them. */
export function influenceRowsByGroup(
  columns: EventColumns,
  { weights, cluster }: WeightColumns,
  table: EventTable,
): InfluenceRows[] {
  const { timeDays, code, group, entryDays } = columns;
  const sizes = new Int32Array(table.groupCount);
  for (let i = 0; i < timeDays.length; i += 1) sizes[group ? group[i] : 0] += 1;
  const clusterOf = numberClusters(timeDays.length, cluster);
  const placeOf = gridPlaces(table.times) ?? ((time: number): number => time);
  const groups = Array.from(sizes, (size) => emptyRows(size, clusterOf.count));
  const next = new Int32Array(table.groupCount);
  for (let i = 0; i < timeDays.length; i += 1) {
    const g = group ? group[i] : 0;
    const own = groups[g];
    const k = next[g];
    next[g] += 1;
    own.exit[k] = placeOf(timeDays[i]);
    own.entry[k] = entryDays ? placeOf(entryDays[i]) : -1;
    own.code[k] = code[i];
    own.weight[k] = weights ? weights[i] : 1;
    own.cluster[k] = clusterOf.codes[i];
  }
  return groups;
}

function emptyRows(size: number, clusterCount: number): InfluenceRows {
  return {
    exit: new Int32Array(size),
    entry: new Int32Array(size),
    code: new Int32Array(size),
    weight: new Float64Array(size),
    cluster: new Int32Array(size),
    clusterCount,
  };
}

/** Without clusters every row is one of its own. */
function numberClusters(rows: number, cluster: Column | undefined): { codes: Int32Array; count: number } {
  if (!cluster) return { codes: Int32Array.from({ length: rows }, (_, i) => i), count: rows };
  const known = new Map<number, number>();
  const codes = new Int32Array(rows);
  for (let i = 0; i < rows; i += 1) {
    const code = known.get(cluster[i]) ?? known.size;
    known.set(cluster[i], code);
    codes[i] = code;
  }
  return { codes, count: known.size };
}

/** The rows in order of their places, and where each place begins; rows at place -1 are left out. */
export function sortByPlace(places: Int32Array, placeCount: number): { rows: Int32Array; from: Int32Array } {
  const from = new Int32Array(placeCount + 1);
  for (const place of places) if (place >= 0) from[place + 1] += 1;
  for (let j = 0; j < placeCount; j += 1) from[j + 1] += from[j];
  const next = from.slice();
  const rows = new Int32Array(from[placeCount]);
  for (let i = 0; i < places.length; i += 1) {
    if (places[i] < 0) continue;
    rows[next[places[i]]] = i;
    next[places[i]] += 1;
  }
  return { rows, from };
}
