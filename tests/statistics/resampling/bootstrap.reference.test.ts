import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveBootstrapLimits,
  estimateByBootstrap,
  estimatePropensityWeightedDifference,
  estimateSurvivalByBootstrap,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differences, loadReference } from '../reference-cases';

const numbers = z.array(z.number());

describe('limits from the replicates of the R package boot (boot.ci)', () => {
  const { cases, tolerance } = loadReference(
    'bootstrap-limits',
    z.object({
      tolerance: z.object({ rel: z.number(), abs: z.number() }),
      cases: z.array(
        z.object({
          values: numbers,
          power: z.number(),
          confidenceLevel: z.number(),
          estimate: z.number(),
          replicates: numbers,
          influence: numbers,
          percentile: numbers,
          bca: numbers,
        }),
      ),
    }),
  );

  it.each(cases.map((one, i) => ({ i, one })))('case $i: percentile and BCa', ({ one }) => {
    const { estimate, replicates, influence, confidenceLevel } = one;
    for (const limits of ['percentile', 'bca'] as const) {
      const found = estimable(
        deriveBootstrapLimits({ estimate, replicates, influence }, { limits, confidenceLevel }),
      );
      expect(differences(limits, [found.lower, found.upper], one[limits], tolerance)).toEqual([]);
    }
  });

  it('are found, within the error of drawing, from draws of its own', () => {
    const { values, power, estimate, replicates, confidenceLevel } = cases[2];
    const statistic = (rows: Int32Array): number =>
      (rows.reduce((sum, row) => sum + values[row], 0) / rows.length) ** power;
    const found = estimable(
      estimateByBootstrap({ rows: values.length }, statistic, {
        seed: 21,
        replicates: 3999,
        confidenceLevel,
      }),
    );
    expect(found.estimate).toBeCloseTo(estimate, 10);
    const mean = replicates.reduce((sum, value) => sum + value, 0) / replicates.length;
    const spread = Math.sqrt(
      replicates.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (replicates.length - 1),
    );
    expect(Math.abs(found.mean - mean)).toBeLessThan((4 * spread) / Math.sqrt(800));
    // The replicates are skewed, so their spread is known to within some 10 %.
    expect(Math.abs(found.standardError / spread - 1)).toBeLessThan(0.12);
  });
});

describe('a Kaplan-Meier curve against R (survfit, and rows drawn by sample.int)', () => {
  const r = loadReference(
    'survival-bootstrap',
    z.object({
      time: numbers,
      event: numbers,
      times: numbers,
      survival: numbers,
      greenwood: numbers,
      mean: numbers,
      standardError: numbers,
      percentile: z.array(numbers),
      acceleration: numbers,
      draws: z.number(),
    }),
  );
  const data = { timeDays: r.time, event: r.event };
  const found = estimateSurvivalByBootstrap(data, r.times, { seed: 77, replicates: 8000 }).map(estimable);

  it.each([0, 1])('has its value, mean and spread at time %i', (k) => {
    expect(found[k].survival).toBeCloseTo(r.survival[k], 12);
    const error = r.standardError[k];
    expect(Math.abs(found[k].mean - r.mean[k])).toBeLessThan(4 * error * Math.sqrt(1 / 8000 + 1 / r.draws));
    expect(Math.abs(found[k].standardError / error - 1)).toBeLessThan(
      4 * Math.sqrt(1 / 16_000 + 0.5 / r.draws),
    );
    expect(Math.abs(found[k].standardError / r.greenwood[k] - 1)).toBeLessThan(0.05);
    const { lower, upper } = estimable(found[k].interval);
    // A 2.5 % quantile of 8000 is known to within some 0.03 standard errors.
    expect(Math.abs(lower - r.percentile[k][0])).toBeLessThan(0.15 * error);
    expect(Math.abs(upper - r.percentile[k][1])).toBeLessThan(0.15 * error);
  });

  it('moves its BCa limits by the acceleration found in R', () => {
    const bca = estimateSurvivalByBootstrap(data, r.times, { seed: 77, replicates: 8000, limits: 'bca' });
    for (const [k, one] of bca.map(estimable).entries()) {
      // Any influences with this third moment give the same limits: one row of c and two of -c/2, filled up with others.
      const { estimate, replicates } = { estimate: one.survival, replicates: one.replicates };
      const influence = influenceWith(r.acceleration[k]);
      const want = estimable(deriveBootstrapLimits({ estimate, replicates, influence }, { limits: 'bca' }));
      const { lower, upper } = estimable(one.interval);
      expect(lower).toBeCloseTo(want.lower, 4);
      expect(upper).toBeCloseTo(want.upper, 4);
    }
  });
});

/** Influences of 0 mean whose acceleration is as given: m values of 1/m against one of -1. */
function influenceWith(acceleration: number): number[] {
  // sum L^3/(6 (sum L^2)^1.5) of s, and k copies of +-1, which only add to the squares.
  const sign = Math.sign(acceleration);
  const size = Math.abs(6 * acceleration);
  // s^3/(s^2 + q)^1.5 = size at s = 1: q = size^(-2/3) - 1.
  const half = Math.sqrt((size ** (-2 / 3) - 1) / 2);
  return [sign, half, -half];
}

it('agrees with the variance of a propensity-weighted difference that counts the estimation in', () => {
  const { cases } = loadReference(
    'propensity-sandwich',
    z.object({
      cases: z.array(
        z.object({ estimand: z.string(), outcome: numbers, treated: numbers, covariates: z.array(numbers) }),
      ),
    }),
  );
  const { outcome, treated, covariates } = cases[8];
  expect(cases[8].estimand).toBe('overlap');
  const pick = (column: readonly number[], rows: Int32Array): number[] =>
    Array.from(rows, (row) => column[row]);
  const answer = (rows: Int32Array) =>
    estimatePropensityWeightedDifference(
      {
        outcome: pick(outcome, rows),
        treated: pick(treated, rows),
        covariates: covariates.map((column) => pick(column, rows)),
      },
      { estimand: 'overlap' },
    );
  const whole = estimable(answer(Int32Array.from(outcome.keys())));
  const found = estimable(
    estimateByBootstrap(
      { rows: outcome.length },
      (rows) => {
        const one = answer(rows);
        return one.kind === 'estimated' ? one.difference : one;
      },
      { seed: 8, replicates: 1000 },
    ),
  );
  const { standardError } = estimable(whole.interval);
  // 1000 replicates know a spread to within 2.2 %; 150 rows leave some difference between the two.
  expect(Math.abs(found.standardError / standardError - 1)).toBeLessThan(0.1);
  expect(found.estimate).toBe(whole.difference);
});
