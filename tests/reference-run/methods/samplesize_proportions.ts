import { z } from 'zod';
import {
  estimateProportionsPower,
  estimateProportionsSampleSize,
  type ProportionsFormula,
} from '@/lib/statistics';

const shape = z.object({
  p1: z.number(),
  p2: z.number(),
  alphaTwoSided: z.number(),
  power: z.number(),
});

export function answer(one: { readonly params: unknown }): unknown {
  const { p1: first, p2: second, alphaTwoSided: significanceLevel, power } = shape.parse(one.params);
  const perArm = (formula: ProportionsFormula): { exact: number; whole: number } | null => {
    const size = estimateProportionsSampleSize({ first, second, power, significanceLevel }, { formula });
    return size.kind === 'estimated' ? { exact: size.perArm, whole: size.wholePerArm } : null;
  };
  const pooled = perArm('pooled');
  return {
    nPooledNull: pooled?.exact ?? null,
    // power.prop.test leaves out the far tail, as the pooled formula does.
    nPowerPropTest: pooled?.exact ?? null,
    nFleissCC: perArm('pooledCorrected')?.exact ?? null,
    nUnpooled: perArm('unpooled')?.exact ?? null,
    nArcsine: perArm('arcsine')?.exact ?? null,
    nArcsinePwr: perArm('arcsineBothTails')?.exact ?? null,
    powerAtCeil: pooled
      ? estimateProportionsPower({ first, second, perArm: pooled.whole, significanceLevel })
      : null,
  };
}
