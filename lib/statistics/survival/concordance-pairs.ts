import type { RiskSets } from '../regression/cox-risk-sets';

export type PairTotals = {
  readonly concordant: number;
  readonly discordant: number;
  /** Comparable pairs with equal markers. */
  readonly tiedMarker: number;
  /** Pairs of events at one time, with different markers: not comparable. */
  readonly tiedTime: number;
  /** Pairs of events at one time with equal markers. */
  readonly tiedBoth: number;
};

export type PairCounts = PairTotals & {
  /** For each sorted row, the weight of the others with which it makes such a pair. */
  readonly concordantOf: Float64Array;
  readonly discordantOf: Float64Array;
  readonly tiedOf: Float64Array;
};

/** Per sorted row of the risk sets. */
type Rows = {
  /** The first and last cell of others at which the row is at risk: none when the last is before the first. */
  readonly first: Int32Array;
  readonly last: Int32Array;
  /** The cell of its event; -1 without one. */
  readonly eventCell: Int32Array;
  readonly marker: Float64Array;
  readonly weight: Float64Array;
};

/**
 * Counts pairs in n log n. An event is compared with everybody else at risk at its cell but the other events there, so
 * each row looks for the events during its stay, and each event for the rows whose stay covers it. Rows are met in
 * order of their marker, from below and from above, and kept in a tree by cell.
 */
export function countPairs(sets: RiskSets, marker: Float64Array, weight: Float64Array): PairCounts {
  const rows = { ...staysOf(sets), marker, weight };
  const ascending = Int32Array.from(marker.keys()).sort((a, b) => marker[a] - marker[b] || a - b);
  const groups = groupsOfMarker(ascending, marker);
  const below = emptyPairs(marker.length);
  const above = emptyPairs(marker.length);
  const equal = emptyPairs(marker.length);
  meetOthers(rows, groups, sets.cellCount, below);
  meetOthers(rows, groups.toReversed(), sets.cellCount, above);
  const trees = new CellTrees(sets.cellCount);
  for (const group of groups) meetEachOther(rows, trees, group, equal);
  return {
    concordant: total(below.asEvent, weight),
    discordant: total(above.asEvent, weight),
    tiedMarker: total(equal.asEvent, weight),
    ...tiedEvents(sets, marker, weight),
    // Of an event the lower marker should live longer, of a row at risk the higher one should have the event.
    concordantOf: below.asEvent.map((sum, i) => sum + above.atRisk[i]),
    discordantOf: above.asEvent.map((sum, i) => sum + below.atRisk[i]),
    tiedOf: equal.asEvent.map((sum, i) => sum + equal.atRisk[i]),
  };
}

function staysOf({ rows, cellCount, firstCell, strataStart }: RiskSets): Omit<Rows, 'marker' | 'weight'> {
  const { count, cellStart, eventStart } = rows;
  const first = new Int32Array(count);
  const last = new Int32Array(count);
  const eventCell = new Int32Array(count).fill(-1);
  let stratum = 0;
  for (let k = 0; k < cellCount; k += 1) {
    while (k >= strataStart[stratum + 1]) stratum += 1;
    for (let i = cellStart[k]; i < cellStart[k + 1]; i += 1) {
      const isEvent = i >= eventStart[k];
      first[i] = firstCell ? firstCell[i] : strataStart[stratum];
      last[i] = isEvent ? k - 1 : k;
      if (isEvent) eventCell[i] = k;
    }
  }
  return { first, last, eventCell };
}

/** Rows of equal markers, in the order given. */
function groupsOfMarker(order: Int32Array, marker: Float64Array): Int32Array[] {
  const groups: Int32Array[] = [];
  let from = 0;
  for (let to = 1; to <= order.length; to += 1) {
    if (to < order.length && marker[order[to]] === marker[order[from]]) continue;
    groups.push(order.subarray(from, to));
    from = to;
  }
  return groups;
}

/** Per row the weight of those it meets: at its own event, and as one at risk at theirs. */
type Met = { readonly asEvent: Float64Array; readonly atRisk: Float64Array };

const emptyPairs = (count: number): Met => ({
  asEvent: new Float64Array(count),
  atRisk: new Float64Array(count),
});

/** Each group meets all groups before it. */
function meetOthers(rows: Rows, groups: readonly Int32Array[], cellCount: number, met: Met): void {
  const trees = new CellTrees(cellCount);
  for (const group of groups) {
    for (const i of group) trees.meet(rows, i, met);
    for (const i of group) trees.add(rows, i);
  }
}

/** The rows of a group meet one another; a row does not meet itself, for its stay ends before its event. */
function meetEachOther(rows: Rows, trees: CellTrees, group: Int32Array, met: Met): void {
  if (group.length === 1) return;
  for (const i of group) trees.add(rows, i);
  for (const i of group) trees.meet(rows, i, met);
  for (const i of group) trees.clear(rows, i);
}

/** Pairs of events at one time, each event against those of its time before it. */
function tiedEvents(
  { rows, cellCount }: RiskSets,
  marker: Float64Array,
  weight: Float64Array,
): Pick<PairTotals, 'tiedTime' | 'tiedBoth'> {
  let tiedTime = 0;
  let tiedBoth = 0;
  for (let k = 0; k < cellCount; k += 1) {
    const ofMarker = new Map<number, number>();
    let all = 0;
    for (let i = rows.eventStart[k]; i < rows.cellStart[k + 1]; i += 1) {
      const alike = ofMarker.get(marker[i]) ?? 0;
      tiedTime += weight[i] * (all - alike);
      tiedBoth += weight[i] * alike;
      all += weight[i];
      ofMarker.set(marker[i], alike + weight[i]);
    }
  }
  return { tiedTime, tiedBoth };
}

function total(pairs: Float64Array, weight: Float64Array): number {
  return pairs.reduce((sum, met, i) => sum + weight[i] * met, 0);
}

/**
 * The weights of the rows met so far by cell, of their stays and of their events, each in a tree over the cells: a stay
 * is added to the few nodes that make it up and found from any of its cells upwards, events the other way round. Nothing
 * is subtracted: a sum over nobody is exactly 0.
 */
class CellTrees {
  private readonly leaves: number;
  private readonly stays: Float64Array;
  private readonly events: Float64Array;

  constructor(cellCount: number) {
    this.leaves = cellCount;
    this.stays = new Float64Array(2 * cellCount);
    this.events = new Float64Array(2 * cellCount);
  }

  add(rows: Rows, row: number): void {
    for (const node of this.nodesOfStay(rows, row)) this.stays[node] += rows.weight[row];
    for (const node of this.nodesAbove(rows.eventCell[row])) this.events[node] += rows.weight[row];
  }

  clear(rows: Rows, row: number): void {
    for (const node of this.nodesOfStay(rows, row)) this.stays[node] = 0;
    for (const node of this.nodesAbove(rows.eventCell[row])) this.events[node] = 0;
  }

  /** Adds to what the row meets those that are in the trees. */
  meet(rows: Rows, row: number, { asEvent, atRisk }: Met): void {
    for (const node of this.nodesOfStay(rows, row)) atRisk[row] += this.events[node];
    for (const node of this.nodesAbove(rows.eventCell[row])) asEvent[row] += this.stays[node];
  }

  private nodesOfStay({ first, last }: Rows, row: number): number[] {
    const nodes: number[] = [];
    let low = first[row] + this.leaves;
    let high = last[row] + 1 + this.leaves;
    while (low < high) {
      if (low & 1) nodes.push(low++);
      if (high & 1) nodes.push(--high);
      low >>= 1;
      high >>= 1;
    }
    return nodes;
  }

  private nodesAbove(cell: number): number[] {
    const nodes: number[] = [];
    for (let node = cell < 0 ? 0 : cell + this.leaves; node > 0; node >>= 1) nodes.push(node);
    return nodes;
  }
}
