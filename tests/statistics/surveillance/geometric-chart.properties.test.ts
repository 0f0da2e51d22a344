import fc from 'fast-check';
import { expect, it } from 'vitest';
import { deriveGeometricChart } from '@/lib/statistics';

const rates = fc.double({ min: 0.001, max: 0.95, noNaN: true });
const tails = fc.double({ min: 0.0005, max: 0.49, noNaN: true });

it('limits leave no more than the tail on each side, and one case nearer would leave more', () => {
  fc.assert(
    fc.property(rates, tails, (baselineRate, tailProbability) => {
      const { lowerLimit, upperLimit } = deriveGeometricChart([], { baselineRate, tailProbability });
      const atMost = (gap: number): number => 1 - (1 - baselineRate) ** gap;
      expect(atMost(lowerLimit)).toBeLessThanOrEqual(tailProbability + 1e-10);
      expect(atMost(lowerLimit + 1)).toBeGreaterThan(tailProbability - 1e-10);
      expect(1 - atMost(upperLimit - 1)).toBeLessThanOrEqual(tailProbability + 1e-10);
      expect(1 - atMost(upperLimit - 2)).toBeGreaterThan(tailProbability - 1e-10);
      expect(lowerLimit).toBeLessThan(upperLimit);
    }),
  );
});

it('gaps and the open end add up to the series; signals are the gaps at or beyond a limit', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(0, 0, 0, 1), { maxLength: 120 }),
      rates,
      tails,
      (event, rate, tail) => {
        const chart = deriveGeometricChart(event, { baselineRate: rate, tailProbability: tail });
        const total = chart.gap.reduce((sum, gap) => sum + gap, 0);
        expect(total + chart.casesSinceEvent).toBe(event.length);
        expect(chart.endedAt.at(-1) ?? 0).toBe(total);
        expect(chart.gap).toHaveLength(event.filter((y) => y === 1).length);
        const beyond = [...chart.gap].filter((gap) => gap <= chart.lowerLimit || gap >= chart.upperLimit);
        expect(chart.signals.map(({ row }) => chart.gap[row])).toEqual(beyond);
      },
    ),
  );
});
