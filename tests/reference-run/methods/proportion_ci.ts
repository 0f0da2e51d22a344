import { z } from 'zod';
import { estimateProportion, type ProportionLimits } from '@/lib/statistics';

const numbers = z.array(z.number());
const shape = z.object({ x: numbers, n: numbers });
const params = z.looseObject({ confLevel: z.number().optional() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { x, n } = shape.parse(one.data);
  const { confLevel: confidenceLevel = 0.95 } = params.parse(one.params);
  const by = (limits: ProportionLimits): { estimate: number[]; lower: number[]; upper: number[] } => {
    const found = x.map((events, i) => {
      const proportion = estimateProportion(events, n[i], { limits, confidenceLevel });
      if (proportion.kind === 'notEstimable') throw new Error(proportion.reason);
      return proportion;
    });
    return {
      estimate: found.map(({ proportion }) => proportion),
      lower: found.map(({ lower }) => lower),
      upper: found.map(({ upper }) => upper),
    };
  };
  return {
    estimate: by('wilson').estimate,
    wilson: by('wilson'),
    wilsonCC: by('wilsonCorrected'),
    clopperPearson: by('clopperPearson'),
    agrestiCoullUntruncated: by('agrestiCoull'),
    jeffreys: by('jeffreys'),
    waldUntruncated: by('wald'),
    midP: by('midP'),
  };
}
