import { expect, it } from 'vitest';
import { z } from 'zod';
import { deriveGeometricChart } from '@/lib/statistics';
import { loadReference } from '../reference-cases';

it('has the limits that qgeom of R gives', () => {
  const { limits } = loadReference(
    'geometric-limits',
    z.object({
      limits: z.array(
        z.object({
          baselineRate: z.number(),
          tailProbability: z.number(),
          lowerLimit: z.number(),
          upperLimit: z.number(),
        }),
      ),
    }),
  );
  for (const { lowerLimit, upperLimit, ...design } of limits)
    expect(deriveGeometricChart([], design)).toMatchObject({ lowerLimit, upperLimit });
  expect(limits).toHaveLength(40);
});
