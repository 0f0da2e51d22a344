import { z } from 'zod';
import { type BarnardTest, testBarnard, testBoschloo } from '@/lib/statistics';
import { largestProbability, regionWhere } from '@/lib/statistics/proportions/nuisance';

const shape = z.object({ x1: z.number(), n1: z.number(), x2: z.number(), n2: z.number() });
type Counts = z.infer<typeof shape>;

export function answer(one: { readonly data: unknown }): unknown {
  const counts = shape.parse(one.data);
  const { x1, n1, x2, n2 } = counts;
  const first = { events: x1, n: n1 };
  const second = { events: x2, n: n2 };
  const pooled = testBarnard(first, second);
  const unpooled = testBarnard(first, second, { variance: 'unpooled' });
  const boschloo = testBoschloo(first, second);
  if (pooled.kind === 'notEstimable' || unpooled.kind === 'notEstimable') return {};
  if (boschloo.kind === 'notEstimable') return {};
  return {
    barnardPooled: { ...summary(pooled), pTwoSidedScipy: withoutTies(counts) },
    barnardUnpooled: summary(unpooled),
    boschloo: {
      pTwoSided: boschloo.pValue,
      pLess: boschloo.pLess,
      pGreater: boschloo.pGreater,
      scipy: { 'two-sided': boschloo.pValue, less: boschloo.pLess, greater: boschloo.pGreater },
    },
  };
}

function summary({ statistic, pValue }: BarnardTest): Record<string, unknown> {
  return { stat: Number.isFinite(statistic) ? statistic : statistic > 0 ? 'Inf' : '-Inf', pTwoSided: pValue };
}

/**
 * The p value as scipy gets it: it compares rounded statistics without tolerance, so that some tied tables fall out by the
 * last bit. Its own order of operations decides which; the maximum over pi is ours.
 */
function withoutTies({ x1, n1, x2, n2 }: Counts): number {
  const statistic = (x: number, y: number): number => {
    const [p, q] = [x / n1, y / n2];
    if (p === q) return 0;
    const mean = (x + y) / (n1 + n2);
    return Math.abs((p - q) / Math.sqrt(mean * (1 - mean) * (1 / n1 + 1 / n2)));
  };
  const seen = statistic(x1, x2);
  return largestProbability(regionWhere(n1, n2, (x, y) => statistic(x, y) >= seen));
}
