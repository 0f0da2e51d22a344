import { expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveCusumAlarmChance,
  deriveCusumRunLength,
  deriveCusumThreshold,
  deriveRunLengthUncertainty,
  estimateCusumRunLength,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { loadReference } from '../reference-cases';
import { seededRandom } from '../seeded-random';

const lattice = z.object({
  units: z.number(),
  D: z.number(),
  oddsRatio: z.number(),
  probability: z.number(),
  trueOddsRatio: z.number(),
  mean: z.number(),
  within: z.array(z.number()),
});
const simulation = z.object({
  probability: z.union([z.array(z.number()), z.number().transform((p) => [p])]),
  oddsRatio: z.number(),
  threshold: z.number(),
  trueOddsRatio: z.number(),
  runs: z.number(),
  mean: z.number(),
  standardError: z.number(),
  within200: z.number(),
});
const { exact, withinCases, simulated } = loadReference(
  'cusum-run-lengths',
  z.object({ exact: z.array(lattice), withinCases: z.array(z.number()), simulated: z.array(simulation) }),
);
const close = (got: number, want: number): void =>
  expect(Math.abs(got - want)).toBeLessThanOrEqual(1e-12 + 1e-9 * Math.abs(want));

it('agrees with the dense chain of R where all weights are whole steps', () => {
  for (const one of exact) {
    const mix = { probability: [one.probability] };
    const { oddsRatio, trueOddsRatio, units: cells } = one;
    const chart = { oddsRatio, trueOddsRatio, threshold: cells * Math.log(one.D) };
    close(estimable(deriveCusumRunLength(mix, chart, { cells })).mean, one.mean);
    withinCases.forEach((cases, i) => {
      close(estimable(deriveCusumAlarmChance(mix, chart, cases, { cells })).chance, one.within[i]);
    });
  }
  expect(exact.length).toBeGreaterThan(5);
});

it('chain and R simulation of mixed risks lie within 3 standard errors', () => {
  for (const one of simulated) {
    const mix = { probability: one.probability };
    const { mean } = estimable(deriveCusumRunLength(mix, one));
    expect(Math.abs(mean - one.mean)).toBeLessThan(3 * one.standardError);
    const { chance } = estimable(deriveCusumAlarmChance(mix, one, 200, { cells: 200 }));
    const { within200: share, runs } = one;
    expect(Math.abs(chance - share)).toBeLessThan(3 * Math.sqrt((share * (1 - share)) / runs));
  }
  expect(simulated.length).toBeGreaterThan(5);
});

it('chain and own simulation lie within 3 standard errors', () => {
  for (const [i, one] of simulated.entries()) {
    if (one.mean > 1500) continue;
    const mix = { probability: one.probability };
    const { mean } = estimable(deriveCusumRunLength(mix, one));
    const own = estimable(estimateCusumRunLength(mix, one, { random: seededRandom(100 + i), runs: 4000 }));
    expect(Math.abs(mean - own.mean)).toBeLessThan(3 * own.standardError);
  }
});

it('finds the threshold that R simulated from its run length', () => {
  const [one] = simulated;
  const mix = { probability: one.probability };
  const { threshold } = estimable(
    deriveCusumThreshold(mix, { oddsRatio: one.oddsRatio }, one.mean, { cells: 100 }),
  );
  // The run length grows about twofold per 0.5: three standard errors of it are 0.02.
  expect(Math.abs(threshold - one.threshold)).toBeLessThan(0.02);
});

it('draws of the baseline that are the shifted risks give the run lengths of the shift', () => {
  const [inControl, risen] = simulated;
  const shifted = inControl.probability.map((p) => (2 * p) / (1 + p));
  const draws = [inControl.probability, shifted];
  const found = estimable(
    deriveRunLengthUncertainty(inControl.probability, draws, { oddsRatio: 2, threshold: 2.5 }),
  );
  expect(Math.abs(found.runLengths[0] - inControl.mean)).toBeLessThan(3 * inControl.standardError);
  expect(Math.abs(found.runLengths[1] - risen.mean)).toBeLessThan(3 * risen.standardError);
});
