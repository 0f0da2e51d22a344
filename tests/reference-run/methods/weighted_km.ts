import { z } from 'zod';
import {
  type CoxTies,
  estimateWeightedKaplanMeierByGroup,
  fitCox,
  survivalAt,
  survivalQuantile,
  testWeightedLogRank,
  type WeightedKaplanMeierCurve,
} from '@/lib/statistics';
import { codesOf, label, levelsOf, times } from '../survival-columns';

const shape = z.object({ time: times, status: times, group: z.array(label).optional(), weight: times });
const params = z.object({ times: times.default([]), confLevel: z.number().default(0.95) });

const SCALES = ['plain', 'log', 'log-log'] as const;

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const {
    time: timeDays,
    status: event,
    group = event.map(() => 'all'),
    weight: weights,
  } = shape.parse(one.data);
  const { times: asked, confLevel: confidenceLevel } = params.parse(one.params);
  const levels = levelsOf(group);
  const data = { timeDays, event, weights, group: codesOf(group, levels) };
  const byScale = SCALES.map((limits) =>
    estimateWeightedKaplanMeierByGroup(data, { limits, confidenceLevel }),
  );
  const groups = levels.map((level, g) => [
    level,
    describeGroup(
      byScale.map((curves) => curves[g]),
      asked,
    ),
  ]);
  return {
    groups: Object.fromEntries(groups),
    ...describeTests(data),
    zeroWeightsDroppedInCox: weights.includes(0),
  };
}

function describeGroup(curves: readonly WeightedKaplanMeierCurve[], asked: readonly number[]): unknown {
  const [curve] = curves;
  const { timeDays, survival, weightAtRisk, weightEvents, weightCensored } = curve;
  const robust = Array.from(timeDays, (_, i) => (i < curve.intervalTo ? curve.standardError[i] : 0));
  let greenwood = 0;
  const model = weightAtRisk.map((n, i) => {
    const d = weightEvents[i];
    if (d > 0) greenwood += d / n / (n - d);
    return Math.sqrt(greenwood);
  });
  return {
    time: timeDays,
    weightedNRisk: weightAtRisk,
    weightedNEvent: weightEvents,
    weightedNCensor: weightCensored,
    surv: survival,
    robustStdErrSurv: robust,
    robustStdErrRaw: robust,
    logse: false,
    modelStdErrLogSurv: model,
    atTimes: describeTimes(curves, asked),
    median: describeMedian(curves),
  };
}

function describeTimes(curves: readonly WeightedKaplanMeierCurve[], asked: readonly number[]): unknown {
  const points = survivalAt(curves[0], asked);
  const limits = curves.map((curve) => {
    const intervals = survivalAt(curve, asked).map((point) =>
      point.kind === 'estimated' && point.interval.kind === 'estimated' ? point.interval : undefined,
    );
    const ends = {
      lower: intervals.map((interval) => interval?.lower ?? null),
      upper: intervals.map((interval) => interval?.upper ?? null),
    };
    return [curve.limits, ends];
  });
  return {
    time: asked,
    surv: points.map((point) => (point.kind === 'estimated' ? point.survival : null)),
    robustSe: points.map((point) => {
      if (point.kind !== 'estimated') return null;
      return point.interval.kind === 'estimated' ? point.interval.standardError : 0;
    }),
    rawNRisk: points.map((point) => (point.kind === 'estimated' ? point.atRisk : null)),
    ...Object.fromEntries(limits),
  };
}

function describeMedian(curves: readonly WeightedKaplanMeierCurve[]): unknown {
  const medians = curves.map((curve) => ({ curve, median: survivalQuantile(curve, 0.5) }));
  const limits = medians.map(({ curve, median }) => {
    if (median.kind === 'notEstimable') return [curve.limits, { lower: null, upper: null }];
    const [lower, upper] = [median.lower, median.upper].map((end) =>
      end.kind === 'reached' ? end.timeDays : endOfPlainLimits(curve),
    );
    return [curve.limits, { lower, upper }];
  });
  const [{ median }] = medians;
  return { estimate: median.kind === 'reached' ? median.timeDays : null, ...Object.fromEntries(limits) };
}

/** Where the curve is zero its robust error is zero too, and the cases have plain limits there, of no width. */
function endOfPlainLimits({ limits, timeDays, intervalTo }: WeightedKaplanMeierCurve): number | null {
  return limits === 'plain' && intervalTo < timeDays.length ? timeDays[intervalTo] : null;
}

function describeTests(data: Parameters<typeof testWeightedLogRank>[0]): Record<string, unknown> {
  const permuted = testWeightedLogRank(data);
  const sampled = testWeightedLogRank(data, { variance: 'sampling' });
  return {
    coxEfron: describeCox(data, 'efron'),
    coxBreslow: describeCox(data, 'breslow'),
    ...(permuted.kind === 'tested'
      ? {
          xieLiu: {
            numerator: permuted.score,
            variance: permuted.variance,
            z: permuted.z,
            chisq: permuted.chiSquare,
            p: permuted.pValue,
          },
        }
      : {}),
    ...(sampled.kind === 'tested'
      ? { svyLogrank: { values: [sampled.chiSquare, sampled.pValue], names: ['Chisq', 'p'] } }
      : {}),
  };
}

/** The log hazard ratio of the second group, its robust error and that of the model. */
function describeCox(
  { timeDays, event, group, weights }: Parameters<typeof testWeightedLogRank>[0],
  ties: CoxTies,
): unknown {
  const fit = fitCox({ timeDays, event, weights, covariates: [group] }, { ties, variance: 'robust' });
  if (fit.kind !== 'fitted') return { reason: fit.reason };
  const [one] = fit.coefficients;
  if (one.kind === 'notEstimable') return { reason: one.reason };
  return {
    coef: one.coefficient,
    robustSe: one.interval.kind === 'estimated' ? one.interval.standardError : null,
    naiveSe: Math.sqrt(fit.modelCovariance[0]),
  };
}
