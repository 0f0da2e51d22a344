import { z } from 'zod';
import { deriveObservedMinusExpected, deriveRiskAdjustedCusum } from '@/lib/statistics';
import { caseOf } from '../case-of';

const numbers = z.array(z.number());
const shape = z.object({ p: numbers, y: numbers });
const params = z.object({
  h: z.number(),
  hDown: z.number(),
  oddsRatioUp: z.number(),
  oddsRatioDown: z.number(),
});

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { p, y } = shape.parse(one.data);
  const { h, hDown, oddsRatioUp, oddsRatioDown } = params.parse(one.params);
  const outcomes = { event: y, probability: p };
  const up = deriveRiskAdjustedCusum(outcomes, { oddsRatio: oddsRatioUp, threshold: h });
  const down = deriveRiskAdjustedCusum(outcomes, { oddsRatio: oddsRatioDown, threshold: hDown });
  const sums = deriveObservedMinusExpected(outcomes);
  return {
    weightUp: [...up.weight],
    sUp: [...up.sum],
    firstSignalUp: caseOf(up.firstSignal),
    weightDown: [...down.weight],
    sDown: [...down.sum],
    firstSignalDown: caseOf(down.firstSignal),
    sUpWithReset: [...up.sumWithReset],
    signalsWithReset: up.signals,
    observed: [...sums.observed],
    expected: [...sums.expected],
    vlad: [...sums.vlad],
    cumOminusE: [...sums.observedMinusExpected],
    sdOE: [...sums.standardDeviation],
  };
}
