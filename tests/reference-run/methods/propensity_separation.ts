import { z } from 'zod';
import { fitLogisticRegression } from '@/lib/statistics';
import { times } from '../survival-columns';

/** All columns but `treat` are covariates. */
const shape = z.record(z.string(), times);

export function answer(one: { readonly data: unknown }): unknown {
  const { treat = [], ...covariates } = shape.parse(one.data);
  const fit = fitLogisticRegression({ outcome: treat, covariates: Object.values(covariates) });
  return {
    converges: fit.kind === 'fitted',
    separation: fit.kind === 'notEstimable' && fit.code === 'separation',
  };
}
