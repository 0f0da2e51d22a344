import { z } from 'zod';
import { estimatePoissonRate, type PoissonRateLimits, testPoissonRate } from '@/lib/statistics';

const numbers = z.array(z.number());
const shape = z.object({ x: numbers, personTime: numbers });
const params = z.looseObject({ confLevel: z.number().optional(), r: z.number().optional() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { x, personTime } = shape.parse(one.data);
  const { confLevel: confidenceLevel = 0.95, r = 1 } = params.parse(one.params);
  const by = (limits: PoissonRateLimits): { rate: number[]; lower: number[]; upper: number[] } => {
    const found = x.map((events, i) => {
      const rate = estimatePoissonRate(events, personTime[i], { limits, confidenceLevel });
      if (rate.kind === 'notEstimable') throw new Error(rate.reason);
      return rate;
    });
    return {
      rate: found.map(({ rate }) => rate),
      lower: found.map(({ lower }) => lower),
      upper: found.map(({ upper }) => upper),
    };
  };
  return {
    ...by('exact'),
    byar: by('byar'),
    pTwoSidedVsR: x.map((events, i) => {
      const test = testPoissonRate(events, personTime[i], r);
      return test.kind === 'tested' ? test.pValue : null;
    }),
  };
}
