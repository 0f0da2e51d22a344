import { z } from 'zod';
import { estimateFleissKappa } from '@/lib/statistics';

const shape = z.object({ counts: z.array(z.array(z.number())) });

/** Where nothing can be estimated the cases write null. */
const NO_VALUE = { kappa: null, pBar: null, pe: null, se0: null, z: null, p: null, categoryKappa: null };

export function answer(one: { readonly data: unknown }): unknown {
  const found = estimateFleissKappa(shape.parse(one.data).counts);
  if (found.kind === 'notEstimable') return NO_VALUE;
  return {
    kappa: found.kappa,
    pBar: found.observedAgreement,
    pe: found.expectedAgreement,
    se0: found.standardErrorUnderChance,
    z: found.z,
    p: found.pValue,
    categoryKappa: found.categories.map((one) => (one.kind === 'estimated' ? one.kappa : null)),
  };
}
