import { z } from 'zod';
import { deriveTabularCusum } from '@/lib/statistics';
import { caseOf } from '../case-of';

const shape = z.object({ x: z.array(z.number()) });
const params = z.object({ target: z.number(), k: z.number(), h: z.number() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { target, k, h } = params.parse(one.params);
  const chart = deriveTabularCusum(shape.parse(one.data).x, { target, slack: k, threshold: h });
  return {
    sHigh: [...chart.high],
    sLow: [...chart.low],
    firstHigh: caseOf(chart.firstHigh),
    firstLow: caseOf(chart.firstLow),
  };
}
