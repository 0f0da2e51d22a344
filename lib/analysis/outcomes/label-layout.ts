/** A label that wants its centre at `y` and is `height` tall. */
export interface LabelWish {
  readonly y: number;
  readonly height: number;
}

/**
 * Centres for labels in one column, in the order given, so that none touches another (`gap` apart), order by height is
 * kept, and the sum of squared moves is least within [top, bottom]. When they do not all fit they run over the bottom.
 *
 * With each wish reduced by the heights above it, "not touching" reads "not decreasing": pooling adjacent violators
 * gives the least squares answer (isotonic regression), which is then held inside the bounds.
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  top: number,
  bottom: number,
  gap: number,
): number[] {
  const order = wishes.map((_, i) => i).sort((a, b) => wishes[a].y - wishes[b].y || a - b);
  const sorted = order.map((i) => wishes[i]);
  const offsets: number[] = [];
  for (const [i, { height }] of sorted.entries()) {
    offsets.push(i === 0 ? 0 : offsets[i - 1] + sorted[i - 1].height / 2 + gap + height / 2);
  }
  const pooled = poolAdjacent(sorted.map(({ y }, i) => y - offsets[i]));
  const first = sorted.at(0);
  const last = sorted.at(-1);
  if (!first || !last) return [];
  const least = top + first.height / 2;
  const most = Math.max(least, bottom - last.height / 2 - offsets[offsets.length - 1]);
  const centres = new Array<number>(wishes.length);
  for (const [i, wish] of order.entries()) {
    centres[wish] = Math.min(most, Math.max(least, pooled[i])) + offsets[i];
  }
  return centres;
}

function poolAdjacent(values: readonly number[]): number[] {
  const pools: { sum: number; size: number }[] = [];
  for (const value of values) {
    let pool = { sum: value, size: 1 };
    for (
      let above = pools.at(-1);
      above && above.sum / above.size > pool.sum / pool.size;
      above = pools.at(-1)
    ) {
      pool = { sum: above.sum + pool.sum, size: above.size + pool.size };
      pools.pop();
    }
    pools.push(pool);
  }
  return pools.flatMap(({ sum, size }) => new Array<number>(size).fill(sum / size));
}
