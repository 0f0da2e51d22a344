import { z } from 'zod';
import { deriveRatioFunnelLimits, estimatePoissonRate } from '@/lib/statistics';

const numbers = z.array(z.number());
const shape = z.object({ observed: numbers, expected: numbers });

export function answer(one: { readonly data: unknown }): unknown {
  const { observed, expected } = shape.parse(one.data);
  const line = (probability: number): Record<string, number[]> => ({
    interpolatedRatio: [...deriveRatioFunnelLimits(expected, probability).limit],
  });
  const ratios = observed.map((events, i) => {
    const found = estimatePoissonRate(events, expected[i]);
    if (found.kind === 'notEstimable') throw new Error(found.reason);
    return found;
  });
  return {
    'p0.001': line(0.001),
    'p0.025': line(0.025),
    'p0.975': line(0.975),
    'p0.999': line(0.999),
    smr: {
      ratio: ratios.map(({ rate }) => rate),
      lower: ratios.map(({ lower }) => lower),
      upper: ratios.map(({ upper }) => upper),
    },
  };
}
