import { z } from 'zod';
import { estimateRateRatio, testRateRatio } from '@/lib/statistics';

const pair = z.tuple([z.number(), z.number()]);
const shape = z.object({ x: pair, personTime: pair });
const params = z.looseObject({ confLevel: z.number().optional() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { x, personTime } = shape.parse(one.data);
  const { confLevel: confidenceLevel = 0.95 } = params.parse(one.params);
  const first = { events: x[0], personTime: personTime[0] };
  const second = { events: x[1], personTime: personTime[1] };
  const exact = estimateRateRatio(first, second, { confidenceLevel });
  const wald = estimateRateRatio(first, second, { limits: 'wald', confidenceLevel });
  const test = testRateRatio(first, second);
  if (exact.kind === 'notEstimable' || test.kind === 'notEstimable') return {};
  const written = (value: number): number | string => (value === Number.POSITIVE_INFINITY ? 'Inf' : value);
  return {
    ratio: written(exact.ratio),
    lower: exact.lower,
    upper: written(exact.upper),
    p: test.pValue,
    waldLower: wald.kind === 'estimated' ? wald.lower : null,
    waldUpper: wald.kind === 'estimated' ? wald.upper : null,
  };
}
