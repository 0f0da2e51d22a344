import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  deriveCusumAlarmChance,
  deriveCusumRunLength,
  deriveCusumThreshold,
  deriveRiskAdjustedCusum,
  deriveRunLengthUncertainty,
  estimateCusumRunLength,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { seededRandom } from '../seeded-random';

const risks = fc.array(fc.double({ min: 0.02, max: 0.5, noNaN: true }), { minLength: 1, maxLength: 8 });
const oddsRatios = fc.constantFrom(0.4, 0.6, 1.6, 2.5);
const thresholds = fc.double({ min: 0.3, max: 3, noNaN: true });
const few = { numRuns: 40 };
const cells = 100;

it('a longer way to the threshold takes longer, and a rise is found sooner than nothing', () => {
  fc.assert(
    fc.property(risks, oddsRatios, thresholds, (probability, oddsRatio, threshold) => {
      const at = (more: object): number =>
        estimable(deriveCusumRunLength({ probability }, { oddsRatio, threshold, ...more }, { cells })).mean;
      const here = at({});
      expect(here).toBeGreaterThanOrEqual(1);
      expect(at({ threshold: threshold * 1.3 })).toBeGreaterThan(here * 0.999);
      expect(at({ trueOddsRatio: oddsRatio })).toBeLessThan(here * 1.001);
    }),
    few,
  );
});

it('neither the order of the cases nor writing all of them twice matters', () => {
  fc.assert(
    fc.property(risks, oddsRatios, thresholds, (probability, oddsRatio, threshold) => {
      const of = (rows: number[]): number =>
        estimable(deriveCusumRunLength({ probability: rows }, { oddsRatio, threshold }, { cells })).mean;
      const here = of(probability);
      expect(of(probability.toReversed()) / here).toBeCloseTo(1, 8);
      expect(of([...probability, ...probability]) / here).toBeCloseTo(1, 8);
    }),
    few,
  );
});

it('the chance of an alarm grows with the cases, from 0 to at most 1', () => {
  fc.assert(
    fc.property(risks, oddsRatios, thresholds, (probability, oddsRatio, threshold) => {
      let before = 0;
      for (const cases of [0, 1, 2, 5, 20, 100]) {
        const found = deriveCusumAlarmChance({ probability }, { oddsRatio, threshold }, cases, { cells: 50 });
        const { chance } = estimable(found);
        expect(chance).toBeGreaterThanOrEqual(before - 1e-9);
        expect(chance).toBeLessThanOrEqual(1);
        before = chance;
      }
    }),
    few,
  );
});

it('the threshold found leads back to the run length wanted', () => {
  fc.assert(
    fc.property(
      risks,
      fc.constantFrom(1.6, 2.5),
      fc.integer({ min: 60, max: 2000 }),
      (probability, oddsRatio, wanted) => {
        const found = estimable(deriveCusumThreshold({ probability }, { oddsRatio }, wanted, { cells: 40 }));
        const { threshold } = found;
        const { mean } = estimable(
          deriveCusumRunLength({ probability }, { oddsRatio, threshold }, { cells: 40 }),
        );
        expect(mean).toBe(found.runLength);
        expect(mean).toBeGreaterThanOrEqual(wanted);
      },
    ),
    { numRuns: 15 },
  );
});

it('the simulation walks as the chart does', () => {
  fc.assert(
    fc.property(risks, thresholds, fc.integer({ min: 1, max: 1e6 }), (probability, threshold, seed) => {
      const chart = { oddsRatio: 2.5, threshold: Math.min(threshold, 1.2) };
      const random = seededRandom(seed);
      const drawn: number[] = [];
      const noting = (): number => {
        const u = random();
        drawn.push(u);
        return u;
      };
      const runs = 3;
      const found = estimable(estimateCusumRunLength({ probability }, chart, { random: noting, runs }));
      const rows = drawn.filter((_, i) => i % 2 === 0).map((u) => Math.floor(u * probability.length));
      const event = drawn.filter((_, i) => i % 2 === 1).map((u, i) => (u < probability[rows[i]] ? 1 : 0));
      const path = deriveRiskAdjustedCusum(
        { event, probability: rows.map((row) => probability[row]) },
        chart,
      );
      expect(path.signals).toHaveLength(runs);
      expect(path.signals.at(-1)).toBe(event.length);
      expect(found.mean * runs).toBeCloseTo(event.length, 8);
    }),
    few,
  );
});

it('limits of an uncertain run length enclose its median and lie among the draws', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.05, max: 0.3, noNaN: true }), { minLength: 1, maxLength: 9 }),
      (rates) => {
        const draws = rates.map((rate) => [rate]);
        const chart = { oddsRatio: 2, threshold: 1.5 };
        const found = estimable(deriveRunLengthUncertainty([0.1], draws, chart, { cells: 40 }));
        expect(found.lower).toBeLessThanOrEqual(found.median);
        expect(found.median).toBeLessThanOrEqual(found.upper);
        expect(found.lower).toBeGreaterThanOrEqual(Math.min(...found.runLengths));
        expect(found.upper).toBeLessThanOrEqual(Math.max(...found.runLengths));
      },
    ),
    few,
  );
});
