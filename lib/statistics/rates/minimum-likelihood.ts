/** Counts at most this much more likely than the one seen count as equally likely. */
const EQUALLY_LIKELY = 1 + 1e-7;

/** A distribution of counts with one hump: its mean, the largest count (or Infinity), and how to look it up. */
export type CountDistribution = {
  readonly mean: number;
  readonly largest: number;
  readonly logProbability: (x: number) => number;
  /** P(X <= x) and P(X >= x). */
  readonly lower: (x: number) => number;
  readonly upper: (x: number) => number;
};

/**
 * The two-sided p value of a count: the probability of all counts that are at most as likely. From the far side of the mean
 * all counts from some place on belong to it; the place is found by halving, as likelihood only falls there.
 */
export function minimumLikelihoodP(seen: number, distribution: CountDistribution): number {
  const { mean, largest, logProbability, lower, upper } = distribution;
  if (seen === mean) return 1;
  const limit = logProbability(seen) + Math.log(EQUALLY_LIKELY);
  const rare = (x: number): boolean => logProbability(x) <= limit;
  if (seen < mean) {
    const from = firstWhere(Math.ceil(mean), largest, rare);
    return Math.min(1, lower(seen) + (from === null ? 0 : upper(from)));
  }
  const upTo = lastWhere(Math.floor(mean), rare);
  return Math.min(1, upper(seen) + (upTo === null ? 0 : lower(upTo)));
}

/** The smallest x from `start` on, at most `end`, where a condition holds that then holds for good; null if nowhere. */
function firstWhere(start: number, end: number, holds: (x: number) => boolean): number | null {
  if (start > end) return null;
  let step = 1;
  while (start + step < end && !holds(start + step)) step *= 2;
  let [low, high] = [start, Math.min(end, start + step)];
  if (!holds(high)) return null;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The largest x from 0 to `start` where a condition holds that holds for all below; null if nowhere. */
function lastWhere(start: number, holds: (x: number) => boolean): number | null {
  const found = firstWhere(0, start, (fromTop) => holds(start - fromTop));
  return found === null ? null : start - found;
}
