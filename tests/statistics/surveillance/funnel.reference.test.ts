import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveFunnelLimits,
  deriveFunnelPoints,
  deriveRatioFunnelLimits,
  deriveWilsonFunnelLimits,
  estimateOverdispersion,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

const numbers = z.array(z.number());

describe.each(['funnel_limits', 'funnel_oe'])('%s', (method) => {
  const cases = keptCases(method);

  it('has cases', () => {
    expect(cases.length).toBeGreaterThan(0);
  });

  it.each(cases)('$id ($rCall)', (one) => {
    expect(differencesFrom(one)).toEqual([]);
  });
});

it('reads the largest unit of a funnel as R does', () => {
  const { data, expected } = loadReference(
    'funnel-a',
    z.object({
      data: z.object({ n: numbers, x: numbers }),
      expected: z.object({
        'p0.999': z.object({ interpolated: numbers }),
        wilsonAroundTarget: z.object({ upper95: numbers }),
        points: z.object({ midPUpper: numbers }),
        overdispersionPhi: z.number(),
      }),
    }),
  );
  const last = data.n.length - 1;
  const units = { events: data.x, n: data.n };
  expect(deriveFunnelLimits(data.n, 0.05, 0.999).limit[last]).toBeCloseTo(
    expected['p0.999'].interpolated[last],
    12,
  );
  expect(deriveWilsonFunnelLimits(data.n, 0.05).upper[last]).toBeCloseTo(
    expected.wilsonAroundTarget.upper95[last],
    12,
  );
  expect(deriveFunnelPoints(units, 0.05).midUpperTail[last]).toBeCloseTo(expected.points.midPUpper[last], 12);
  expect(estimable(estimateOverdispersion(units, 0.05)).phi).toBeCloseTo(expected.overdispersionPhi, 12);
});

it('reads the last ratio of a funnel of observed over expected as R does', () => {
  const { data, expected } = loadReference(
    'funnel-oe-a',
    z.object({
      data: z.object({ expected: numbers }),
      expected: z.object({ 'p0.025': z.object({ interpolatedRatio: numbers }) }),
    }),
  );
  const last = data.expected.length - 1;
  expect(deriveRatioFunnelLimits(data.expected, 0.025).limit[last]).toBeCloseTo(
    expected['p0.025'].interpolatedRatio[last],
    12,
  );
});
