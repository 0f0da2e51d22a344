import { z } from 'zod';
import {
  estimateEventProbability,
  estimateLogRankEvents,
  estimateLogRankPower,
  estimateLogRankSampleSize,
  type FollowUpPlan,
  type LogRankFormula,
} from '@/lib/statistics';

const optional = z.number().nullish();
const shape = z.object({
  hr: z.number(),
  alphaTwoSided: z.number(),
  power: z.number(),
  ratioTreatedToControl: z.number(),
  survivalControl: optional,
  accrual: optional,
  followup: optional,
  hazardControl: optional,
});
type Params = z.infer<typeof shape>;

export function answer(one: { readonly params: unknown }): unknown {
  const params = shape.parse(one.params);
  const design = {
    hazardRatio: params.hr,
    power: params.power,
    significanceLevel: params.alphaTwoSided,
    allocationRatio: params.ratioTreatedToControl,
  };
  const schoenfeld = estimateLogRankEvents(design);
  const freedman = estimateLogRankEvents(design, { formula: 'freedman' });
  if (schoenfeld.kind === 'notEstimable' || freedman.kind === 'notEstimable') return {};
  const cases = (plan: FollowUpPlan, formula: LogRankFormula): number | null => {
    const size = estimateLogRankSampleSize(design, plan, { formula });
    return size.kind === 'estimated' ? size.cases : null;
  };
  const [fixed, accrual] = [fixedPlan(params), accrualPlan(params)];
  return {
    eventsSchoenfeld: schoenfeld.events,
    eventsFreedman: freedman.events,
    ceilSchoenfeld: schoenfeld.wholeEvents,
    ceilFreedman: freedman.wholeEvents,
    powerSchoenfeldAtCeil: estimateLogRankPower({ ...design, events: schoenfeld.wholeEvents }),
    ...(fixed && {
      survivalTreated: 1 - estimateEventProbability(fixed, design).treated,
      eventProbFixed: estimateEventProbability(fixed, design).overall,
      nSchoenfeldFixed: cases(fixed, 'schoenfeld'),
      nFreedmanFixed: cases(fixed, 'freedman'),
    }),
    ...(accrual && {
      eventProbAccrual: estimateEventProbability(accrual, design).overall,
      nSchoenfeldAccrual: cases(accrual, 'schoenfeld'),
      nFreedmanAccrual: cases(accrual, 'freedman'),
    }),
  };
}

function fixedPlan({ survivalControl }: Params): FollowUpPlan | null {
  return typeof survivalControl === 'number' ? { kind: 'fixed', survivalControl } : null;
}

function accrualPlan({ hazardControl, accrual, followup }: Params): FollowUpPlan | null {
  if (typeof hazardControl !== 'number' || typeof accrual !== 'number' || typeof followup !== 'number') {
    return null;
  }
  return { kind: 'accrual', hazardControl, accrual, followUp: followup };
}
