import { z } from 'zod';
import { fitCox } from '@/lib/statistics';
import { times } from '../survival-columns';

const shape = z.looseObject({ time: times, status: times }).catchall(times);

export function answer(one: { readonly data: unknown }): unknown {
  const { time: timeDays, status: event, ...covariates } = shape.parse(one.data);
  return { defined: fitCox({ timeDays, event, covariates: Object.values(covariates) }).kind === 'fitted' };
}
