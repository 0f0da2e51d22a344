/** The quantile of ascending numbers by linear interpolation between neighbours (type 7 of Hyndman & Fan 1996). */
export function quantileOf(sorted: Float64Array, probability: number): number {
  const place = (sorted.length - 1) * probability;
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}
