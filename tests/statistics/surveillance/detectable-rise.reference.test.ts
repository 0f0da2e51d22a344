import { expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveCusumDetectableChange,
  deriveDetectableRise,
  deriveRateDraws,
  testAlarmCount,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { loadReference } from '../reference-cases';

const rise = z.object({
  n: z.number(),
  baselineRate: z.number(),
  power: z.number(),
  significanceLevel: z.number(),
  criticalEvents: z.number().nullish(),
  attainedLevel: z.number().optional(),
  rate: z.number().optional(),
  oddsRatio: z.number().optional(),
});
const { rises, alarms, draws } = loadReference(
  'detectable-rises',
  z.object({
    rises: z.array(rise),
    alarms: z.array(
      z.object({
        cases: z.number(),
        runLength: z.number(),
        level: z.number(),
        lower: z.number(),
        upper: z.number(),
      }),
    ),
    draws: z.array(z.object({ events: z.number(), n: z.number(), quantiles: z.array(z.number()) })),
  }),
);
const close = (got: number, want: number | undefined): void =>
  expect(Math.abs(got - (want ?? Number.NaN))).toBeLessThanOrEqual(1e-9 * Math.abs(got));

it('agrees with qbinom, pbinom and qbeta of R on rises that an exact test would show', () => {
  for (const { criticalEvents, attainedLevel, rate, oddsRatio, ...design } of rises) {
    const found = deriveDetectableRise(design);
    if (typeof criticalEvents !== 'number') {
      expect(found).toMatchObject({ code: 'tooFewCases' });
      continue;
    }
    const { criticalEvents: critical, attainedLevel: level, ...smallest } = estimable(found);
    expect(critical).toBe(criticalEvents);
    close(level, attainedLevel);
    close(smallest.rate, rate);
    close(smallest.oddsRatio, oddsRatio);
  }
  expect(rises.length).toBeGreaterThan(30);
});

it('agrees with qpois of R on the alarms to expect', () => {
  for (const { cases, runLength, level, lower, upper } of alarms)
    expect(testAlarmCount(0, cases, runLength, { confidenceLevel: level })).toMatchObject({ lower, upper });
  expect(alarms.length).toBeGreaterThan(10);
});

it('agrees with qbeta of R on the draws of a rate', () => {
  for (const { events, n, quantiles } of draws) {
    const found = deriveRateDraws(events, n, quantiles.length);
    found.forEach((value, i) => {
      close(value, quantiles[i]);
    });
  }
  expect(draws.length).toBeGreaterThan(5);
});

it('finds the odds ratio back that gives a dense chain of R its chance of an alarm', () => {
  const { exact } = loadReference(
    'cusum-run-lengths',
    z.object({
      exact: z.array(
        z.object({
          units: z.number(),
          D: z.number(),
          oddsRatio: z.number(),
          probability: z.number(),
          trueOddsRatio: z.number(),
          within: z.array(z.number()),
        }),
      ),
    }),
  );
  const risen = exact.filter(({ trueOddsRatio }) => trueOddsRatio > 1);
  expect(risen.length).toBeGreaterThan(1);
  for (const { units: cells, D, oddsRatio, probability, trueOddsRatio, within } of risen) {
    const chart = { oddsRatio, threshold: cells * Math.log(D) };
    const options = { cells, power: within[1] };
    const found = estimable(deriveCusumDetectableChange({ probability: [probability] }, chart, 10, options));
    expect(found.trueOddsRatio).toBeCloseTo(trueOddsRatio, 5);
  }
});
