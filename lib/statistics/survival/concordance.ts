import { type NotEstimable, notEstimable } from '../absence';
import {
  type Column,
  checkCodes,
  checkConfidenceLevel,
  checkEqualLengths,
  checkFinite,
  checkTimes,
} from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { countPairs, type PairCounts, type PairTotals } from './concordance-pairs';
import { mergeEqualTimes, placeOnGrid } from './equal-times';
import type { EstimatedInterval } from './survival-at';

export type ConcordanceData = {
  readonly timeDays: Column;
  readonly event: Column;
  /** Any finite number per case: the larger, the earlier the event is expected. */
  readonly marker: Column;
  /** Case weights of zero or more; a pair counts with the product. */
  readonly weights?: Column;
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
 * concordance vignette of the R package survival, from memory); limits symmetric, cut to 0 and 1.
 * Conventions: an event at t against a censoring at t can be compared, the censored case living longer; two events
 * at one time cannot. Equal times as in estimateKaplanMeier.
 * Not estimable: no comparable pairs; the interval when all pairs are ordered alike.
 * Cost n log n. Shapes: columns of equal length. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, outOfRange (`confidenceLevel`).
 */
export function estimateConcordance(
  data: ConcordanceData,
  options: { readonly confidenceLevel?: number } = {},
): Concordance | NotEstimable {
  const { timeDays, event, marker, weights } = data;
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkEqualLengths({ timeDays, event, marker, weights });
  checkTimes('timeDays', timeDays);
  checkCodes('event', event, 2);
  checkFinite('marker', marker);
  if (weights) checkTimes('weights', weights);
  const weightOf = weights ? Float64Array.from(weights) : new Float64Array(timeDays.length).fill(1);
  const grid = mergeEqualTimes(timeDays);
  const place = Int32Array.from(timeDays, (time) => placeOnGrid(grid, time));
  const pairs = countPairs(place, event, placesOf(marker), weightOf);
  const { concordant, discordant, tiedMarker, tiedTime, tiedBoth } = pairs;
  const comparable = concordant + discordant + tiedMarker;
  if (comparable === 0) return notEstimable('noComparablePairs');
  const concordance = (concordant + tiedMarker / 2) / comparable;
  return {
    kind: 'estimated',
    ...{ concordance, concordant, discordant, tiedMarker, tiedTime, tiedBoth },
    interval: intervalOf(pairs, concordance, comparable, weightOf, confidenceLevel),
  };
}

/** Equal markers get equal places, larger ones larger places. */
function placesOf(marker: Column): Int32Array {
  const distinct = Float64Array.from(new Set(Array.from(marker))).sort();
  return Int32Array.from(marker, (value) => placeOnGrid(distinct, value));
}

function intervalOf(
  pairs: PairCounts,
  concordance: number,
  comparable: number,
  weightOf: Float64Array,
  confidenceLevel: number,
): EstimatedInterval | NotEstimable {
  const { concordantOf, discordantOf, tiedOf } = pairs;
  let variance = 0;
  for (let i = 0; i < weightOf.length; i += 1) {
    const won = concordantOf[i] + tiedOf[i] / 2;
    const slope = (won - concordance * (concordantOf[i] + discordantOf[i] + tiedOf[i])) / comparable;
    variance += (weightOf[i] * slope) ** 2;
  }
  if (variance === 0) return notEstimable('perfectOrder');
  const standardError = Math.sqrt(variance);
  const width = normalUpperQuantile((1 - confidenceLevel) / 2) * standardError;
  return {
    kind: 'estimated',
    standardError,
    lower: Math.max(0, concordance - width),
    upper: Math.min(1, concordance + width),
  };
}
