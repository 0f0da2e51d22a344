import { z } from 'zod';
import { deriveRiskAdjustedEwma } from '@/lib/statistics';

const numbers = z.array(z.number());
const shape = z.object({ p: numbers, y: numbers });
const params = z.object({
  lambda: z.number(),
  L: z.number(),
  start: z.union([z.literal('mean(p)').transform(() => undefined), z.number()]).optional(),
});

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { p, y } = shape.parse(one.data);
  const { lambda, L, start } = params.parse(one.params);
  const design = { newestShare: lambda, limitWidth: L, ...(start === undefined ? {} : { start }) };
  const chart = deriveRiskAdjustedEwma({ event: y, probability: p }, design);
  if (chart.kind === 'notEstimable') return { reason: chart.reason };
  return {
    ewmaObserved: [...chart.observed],
    ewmaExpected: [...chart.expected],
    sd: [...chart.standardDeviation],
    lower: [...chart.lower],
    upper: [...chart.upper],
  };
}
