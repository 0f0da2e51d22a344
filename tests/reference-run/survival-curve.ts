import {
  countsAtTicks,
  estimateKaplanMeier,
  estimateNelsonAalen,
  type KaplanMeierCurve,
  type NelsonAalenCurve,
  type QuantileLimit,
  type SurvivalData,
  survivalAt,
  survivalQuantile,
} from '@/lib/statistics';

export const SCALES = ['plain', 'log', 'log-log', 'logit', 'arcsin'] as const;
const PROBABILITIES = [0.25, 0.5, 0.75];

/** A curve as the cases write it: columns by time, five kinds of limits, quartiles and values at given times. */
export function describeCurve(
  data: SurvivalData,
  times: readonly number[],
  confidenceLevel: number,
): Record<string, unknown> {
  const curves = SCALES.map((limits) => estimateKaplanMeier(data, { limits, confidenceLevel }));
  return describeCurves(curves, estimateNelsonAalen(data), times);
}

/** The same of one group among several, its curves given with each kind of limits. */
export function describeCurves(
  curves: readonly KaplanMeierCurve[],
  hazard: NelsonAalenCurve,
  times: readonly number[],
): Record<string, unknown> {
  const [curve] = curves;
  const whereDefined = (column: Float64Array): (number | null)[] =>
    Array.from(curve.timeDays, (_, i) => (i < curve.intervalTo ? column[i] : null));
  const relativeError = curve.standardError.map((se, i) => se / curve.survival[i]);
  return {
    n: curve.n,
    events: curve.eventTotal,
    time: curve.timeDays,
    nRisk: curve.atRisk,
    nEvent: curve.events,
    nCensor: curve.censored,
    surv: curve.survival,
    stdErrSurv: whereDefined(curve.standardError),
    stdErrLogSurv: whereDefined(relativeError).map((se) => se ?? 'Inf'),
    cumHazNelsonAalen: hazard.cumulativeHazard,
    stdErrCumHaz: hazard.standardError,
    ci: Object.fromEntries(
      curves.map(({ limits, lower, upper }) => [
        limits,
        { lower: whereDefined(lower), upper: whereDefined(upper) },
      ]),
    ),
    quantiles: {
      probs: PROBABILITIES,
      estimate: quantilesOf(curve, 'estimate'),
      ...Object.fromEntries(
        curves.map((each) => [
          each.limits,
          { lower: quantilesOf(each, 'lower'), upper: quantilesOf(each, 'upper') },
        ]),
      ),
    },
    atTimes: describeTimes(curves, times),
  };
}

/** The quartiles of a curve, or one of their limits; null where not reached. */
export function quantilesOf(
  curve: KaplanMeierCurve,
  part: 'estimate' | 'lower' | 'upper',
): (number | null)[] {
  return PROBABILITIES.map((probability) => {
    const quantile = survivalQuantile(curve, probability);
    if (quantile.kind === 'notEstimable') return null;
    const limit: QuantileLimit = part === 'estimate' ? quantile : quantile[part];
    return limit.kind === 'reached' ? limit.timeDays : null;
  });
}

function describeTimes(
  curves: readonly KaplanMeierCurve[],
  times: readonly number[],
): Record<string, unknown> {
  const [curve] = curves;
  const points = survivalAt(curve, times);
  // Counts run to before a tick, the cases' through it.
  const counts = countsAtTicks(
    curve,
    times.map((time) => time + 1e-6),
  );
  const steps = (totals: Int32Array): number[] =>
    Array.from(totals, (total, i) => total - (i ? totals[i - 1] : 0));
  return {
    time: times,
    nRisk: points.map((point) => (point.kind === 'estimated' ? point.atRisk : null)),
    nRiskSummarySurvfit: times.map((time) => curve.atRisk.find((_, i) => curve.timeDays[i] >= time) ?? 0),
    surv: points.map((point) => (point.kind === 'estimated' ? point.survival : null)),
    stdErrSurv: points.map((point) => {
      if (point.kind !== 'estimated' || point.survival === 0) return null;
      return point.interval.kind === 'estimated' ? point.interval.standardError : 0;
    }),
    nEventInInterval: steps(counts.eventsSoFar),
    nCensorInInterval: steps(counts.censoredSoFar),
    ...Object.fromEntries(curves.map((each) => [each.limits, limitsAt(each, times)])),
  };
}

function limitsAt(curve: KaplanMeierCurve, times: readonly number[]): Record<string, (number | null)[]> {
  const intervals = survivalAt(curve, times).map((point) =>
    point.kind === 'estimated' ? point.interval : point,
  );
  return {
    lower: intervals.map((interval) => (interval.kind === 'estimated' ? interval.lower : null)),
    upper: intervals.map((interval) => (interval.kind === 'estimated' ? interval.upper : null)),
  };
}
