import { z } from 'zod';
import {
  deriveFunnelLimits,
  deriveFunnelPoints,
  deriveWilsonFunnelLimits,
  estimateOverdispersion,
} from '@/lib/statistics';

const numbers = z.array(z.number());
const shape = z.object({ x: numbers, n: numbers });
const params = z.object({ target: z.number() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { x: events, n } = shape.parse(one.data);
  const { target } = params.parse(one.params);
  const line = (probability: number): Record<string, number[]> => {
    const found = deriveFunnelLimits(n, target, probability);
    return {
      quantileCount: [...found.quantileCount],
      interpolated: [...found.limit],
      interpolatedRaw: [...found.uncutLimit],
      normal: [...found.normal],
    };
  };
  const wilson = deriveWilsonFunnelLimits(n, target);
  const points = deriveFunnelPoints({ events, n }, target);
  const spread = estimateOverdispersion({ events, n }, target);
  return {
    'p0.001': line(0.001),
    'p0.025': line(0.025),
    'p0.975': line(0.975),
    'p0.999': line(0.999),
    wilsonAroundTarget: { lower95: [...wilson.lower], upper95: [...wilson.upper] },
    points: {
      rate: [...points.rate],
      pLower: [...points.lowerTail],
      pUpper: [...points.upperTail],
      midPUpper: [...points.midUpperTail],
      z: [...points.z],
    },
    overdispersionPhi: spread.kind === 'estimated' ? spread.phi : null,
  };
}
