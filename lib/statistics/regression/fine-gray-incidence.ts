import { type Column, checkFinite, checkTimes } from '../check-input';
import { StatisticsError } from '../errors';
import { countThrough } from '../survival/equal-times';
import type { FineGrayFit } from './fine-gray';

/**
 * The incidence that a fit predicts for one case, at fixed times (days, any order).
 *
 * Estimand: F(t | x), the probability of the cause by t. Formula: 1 - exp(-H(t) exp(b'(x - centre))), H the cumulative
 * subdistribution hazard of the mean case (Breslow's sum of d / risk at stake; Fine & Gray 1999). Covariates without a
 * coefficient add nothing. After the last event the last value is carried. No limits are given.
 * @throws StatisticsError unequalLengths (`covariates`: one value per covariate of the fit), notFinite, negative (`times`).
 */
export function deriveFineGrayIncidence(fit: FineGrayFit, covariates: Column, times: Column): Float64Array {
  checkTimes('times', times);
  checkFinite('covariates', covariates);
  if (covariates.length !== fit.coefficients.length) {
    const message = `covariates has ${covariates.length} values; the fit has ${fit.coefficients.length} covariates.`;
    throw new StatisticsError('unequalLengths', 'covariates', undefined, message);
  }
  const { timeDays, cumulativeHazard, centre } = fit.baseline;
  let predictor = 0;
  for (const [k, j] of fit.estimated.entries()) {
    const one = fit.coefficients[j];
    if (one.kind === 'estimated') predictor += one.coefficient * (covariates[j] - centre[k]);
  }
  return Float64Array.from(times, (time) => {
    const through = countThrough(timeDays, time);
    return through === 0 ? 0 : -Math.expm1(-cumulativeHazard[through - 1] * Math.exp(predictor));
  });
}
