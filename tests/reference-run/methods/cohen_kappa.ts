import { z } from 'zod';
import { estimateCohenKappa, type KappaWeights } from '@/lib/statistics';

const shape = z.object({ table: z.array(z.array(z.number())) });

/** Where nothing can be estimated the cases write null. */
const NO_VALUE = { kappa: null, po: null, pe: null, se: null, se0: null, lower: null, upper: null, z: null };

export function answer(one: { readonly data: unknown }): unknown {
  const { table } = shape.parse(one.data);
  const summary = (weights: KappaWeights): unknown => {
    const found = estimateCohenKappa(table, { weights });
    if (found.kind === 'notEstimable') return NO_VALUE;
    return {
      kappa: found.kappa,
      po: found.observedAgreement,
      pe: found.expectedAgreement,
      se: found.standardError,
      se0: found.test.kind === 'tested' ? found.test.standardErrorUnderChance : 0,
      lower: found.lower,
      upper: found.upper,
      z: found.test.kind === 'tested' ? found.test.z : null,
    };
  };
  return {
    unweighted: summary('none'),
    linear: summary('linear'),
    quadratic: summary('quadratic'),
  };
}
