import { z } from 'zod';
import { estimateZeroEventLimits } from '@/lib/statistics';

const shape = z.object({ n: z.array(z.number()) });

export function answer(one: { readonly data: unknown }): unknown {
  const found = shape.parse(one.data).n.map((n) => {
    const limits = estimateZeroEventLimits(n);
    if (limits.kind === 'notEstimable') throw new Error(limits.reason);
    return limits;
  });
  return {
    threeOverN: found.map(({ ruleOfThree }) => ruleOfThree),
    exactOneSided95: found.map(({ exactOneSided }) => exactOneSided),
    exactTwoSided95Upper: found.map(({ exactTwoSidedUpper }) => exactTwoSidedUpper),
    minusLog05OverN: found.map(({ poissonOneSided }) => poissonOneSided),
    wilsonUpper: found.map(({ wilsonUpper }) => wilsonUpper),
  };
}
