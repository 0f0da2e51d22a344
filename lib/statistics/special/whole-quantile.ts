/**
 * A tail that equals the probability asked for up to rounding counts as having reached it, so that the quantile of a tail
 * leads back to where the tail was taken.
 */
export const QUANTILE_SLACK = 2 ** -46;

/**
 * About where the quantile of a count lies whose normal quantile is z (Cornish & Fisher 1938, first correction; from memory).
 * `lean` is the skewness times the standard deviation. Only a place to start from.
 */
export function quantileGuess(mean: number, variance: number, lean: number, z: number): number {
  return mean + Math.sqrt(variance) * z + (lean * (z * z - 1)) / 6;
}

/**
 * The smallest whole number from `least` to `most` at which a condition holds that, once it holds, holds for all larger
 * ones; it must hold at `most`, unless that is infinite. Doubling steps away from a guess, then halving.
 */
export function smallestWhole(
  least: number,
  most: number,
  guess: number,
  holds: (x: number) => boolean,
): number {
  const start = Math.min(Math.max(Math.round(guess), least), most);
  let below = start;
  let above = start;
  if (holds(start)) {
    for (let step = 1; ; step *= 2) {
      below = above - step;
      if (below < least) {
        below = least - 1;
        break;
      }
      if (!holds(below)) break;
      above = below;
    }
  } else {
    for (let step = 1; ; step *= 2) {
      above = Math.min(below + step, most);
      if (above === most || holds(above)) break;
      below = above;
    }
  }
  while (above - below > 1) {
    const middle = below + Math.floor((above - below) / 2);
    if (holds(middle)) above = middle;
    else below = middle;
  }
  return above;
}
