import { z } from 'zod';
import { testProportionTrend } from '@/lib/statistics';

const numbers = z.array(z.number());
const shape = z.object({ x: numbers, n: numbers, scores: numbers });

/** Where nothing can be tested the cases write null. */
const NO_VALUE = {
  chisq: null,
  z: null,
  p: null,
  M2: null,
  pM2: null,
  overallChisq: null,
  overallDf: null,
  departureChisq: null,
};

export function answer(one: { readonly data: unknown }): unknown {
  const { x: events, n, scores } = shape.parse(one.data);
  const trend = testProportionTrend({ events, n, scores });
  if (trend.kind === 'notEstimable') return NO_VALUE;
  return {
    chisq: trend.chiSquare,
    z: trend.z,
    p: trend.pValue,
    M2: trend.correlationChiSquare,
    pM2: trend.correlationPValue,
    overallChisq: trend.overallChiSquare,
    overallDf: trend.overallDegreesOfFreedom,
    // With two groups nothing is left over.
    departureChisq: trend.departure.kind === 'tested' ? trend.departure.chiSquare : 0,
  };
}
