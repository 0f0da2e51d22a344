import { type NotEstimable, notEstimable } from '../absence';
import {
  type Column,
  checkCodes,
  checkConfidenceLevel,
  checkEqualLengths,
  checkFinite,
  checkTimes,
} from '../check-input';
import { buildRiskSets } from '../regression/cox-risk-sets';
import { normalUpperQuantile } from '../special/normal';
import { countPairs, type PairCounts, type PairTotals } from './concordance-pairs';
import { checkEntries } from './event-table';
import type { EstimatedInterval } from './survival-at';

export type ConcordanceData = {
  readonly timeDays: Column;
  readonly event: Column;
  /** Any finite number per case: the larger, the earlier the event is expected. */
  readonly marker: Column;
  /** At risk, and comparable, from after this time; everybody from the start when left out. */
  readonly entryDays?: Column;
  /** Case weights of zero or more; a pair counts with the product. */
  readonly weights?: Column;
  /** Stratum codes, whole numbers of zero or more: only cases of one stratum are compared. */
  readonly strata?: Column;
  /** Whole numbers of zero or more; rows of one cluster (one patient) are not independent. */
  readonly cluster?: Column;
};

/** Pairs are summed with the product of their weights: whole numbers without weights. */
export type Concordance = PairTotals & {
  readonly kind: 'estimated';
  readonly concordance: number;
  readonly interval: EstimatedInterval | NotEstimable;
};

/**
 * How well a marker orders the times to the event (the C index).
 *
 * Estimand: the probability that of two cases of which one is known to have had the event first, that one has the
 * larger marker; equal markers count one half. 0.5 is no order at all.
 * Formula: C = (concordant + tiedMarker/2)/(concordant + discordant + tiedMarker) (Harrell et al., JAMA
 * 1982;247:2543).
 * Standard error: infinitesimal jackknife, root of the sum over cases of (weight dC/dweight)^2 (as in the
 * concordance vignette of the R package survival, from memory), summed within clusters before squaring; limits
 * symmetric, cut to 0 and 1.
 * Conventions: an event at t against a censoring at t can be compared, the censored case living longer; two events
 * at one time cannot. With entries an event is compared with those at risk at its time; with strata pairs are counted in each and
 * added. Equal times as in estimateKaplanMeier.
 * Not estimable: no comparable pairs; the interval when all pairs are ordered alike.
 * Cost n log n. Shapes: columns of equal length. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange
 * (`confidenceLevel`).
 */
export function estimateConcordance(
  data: ConcordanceData,
  options: { readonly confidenceLevel?: number } = {},
): Concordance | NotEstimable {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkConcordanceData(data);
  const { marker, weights } = data;
  const { sets } = buildRiskSets(data);
  const { source } = sets.rows;
  const weightOf = Float64Array.from(source, (row) => (weights ? weights[row] : 1));
  const pairs = countPairs(
    sets,
    Float64Array.from(source, (row) => marker[row]),
    weightOf,
  );
  const { concordant, discordant, tiedMarker, tiedTime, tiedBoth } = pairs;
  const comparable = concordant + discordant + tiedMarker;
  if (comparable === 0) return notEstimable('noComparablePairs');
  const concordance = (concordant + tiedMarker / 2) / comparable;
  const slopes = slopesOf(pairs, concordance, comparable, weightOf);
  const { cluster } = data;
  const independent = cluster ? sumByCluster(slopes, source, cluster) : slopes;
  return {
    kind: 'estimated',
    ...{ concordance, concordant, discordant, tiedMarker, tiedTime, tiedBoth },
    interval: intervalOf(independent, concordance, confidenceLevel),
  };
}

function checkConcordanceData(data: ConcordanceData): void {
  const { timeDays, event, marker, entryDays, weights, strata, cluster } = data;
  checkEqualLengths({ timeDays, event, marker, entryDays, weights, strata, cluster });
  checkTimes('timeDays', timeDays);
  checkCodes('event', event, 2);
  checkFinite('marker', marker);
  if (entryDays) checkEntries(entryDays, timeDays);
  if (weights) checkTimes('weights', weights);
  if (strata) checkCodes('strata', strata, 2 ** 31);
  if (cluster) checkCodes('cluster', cluster, 2 ** 31);
}

/** Per row its weight times the slope of the index along it. */
function slopesOf(
  { concordantOf, discordantOf, tiedOf }: PairCounts,
  concordance: number,
  comparable: number,
  weightOf: Float64Array,
): Float64Array {
  return weightOf.map((weight, i) => {
    const won = concordantOf[i] + tiedOf[i] / 2;
    const met = concordantOf[i] + discordantOf[i] + tiedOf[i];
    return (weight * (won - concordance * met)) / comparable;
  });
}

function sumByCluster(slopes: Float64Array, source: Int32Array, cluster: Column): Float64Array {
  const sums = new Map<number, number>();
  slopes.forEach((slope, i) => {
    const code = cluster[source[i]];
    sums.set(code, (sums.get(code) ?? 0) + slope);
  });
  return Float64Array.from(sums.values());
}

/** A standard error below this is rounding: the slopes of all rows, or clusters, are 0. */
const ROUNDING = 1e-14;

function intervalOf(
  slopes: Float64Array,
  concordance: number,
  confidenceLevel: number,
): EstimatedInterval | NotEstimable {
  const standardError = Math.sqrt(slopes.reduce((sum, slope) => sum + slope * slope, 0));
  if (standardError < ROUNDING) return notEstimable('perfectOrder');
  const width = normalUpperQuantile((1 - confidenceLevel) / 2) * standardError;
  return {
    kind: 'estimated',
    standardError,
    lower: Math.max(0, concordance - width),
    upper: Math.min(1, concordance + width),
  };
}
