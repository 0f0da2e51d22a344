import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  deriveFunnelLimits,
  deriveFunnelPoints,
  deriveRatioFunnelLimits,
  deriveWilsonFunnelLimits,
  estimateOverdispersion,
} from '@/lib/statistics';
import { estimable } from '../estimable';

const sizes = fc.integer({ min: 1, max: 3000 });
const targets = fc.double({ min: 0.005, max: 0.995, noNaN: true });
const probabilities = fc.double({ min: 0.0005, max: 0.9995, noNaN: true });
const unit = fc
  .integer({ min: 1, max: 400 })
  .chain((n) => fc.record({ n: fc.constant(n), events: fc.integer({ min: 0, max: n }) }));

it('an interpolated limit lies between its count and the one below, and rises with the probability', () => {
  fc.assert(
    fc.property(sizes, targets, probabilities, (n, target, probability) => {
      const line = deriveFunnelLimits([n], target, probability);
      expect(line.uncutLimit[0] * n).toBeLessThanOrEqual(line.quantileCount[0] + 1e-6);
      expect(line.uncutLimit[0] * n).toBeGreaterThan(line.quantileCount[0] - 1 - 1e-6);
      expect(line.limit[0]).toBeGreaterThanOrEqual(0);
      expect(line.limit[0]).toBeLessThanOrEqual(1 + 1e-9);
      const above = deriveFunnelLimits([n], target, probability + (1 - probability) / 2);
      expect(above.uncutLimit[0]).toBeGreaterThan(line.uncutLimit[0] - 1e-9);
    }),
  );
});

it('a unit on a limit has that much below it: a count above the quantile has a larger lower tail', () => {
  fc.assert(
    fc.property(unit, targets, probabilities, ({ n, events }, target, probability) => {
      const [count] = deriveFunnelLimits([n], target, probability).quantileCount;
      const points = deriveFunnelPoints({ events: [events], n: [n] }, target);
      fc.pre(Math.abs(points.lowerTail[0] - probability) > 1e-9);
      expect(events >= count).toBe(points.lowerTail[0] >= probability);
      const mass = points.lowerTail[0] + points.upperTail[0] - 1;
      expect(points.midUpperTail[0]).toBeCloseTo(points.upperTail[0] - mass / 2, 10);
    }),
  );
});

it('a rare event in many cases has the limits of the Poisson funnel', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.5, max: 30, noNaN: true }), probabilities, (mean, probability) => {
      const n = 5_000_000;
      const binomial = deriveFunnelLimits([n], mean / n, probability);
      const poisson = deriveRatioFunnelLimits([mean], probability);
      expect(binomial.uncutLimit[0] / (mean / n)).toBeCloseTo(poisson.uncutLimit[0], 3);
    }),
    { numRuns: 50 },
  );
});

it('the lines by Wilson enclose the target and close in on it', () => {
  fc.assert(
    fc.property(sizes, targets, (n, target) => {
      const { lower, upper } = deriveWilsonFunnelLimits([n, 4 * n], target);
      expect(lower[0]).toBeLessThan(target);
      expect(upper[0]).toBeGreaterThan(target);
      expect(upper[1] - lower[1]).toBeLessThan(upper[0] - lower[0]);
    }),
  );
});

it('neither the order of the units nor the name of the outcome changes phi; with 1 - target z turns its sign', () => {
  fc.assert(
    fc.property(fc.array(unit, { minLength: 1, maxLength: 15 }), targets, (list, target) => {
      const of = (units: readonly { events: number; n: number }[]) => ({
        events: units.map(({ events }) => events),
        n: units.map(({ n }) => n),
      });
      const { phi } = estimable(estimateOverdispersion(of(list), target));
      expect(phi).toBeGreaterThanOrEqual(0);
      expect(estimable(estimateOverdispersion(of(list.toReversed()), target)).phi / (phi || 1)).toBeCloseTo(
        phi === 0 ? 0 : 1,
        9,
      );
      const turned = of(list.map(({ events, n }) => ({ events: n - events, n })));
      const here = deriveFunnelPoints(of(list), target);
      const there = deriveFunnelPoints(turned, 1 - target);
      here.z.forEach((z, i) => {
        expect(Math.abs(there.z[i] + z)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(z)) * 1000);
      });
    }),
  );
});
