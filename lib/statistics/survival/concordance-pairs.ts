import type { Column } from '../check-input';

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
  /** For each row, the weight of the others with which it makes such a pair. */
  readonly concordantOf: Float64Array;
  readonly discordantOf: Float64Array;
  readonly tiedOf: Float64Array;
};

/**
 * Counts pairs in n log n: rows in order of time, the weights of those met so far kept in a tree by marker.
 * `place` and `marker` are whole numbers from 0 in the order of times and markers.
 */
export function countPairs(
  place: Int32Array,
  event: Column,
  marker: Int32Array,
  weights: Float64Array,
): PairCounts {
  const counts = {
    concordantOf: new Float64Array(place.length),
    discordantOf: new Float64Array(place.length),
    tiedOf: new Float64Array(place.length),
  };
  const { concordantOf, discordantOf, tiedOf } = counts;
  const batches = rowsByTime(place, event);
  const later = new MarkerTree(marker);
  for (const { events, censored } of batches.toReversed()) {
    for (const i of censored) later.add(marker[i], weights[i]);
    for (const i of events) {
      concordantOf[i] += later.below(marker[i]);
      tiedOf[i] += later.at(marker[i]);
      discordantOf[i] += later.above(marker[i]);
    }
    for (const i of events) later.add(marker[i], weights[i]);
  }
  const totals = { concordant: 0, discordant: 0, tiedMarker: 0 };
  for (let i = 0; i < place.length; i += 1) {
    totals.concordant += weights[i] * concordantOf[i];
    totals.discordant += weights[i] * discordantOf[i];
    totals.tiedMarker += weights[i] * tiedOf[i];
  }
  const earlier = new MarkerTree(marker);
  for (const { events, censored } of batches) {
    const meet = (i: number): void => {
      concordantOf[i] += earlier.above(marker[i]);
      tiedOf[i] += earlier.at(marker[i]);
      discordantOf[i] += earlier.below(marker[i]);
    };
    events.forEach(meet);
    for (const i of events) earlier.add(marker[i], weights[i]);
    censored.forEach(meet);
  }
  return { ...totals, ...tiedEvents(batches, marker, weights), ...counts };
}

type Batch = { readonly events: number[]; readonly censored: number[] };

/** One batch per distinct time, ascending. */
function rowsByTime(place: Int32Array, event: Column): Batch[] {
  const batches: Batch[] = [];
  for (const i of Int32Array.from(place.keys()).sort((a, b) => place[a] - place[b] || a - b)) {
    while (batches.length <= place[i]) batches.push({ events: [], censored: [] });
    const { events, censored } = batches[place[i]];
    (event[i] === 1 ? events : censored).push(i);
  }
  return batches;
}

/** Pairs of events at one time, each event against those of its time before it. */
function tiedEvents(
  batches: readonly Batch[],
  marker: Int32Array,
  weights: Float64Array,
): Pick<PairTotals, 'tiedTime' | 'tiedBoth'> {
  let tiedTime = 0;
  let tiedBoth = 0;
  for (const { events } of batches) {
    const ofMarker = new Map<number, number>();
    let all = 0;
    for (const i of events) {
      const alike = ofMarker.get(marker[i]) ?? 0;
      tiedTime += weights[i] * (all - alike);
      tiedBoth += weights[i] * alike;
      all += weights[i];
      ofMarker.set(marker[i], alike + weights[i]);
    }
  }
  return { tiedTime, tiedBoth };
}

/**
 * Sums of weights by marker, with sums below and above in log n (a binary indexed tree from either end; Fenwick, Softw
 * Pract Exper 1994;24:327). Nothing is subtracted: a sum over nobody is exactly 0.
 */
class MarkerTree {
  private readonly own: Float64Array;
  private readonly fromBelow: Float64Array;
  private readonly fromAbove: Float64Array;

  constructor(marker: Int32Array) {
    let size = 0;
    for (const value of marker) size = Math.max(size, value + 1);
    this.own = new Float64Array(size);
    this.fromBelow = new Float64Array(size + 1);
    this.fromAbove = new Float64Array(size + 1);
  }

  add(marker: number, weight: number): void {
    const size = this.own.length;
    this.own[marker] += weight;
    for (let k = marker + 1; k <= size; k += k & -k) this.fromBelow[k] += weight;
    for (let k = size - marker; k <= size; k += k & -k) this.fromAbove[k] += weight;
  }

  at(marker: number): number {
    return this.own[marker];
  }

  below(marker: number): number {
    return prefixSum(this.fromBelow, marker);
  }

  above(marker: number): number {
    return prefixSum(this.fromAbove, this.own.length - 1 - marker);
  }
}

function prefixSum(tree: Float64Array, count: number): number {
  let sum = 0;
  for (let k = count; k > 0; k -= k & -k) sum += tree[k];
  return sum;
}
