import { z } from 'zod';
import { type EValueMeasure, estimateEValue } from '@/lib/statistics';

const limit = z.number().nullish();
const shape = z.object({ type: z.string(), estimate: z.number(), lower: limit, upper: limit });

/** Ratios of rare outcomes stand for risk ratios. */
const MEASURES: ReadonlyMap<string, EValueMeasure> = new Map([
  ['RR', 'riskRatio'],
  ['OR', 'oddsRatioRare'],
  ['ORrare', 'oddsRatioRare'],
  ['ORcommon', 'oddsRatioCommon'],
  ['HR', 'hazardRatioRare'],
  ['HRrare', 'hazardRatioRare'],
  ['HRcommon', 'hazardRatioCommon'],
]);

export function answer(one: { readonly data: unknown }): unknown {
  const { type, estimate, lower, upper } = shape.parse(one.data);
  const measure = MEASURES.get(type);
  if (!measure) throw new Error(`no such type of ratio: ${type}`);
  const limits = typeof lower === 'number' && typeof upper === 'number' ? { lower, upper } : {};
  const found = estimateEValue({ estimate, ...limits }, { measure });
  const given = 'lower' in found.limits ? found.limits : { lower: null, upper: null };
  return {
    rrScale: [found.riskRatio, given.lower, given.upper],
    eValueEstimate: found.eValue,
    eValueCI: typeof found.eValueOfLimit === 'number' ? found.eValueOfLimit : null,
  };
}
