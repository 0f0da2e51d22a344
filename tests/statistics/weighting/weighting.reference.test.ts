import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveBalancingWeights,
  estimateBalance,
  estimateEffectiveSampleSize,
  estimateEValue,
  estimatePropensityVariance,
  estimatePropensityWeightedDifference,
  estimateWeightedDifference,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { differences, loadCases, loadReference } from '../reference-cases';

const numbers = z.array(z.number());
const tolerance = z.object({ rel: z.number(), abs: z.number() });
const keys = z.record(z.string(), z.unknown());
const ofAdapters = z.object({
  params: z.union([keys, z.array(z.never()).transform(() => ({}))]),
  data: keys,
  expected: keys,
});

it.each([...keptCases('e_value'), ...keptCases('propensity_separation')])('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(loadCases('propensity', ofAdapters))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it('prints the E-values 7.26 and 20.95 of VanderWeele & Ding, Ann Intern Med 2017;167:268', () => {
  const { data, printed } = loadReference(
    'pub-evalue',
    z.object({
      data: z.object({ rr: numbers }),
      printed: z.object({ values: z.object({ e39: z.number(), e1073: z.number() }) }),
    }),
  );
  const got = data.rr.map((estimate) => Number(estimateEValue({ estimate }).eValue.toFixed(2)));
  expect(got).toEqual([printed.values.e39, printed.values.e1073]);
});

it('truncates stabilised weights where R does (quantile, pmin, pmax)', () => {
  const { treated, propensity, weights, lower, upper, ...reference } = loadReference(
    'truncated-weights',
    z.object({
      tolerance,
      treated: numbers,
      propensity: numbers,
      weights: numbers,
      lower: z.number(),
      upper: z.number(),
    }),
  );
  const found = estimable(
    deriveBalancingWeights(
      { treated, propensity },
      { estimand: 'ate', stabilised: true, truncation: { lower: 0.05, upper: 0.9 } },
    ),
  );
  expect(differences('weights', found.weights, weights, reference.tolerance)).toEqual([]);
  const cut = [found.truncated?.lower ?? 0, found.truncated?.upper ?? 0];
  expect(differences('cut', cut, [lower, upper], reference.tolerance)).toEqual([]);
});

describe('with estimated propensities, against estimating equations written out in R', () => {
  const reference = loadReference(
    'propensity-sandwich',
    z.object({
      tolerance,
      cases: z.array(
        z.object({
          estimand: z.enum(['ate', 'att', 'atc', 'overlap', 'matching']),
          outcome: numbers,
          treated: numbers,
          covariates: z.array(numbers),
          cluster: numbers.nullish(),
          treatedMean: z.number(),
          controlMean: z.number(),
          variance: z.number(),
        }),
      ),
    }),
  );

  it.each(reference.cases.map((one, i) => ({ i, one })))('case $i', ({ one }) => {
    const { estimand, cluster, outcome, treated, covariates } = one;
    const data = { outcome, treated, covariates };
    const found = estimable(
      estimatePropensityWeightedDifference(cluster ? { ...data, cluster } : data, { estimand }),
    );
    const got = [found.treatedMean, found.controlMean, estimable(found.interval).standardError ** 2];
    const want = [one.treatedMean, one.controlMean, one.variance];
    expect(differences('means and variance', got, want, reference.tolerance)).toEqual([]);
  });

  it('gives the same variance from slopes', () => {
    const [{ estimand, outcome, treated, covariates, variance }] = reference.cases;
    const found = estimable(
      estimatePropensityWeightedDifference({ outcome, treated, covariates }, { estimand }),
    );
    const { weights } = estimable(
      deriveBalancingWeights({ treated, propensity: found.propensity.fitted }, { estimand }),
    );
    const total = (arm: number): number =>
      weights.reduce((sum, w, i) => sum + (treated[i] === arm ? w : 0), 0);
    const slope = outcome.map((y, i) =>
      treated[i] === 1 ? (y - found.treatedMean) / total(1) : (found.controlMean - y) / total(0),
    );
    const got = estimable(estimatePropensityVariance({ treated, covariates, slope }, { estimand }));
    expect(differences('variance', [got.variance], [variance], reference.tolerance)).toEqual([]);
  });
});

it('has balance, effective sizes and known-weights errors of the pbc case one by one', () => {
  const { data, expected } = loadReference(
    'ps-pbc',
    z.object({
      data: z.object({ treat: numbers, age: numbers }),
      expected: z.object({
        weights: z.object({ overlap: numbers }),
        ess: z.object({ overlap: z.object({ treated: z.number(), control: z.number() }) }),
        balance: z.object({
          overlap: z.object({ age: z.object({ mean1: z.number(), varRatio: z.number() }) }),
        }),
      }),
    }),
  );
  const { overlap } = expected.weights;
  const [control, treated] = estimateEffectiveSampleSize({ weights: overlap, group: data.treat });
  expect(treated).toBeCloseTo(expected.ess.overlap.treated, 6);
  expect(control).toBeCloseTo(expected.ess.overlap.control, 6);
  const found = estimateBalance({ treated: data.treat, covariates: [data.age], weights: overlap });
  expect('kind' in found ? found : found[0].varianceRatio).toBeCloseTo(
    expected.balance.overlap.age.varRatio,
    7,
  );
  const means = estimateWeightedDifference({ outcome: data.age, treated: data.treat, weights: overlap });
  expect(estimable(means).treatedMean).toBeCloseTo(expected.balance.overlap.age.mean1, 7);
});
