import { z } from 'zod';
import { adjustPValues } from '@/lib/statistics';

const shape = z.object({ p: z.array(z.number()) });

export function answer(one: { readonly data: unknown }): unknown {
  const { p } = shape.parse(one.data);
  return {
    bonferroni: Array.from(adjustPValues(p, 'bonferroni')),
    holm: Array.from(adjustPValues(p, 'holm')),
    hochberg: Array.from(adjustPValues(p, 'hochberg')),
    hommel: Array.from(adjustPValues(p, 'hommel')),
    BH: Array.from(adjustPValues(p, 'benjaminiHochberg')),
    BY: Array.from(adjustPValues(p, 'benjaminiYekutieli')),
  };
}
