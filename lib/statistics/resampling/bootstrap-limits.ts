import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkConfidenceLevel, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { normalLowerTail, normalQuantile } from '../special/normal';

/** Quantiles of the replicates as they are, or moved for bias and changing spread (BCa). */
export type BootstrapLimits = 'percentile' | 'bca';

export type BootstrapInterval = {
  readonly kind: 'estimated';
  readonly lower: number;
  readonly upper: number;
};

/**
 * Limits of an estimate from its bootstrap replicates.
 *
 * Formula: the replicate of rank (B + 1) p among B, between two ranks on the scale of normal quantiles (Davison & Hinkley,
 * Bootstrap Methods 1997, 5.2, equation 5.8). For percentile limits p = alpha/2 and 1 - alpha/2. For BCa (Efron, JASA 1987;
 * 82:171) p = F(z0 + (z0 + z)/(1 - a (z0 + z))) with F the normal distribution, z its quantile, z0 that of the share of
 * replicates below the estimate and a = sum L^3/(6 (sum L^2)^1.5) from the influence L of each row (or cluster).
 * Shapes: `influence` of any length, on any scale; `multiplicity` says how many rows each value stands for.
 * Not estimable: a rank outside 1..B; all replicates alike; BCa with all replicates on one side of the estimate, or no
 * influence above 0.
 * @throws StatisticsError notFinite, outOfRange (`confidenceLevel`; BCa without `influence`).
 */
export function deriveBootstrapLimits(
  data: {
    readonly estimate: number;
    readonly replicates: Column;
    readonly influence?: Column;
    readonly multiplicity?: Column;
  },
  options: { readonly limits?: BootstrapLimits; readonly confidenceLevel?: number } = {},
): BootstrapInterval | NotEstimable {
  const { estimate, replicates, influence, multiplicity } = data;
  const { limits = 'percentile', confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkFinite('replicates', replicates);
  if (influence) checkFinite('influence', influence);
  const sorted = Float64Array.from(replicates).sort();
  const count = sorted.length;
  if (count === 0 || sorted[0] === sorted[count - 1]) return notEstimable('replicatesAlike');
  const alpha = (1 - confidenceLevel) / 2;
  let ranks: (p: number) => number = (p) => p;
  if (limits === 'bca') {
    if (!influence) {
      const message =
        'influence is missing; give one value per row or cluster, or ask for percentile limits.';
      throw new StatisticsError('outOfRange', 'influence', undefined, message);
    }
    const acceleration = accelerationOf(influence, multiplicity);
    let below = 0;
    while (below < count && sorted[below] < estimate) below += 1;
    if (below === 0 || below === count || acceleration === undefined)
      return notEstimable('replicatesOnOneSide');
    const bias = normalQuantile(below / count);
    ranks = (p) => {
      const moved = bias + normalQuantile(p);
      return normalLowerTail(bias + moved / (1 - acceleration * moved));
    };
  }
  const lower = valueOfRank(sorted, ranks(alpha));
  const upper = valueOfRank(sorted, ranks(1 - alpha));
  if (lower === undefined || upper === undefined) return notEstimable('tooFewReplicates');
  return { kind: 'estimated', lower, upper };
}

function accelerationOf(influence: Column, multiplicity: Column | undefined): number | undefined {
  let squares = 0;
  let cubes = 0;
  for (let i = 0; i < influence.length; i += 1) {
    const rows = multiplicity ? multiplicity[i] : 1;
    squares += rows * influence[i] ** 2;
    cubes += rows * influence[i] ** 3;
  }
  return squares > 0 ? cubes / (6 * squares ** 1.5) : undefined;
}

/** The value of rank (B + 1) p; undefined where no replicate bounds it. */
function valueOfRank(sorted: Float64Array, p: number): number | undefined {
  const count = sorted.length;
  const rank = (count + 1) * p;
  // A rank that is whole but for rounding is whole.
  const nearest = Math.round(rank);
  if (Math.abs(rank - nearest) < 1e-9 * count)
    return nearest >= 1 && nearest <= count ? sorted[nearest - 1] : undefined;
  const below = Math.floor(rank);
  if (below < 1 || below >= count) return undefined;
  const at = (k: number): number => normalQuantile(k / (count + 1));
  const part = (normalQuantile(p) - at(below)) / (at(below + 1) - at(below));
  return sorted[below - 1] + part * (sorted[below] - sorted[below - 1]);
}
