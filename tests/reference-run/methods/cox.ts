import { z } from 'zod';
import {
  type CoxData,
  type CoxFit,
  type CoxOptions,
  type CoxTest,
  deriveMartingaleResiduals,
  deriveSchoenfeldResiduals,
  estimateConcordance,
  estimateCoxCurve,
  fitCox,
  type NotEstimable,
  testProportionalHazards,
} from '@/lib/statistics';
import { codesOf, label, levelsOf, rowsOf, times } from '../survival-columns';

const name = z.string().nullish();
const params = z.object({
  stop: z.string(),
  status: z.string(),
  covariates: z.array(z.string()),
  robust: z.boolean().nullish(),
  ...{ start: name, strata: name, weights: name, cluster: name, offset: name },
});
const columns = z.record(z.string(), z.array(label));

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { covariates, stop, status, start, strata, weights, cluster, offset, robust } = params.parse(
    one.params,
  );
  const found = columns.parse(one.data);
  const numbers = (key: string): number[] => times.parse(found[key]);
  const codes = (key: string): number[] => codesOf(found[key], levelsOf(found[key]));
  const data: CoxData = {
    timeDays: numbers(stop),
    event: numbers(status),
    covariates: covariates.map(numbers),
    ...(start ? { entryDays: numbers(start) } : {}),
    ...(weights ? { weights: numbers(weights) } : {}),
    ...(strata ? { strata: codes(strata) } : {}),
    ...(offset ? { offset: numbers(offset) } : {}),
    ...(cluster ? { cluster: codes(cluster) } : {}),
  };
  const variance = robust || cluster ? 'robust' : 'model';
  return {
    covariates,
    efron: answerWith(data, covariates, { ties: 'efron', variance }),
    breslow: answerWith(data, covariates, { ties: 'breslow', variance }),
  };
}

function answerWith(data: CoxData, names: readonly string[], options: CoxOptions): unknown {
  const fit = fitCox(data, options);
  if (fit.kind !== 'fitted') return { reason: fit.reason };
  const size = fit.estimated.length;
  const all = fit.coefficients.map((one) => (one.kind === 'estimated' ? one : undefined));
  const intervals = all.map((one) => (one?.interval.kind === 'estimated' ? one.interval : undefined));
  return {
    coef: all.map((one) => one?.coefficient ?? null),
    hr: all.map((one) => one?.hazardRatio ?? null),
    se: intervals.map((one) => one?.standardError ?? null),
    z: intervals.map((one) => one?.z ?? null),
    p: intervals.map((one) => one?.pValue ?? null),
    hrLower: intervals.map((one) => one?.lower ?? null),
    hrUpper: intervals.map((one) => one?.upper ?? null),
    vcov: fit.covariance instanceof Float64Array ? rowsOf(fit.covariance, size) : null,
    loglik: [fit.nullLogLikelihood, fit.logLikelihood],
    n: fit.n,
    nEvent: fit.eventTotal,
    lrt: statistic(fit.likelihoodRatio),
    wald: statistic(fit.wald),
    score: statistic(fit.score),
    ...(fit.robustScore ? { robust: true, robustScore: statistic(fit.robustScore) } : {}),
    naiveSe: Array.from({ length: size }, (_, j) => Math.sqrt(fit.modelCovariance[j * (size + 1)])),
    ...predictions(data, fit),
    ...hazardTests(data, fit, names),
  };
}

function statistic(test: CoxTest | NotEstimable): unknown {
  return test.kind === 'tested'
    ? { stat: test.chiSquare, df: test.degreesOfFreedom, p: test.pValue }
    : { reason: test.reason };
}

function predictions(data: CoxData, fit: CoxFit): Record<string, unknown> {
  const { covariates, offset, ...rows } = data;
  const { timeDays, weights } = rows;
  const effect = fit.coefficients.map((one) => (one.kind === 'estimated' ? one.coefficient : 0));
  const linear = Array.from(timeDays, (_, i) => covariates.reduce((sum, x, j) => sum + effect[j] * x[i], 0));
  const marker = linear.map((eta, i) => eta + (offset ? offset[i] : 0));
  const found = estimateConcordance({ ...rows, marker });
  const [curve] = estimateCoxCurve(data, fit, { covariates: covariates.map(() => 0) });
  return {
    linearPredictorsUncentred: linear,
    means: covariates.map((x) => centreOf(x, rows.entryDays ? undefined : weights)),
    martingaleSumSq: deriveMartingaleResiduals(data, fit).reduce((sum, r) => sum + r * r, 0),
    concordance:
      found.kind === 'estimated'
        ? {
            ...{ concordant: found.concordant, discordant: found.discordant, tiedX: found.tiedMarker },
            ...{ tiedY: found.tiedTime, tiedXY: found.tiedBoth, C: found.concordance },
            // Without an interval the cases write a standard error of zero.
            se: found.interval.kind === 'estimated' ? found.interval.standardError : 0,
          }
        : { C: null, se: null },
    baselineAtZero:
      curve.kind === 'estimated'
        ? {
            ...{ time: curve.timeDays, cumHaz: curve.cumulativeHazard, surv: curve.survival },
            stdErrCumHaz: curve.interval.kind === 'estimated' ? curve.interval.standardError : null,
          }
        : { reason: curve.reason },
  };
}

/** Where coxph centres: the mean, weighted unless rows have entries, and 0 for a column of -1, 0 and 1. */
function centreOf(column: ArrayLike<number>, weights: ArrayLike<number> | undefined): number {
  const values = Array.from(column);
  if (values.every((value) => value === 0 || Math.abs(value) === 1)) return 0;
  const weightOf = (i: number): number => (weights ? weights[i] : 1);
  const total = values.reduce((sum, _, i) => sum + weightOf(i), 0);
  return values.reduce((sum, value, i) => sum + weightOf(i) * value, 0) / total;
}

function hazardTests(data: CoxData, fit: CoxFit, names: readonly string[]): Record<string, unknown> {
  const size = fit.estimated.length;
  const zph = (['km', 'rank', 'identity', 'log'] as const).map((transform) => {
    const { covariates, global } = testProportionalHazards(data, fit, { transform });
    const rows = [...covariates, global].map(statistic).map((row) => z.looseObject({}).parse(row));
    const column = (key: string): unknown[] => rows.map((row) => row[key] ?? null);
    return [
      transform,
      { chisq: column('stat'), df: column('df'), p: column('p'), rows: [...names, 'GLOBAL'] },
    ];
  });
  const { timeDays, residuals } = deriveSchoenfeldResiduals(data, fit);
  return {
    zph: Object.fromEntries(zph),
    schoenfeldTimes: timeDays,
    schoenfeldResiduals:
      size === 1 ? residuals : Array.from(timeDays, (_, i) => residuals.slice(i * size, (i + 1) * size)),
  };
}
