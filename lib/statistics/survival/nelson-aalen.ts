import { checkConfidenceLevel } from '../check-input';
import { normalUpperQuantile } from '../special/normal';
import { tabulateEvents } from './event-table';
import { countsOfGroup, type ExitCounts } from './exit-counts';
import type { SurvivalData } from './kaplan-meier';

export type NelsonAalenOptions = {
  /**
   * What d events at one time add, n at risk: 'together' d/n (unless stated), or 'one-by-one'
   * 1/n + 1/(n - 1) + ... + 1/(n - d + 1), as if they had followed each other.
   */
  readonly ties?: 'together' | 'one-by-one';
  /** Variance of an increment d/n: 'poisson' d/n^2 (unless stated), 'binomial' d (n - d)/((n - 1) n^2). */
  readonly variance?: 'poisson' | 'binomial';
  /** Scale of the limits; log unless stated. */
  readonly limits?: 'plain' | 'log';
  /** Two-sided, 0.95 unless stated. */
  readonly confidenceLevel?: number;
};

/**
 * One value per distinct time at which somebody left; H = 0 before the first. Before `intervalFrom` (the first event)
 * lower and upper hold 0, to be drawn but not to be quoted.
 */
export type NelsonAalenCurve = ExitCounts & {
  readonly eventTotal: number;
  readonly cumulativeHazard: Float64Array;
  readonly standardError: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly intervalFrom: number;
  /** exp(-H): Breslow's curve, or Fleming and Harrington's with ties taken one by one. Above Kaplan-Meier. */
  readonly survival: Float64Array;
  readonly confidenceLevel: number;
};

/**
 * The cumulative hazard of the event by each time (Nelson-Aalen).
 *
 * Estimand: H(t), the integral of the hazard to t, under censoring (and entry) independent of the event.
 * Formula: sum over event times of d/n (Nelson 1972; Aalen, Ann Stat 1978;6:701), variance sum of d/n^2, or the
 * binomial one (Klein, Scand J Stat 1991;18:333, from memory); ties one by one: Fleming & Harrington, Commun Stat
 * 1984;13:2469, with variance sum of 1/m^2 over the same m, where both kinds of variance agree.
 * Limits: plain H -+ z se, cut at 0; log H exp(-+ z se/H).
 * Ties, risk set and delayed entry: as estimateKaplanMeier.
 * Shapes: columns of equal length; empty columns give a curve without times (n = 0). Units: days, whole or not.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function estimateNelsonAalen(data: SurvivalData, options: NelsonAalenOptions = {}): NelsonAalenCurve {
  const { ties = 'together', variance = 'poisson', limits = 'log', confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  const { timeDays, event, entryDays } = data;
  const counts = countsOfGroup(
    tabulateEvents({ timeDays, code: event, codeName: 'event', entryDays }, 1, 2),
    0,
  );
  const { atRisk, events } = counts;
  const length = events.length;
  const cumulativeHazard = new Float64Array(length);
  const standardError = new Float64Array(length);
  const incrementOf = ties === 'together' ? (variance === 'poisson' ? together : togetherBinomial) : oneByOne;
  let eventTotal = 0;
  let intervalFrom = length;
  let hazard = 0;
  let sumOfVariances = 0;
  for (let i = 0; i < length; i += 1) {
    if (events[i] > 0) {
      if (eventTotal === 0) intervalFrom = i;
      eventTotal += events[i];
      const [rise, ownVariance] = incrementOf(atRisk[i], events[i]);
      hazard += rise;
      sumOfVariances += ownVariance;
    }
    cumulativeHazard[i] = hazard;
    standardError[i] = Math.sqrt(sumOfVariances);
  }
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  const width = standardError.map((se, i) => (limits === 'plain' ? z * se : z * (se / cumulativeHazard[i])));
  const limitAt =
    (sign: -1 | 1) =>
    (h: number, i: number): number => {
      if (i < intervalFrom) return 0;
      return limits === 'plain' ? Math.max(0, h + sign * width[i]) : h * Math.exp(sign * width[i]);
    };
  return {
    ...counts,
    ...{ eventTotal, cumulativeHazard, standardError, intervalFrom, confidenceLevel },
    lower: cumulativeHazard.map(limitAt(-1)),
    upper: cumulativeHazard.map(limitAt(1)),
    survival: cumulativeHazard.map((h) => Math.exp(-h)),
  };
}

type Increment = readonly [rise: number, variance: number];

function together(n: number, d: number): Increment {
  return [d / n, d / (n * n)];
}

function togetherBinomial(n: number, d: number): Increment {
  return [d / n, d < n ? (d * (n - d)) / ((n - 1) * n * n) : 0];
}

function oneByOne(n: number, d: number): Increment {
  let rise = 0;
  let variance = 0;
  for (let m = n; m > n - d; m -= 1) {
    rise += 1 / m;
    variance += 1 / (m * m);
  }
  return [rise, variance];
}
