import { z } from 'zod';
import { type FineGrayFit, fitCox, fitFineGray } from '@/lib/statistics';
import { codesOf, levelsOf, rowsOf, times } from '../survival-columns';

const params = z.object({ covariates: z.array(z.string()), failcode: z.number() });
const columns = z.record(z.string(), times);

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { covariates: names, failcode } = params.parse(one.params);
  const { time: timeDays, status: codes, ...others } = columns.parse(one.data);
  const causes = [failcode, ...levelsOf(codes.filter((code) => code !== 0 && code !== failcode))];
  const status = codesOf(codes, [0, ...causes]);
  const covariates = names.map((name) => others[name]);
  const data = { timeDays, status, covariates };
  const fit = fitFineGray(data);
  if (fit.kind !== 'fitted') return { converged: false, reason: fit.reason };
  const gone = fitFineGray(data, { tiedFailures: 'gone' });
  const causeSpecific = fitCox(
    { timeDays, event: status.map((code) => (code === 1 ? 1 : 0)), covariates },
    { ties: 'breslow' },
  );
  const coef = coefficientsOf(fit);
  const coefFinegrayBreslow = coefficientsOf(gone);
  return {
    ...describeFit(fit),
    coefFinegrayBreslow,
    maxAbsDiffFinegray: Math.max(
      ...coef.map((value, j) => Math.abs((value ?? 0) - (coefFinegrayBreslow[j] ?? 0))),
    ),
    causeSpecificCoefBreslow: coefficientsOf(causeSpecific),
    causeSpecificSe: causeSpecific.kind === 'fitted' ? describeErrors(causeSpecific.coefficients) : null,
  };
}

type Fit = ReturnType<typeof fitFineGray> | ReturnType<typeof fitCox>;
type Coefficients = FineGrayFit['coefficients'];

function coefficientsOf(fit: Fit): (number | null)[] {
  if (fit.kind === 'notEstimable') return [];
  return fit.coefficients.map((one) => (one.kind === 'estimated' ? one.coefficient : null));
}

function describeErrors(coefficients: Coefficients): (number | null)[] {
  return coefficients.map((one) =>
    one.kind === 'estimated' && one.interval.kind === 'estimated' ? one.interval.standardError : null,
  );
}

function describeFit(fit: FineGrayFit): Record<string, unknown> {
  const all = fit.coefficients.map((one) => (one.kind === 'estimated' ? one : undefined));
  const intervals = all.map((one) => (one?.interval.kind === 'estimated' ? one.interval : undefined));
  return {
    coef: all.map((one) => one?.coefficient ?? null),
    se: intervals.map((one) => one?.standardError ?? null),
    vcov: rowsOf(fit.covariance, fit.estimated.length),
    z: intervals.map((one) => one?.z ?? null),
    p: intervals.map((one) => one?.pValue ?? null),
    shr: all.map((one) => one?.hazardRatio ?? null),
    lower: intervals.map((one) => one?.lower ?? null),
    upper: intervals.map((one) => one?.upper ?? null),
    loglikNull: fit.nullLogLikelihood,
    loglik: fit.logLikelihood,
    converged: true,
  };
}
