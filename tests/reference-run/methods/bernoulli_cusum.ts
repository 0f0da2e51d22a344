import { z } from 'zod';
import { deriveBernoulliCusum } from '@/lib/statistics';
import { caseOf } from '../case-of';

const shape = z.object({ y: z.array(z.number()) });
const params = z.object({ p0: z.number(), p1: z.number(), h: z.number() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { p0, p1, h } = params.parse(one.params);
  const chart = deriveBernoulliCusum(shape.parse(one.data).y, {
    baselineRate: p0,
    shiftedRate: p1,
    threshold: h,
  });
  return {
    weightEvent: chart.weightOfEvent,
    weightNonEvent: chart.weightOfNone,
    S: [...chart.sum],
    firstSignal: caseOf(chart.firstSignal),
  };
}
