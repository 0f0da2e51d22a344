import { z } from 'zod';
import { fitCox } from '@/lib/statistics';
import { times } from '../survival-columns';

const params = z.object({ covariates: z.array(z.string()) });
const shape = z.record(z.string(), times);

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { covariates } = params.parse(one.params);
  const data = shape.parse(one.data);
  const columns = { timeDays: data.time, event: data.status };
  const fit = fitCox({ ...columns, covariates: covariates.map((name) => data[name]) });
  if (fit.kind !== 'fitted') return { reason: fit.reason };
  const reduced = fitCox({ ...columns, covariates: fit.estimated.map((j) => data[covariates[j]]) });
  if (reduced.kind !== 'fitted') return { reason: reduced.reason };
  return {
    coef: fit.coefficients.map((found) => (found.kind === 'estimated' ? found.coefficient : null)),
    aliased: fit.coefficients.map((found) => found.kind === 'notEstimable'),
    loglik: [fit.nullLogLikelihood, fit.logLikelihood],
    reducedModelCoef: reduced.coefficients.map((found) =>
      found.kind === 'estimated' ? found.coefficient : null,
    ),
  };
}
