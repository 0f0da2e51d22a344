import { z } from 'zod';
import { deriveEwma } from '@/lib/statistics';
import { caseOf } from '../case-of';

const shape = z.object({ x: z.array(z.number()) });
const params = z.object({ lambda: z.number(), mu0: z.number(), sigma: z.number(), L: z.number() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { lambda, mu0, sigma, L } = params.parse(one.params);
  const chart = deriveEwma(shape.parse(one.data).x, {
    target: mu0,
    standardDeviation: sigma,
    newestShare: lambda,
    limitWidth: L,
  });
  return {
    ewma: [...chart.average],
    lower: [...chart.lower],
    upper: [...chart.upper],
    asymptoticLower: chart.asymptoticLower,
    asymptoticUpper: chart.asymptoticUpper,
    firstSignal: caseOf(chart.firstSignal),
  };
}
