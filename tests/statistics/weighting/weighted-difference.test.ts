import { describe, expect, it } from 'vitest';
import {
  estimatePropensityVariance,
  estimatePropensityWeightedDifference,
  estimateWeightedDifference,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

describe('with known weights, by hand', () => {
  const data = { outcome: [1, 0, 1, 0, 0], treated: [1, 1, 0, 0, 0], weights: [3, 1, 1, 1, 2] };

  it('is the difference of the weighted means 3/4 and 1/4', () => {
    const found = estimable(estimateWeightedDifference(data));
    expect(found).toMatchObject({ treatedMean: 0.75, controlMean: 0.25, difference: 0.5 });
    // (w (y - mean)/sum w)^2: treated (3/16)^2 twice; others (3/16)^2, (1/16)^2, (2/16)^2; times 5/4.
    const variance = (5 / 4) * ((9 + 9 + 9 + 1 + 4) / 256);
    const interval = estimable(found.interval);
    expect(interval.standardError).toBeCloseTo(Math.sqrt(variance), 14);
    expect(interval.z).toBeCloseTo(0.5 / Math.sqrt(variance), 13);
    expect(interval.lower).toBeCloseTo(0.5 - 1.959963984540054 * Math.sqrt(variance), 13);
    expect(interval.upper).toBeCloseTo(0.5 + 1.959963984540054 * Math.sqrt(variance), 13);
    // 2 (1 - normal probability of 1.264911), from R's pnorm.
    expect(interval.pValue).toBeCloseTo(0.2059032, 6);
  });

  it('counts every row once without weights', () => {
    const { outcome, treated } = data;
    const plain = estimable(estimateWeightedDifference({ outcome, treated }, { confidenceLevel: 0.5 }));
    expect(plain.difference).toBeCloseTo(1 / 6, 14);
    const variance = (5 / 4) * (2 / 16 + 6 / 81);
    expect(estimable(plain.interval).standardError).toBeCloseTo(Math.sqrt(variance), 14);
    expect(estimable(plain.interval).upper).toBeCloseTo(1 / 6 + 0.6744897501960817 * Math.sqrt(variance), 13);
  });

  it('has no interval when the outcome does not vary within the groups, and no value without both groups', () => {
    const flat = estimable(estimateWeightedDifference({ ...data, outcome: [0.1, 0.1, 0.7, 0.7, 0.7] }));
    expect(flat.difference).toBeCloseTo(-0.6, 14);
    expect(flat.interval).toMatchObject({ code: 'noSpread' });
    expect(estimateWeightedDifference({ ...data, treated: [1, 1, 1, 1, 1] })).toMatchObject({
      code: 'emptyArm',
    });
    expect(estimateWeightedDifference({ ...data, treated: [0, 0, 0, 0, 0] })).toMatchObject({
      code: 'emptyArm',
    });
    expect(estimateWeightedDifference({ ...data, weights: [0, 0, 1, 1, 1] })).toMatchObject({
      code: 'allWeightsZero',
    });
    expect(estimateWeightedDifference({ ...data, weights: [1, 1, 0, 0, 0] })).toMatchObject({
      code: 'allWeightsZero',
    });
  });

  it('refuses mistakes', () => {
    const run = (over: Partial<typeof data>) => () => estimateWeightedDifference({ ...data, ...over });
    expectMistake(run({ treated: [1] }), 'unequalLengths', 'treated');
    expectMistake(run({ weights: [1] }), 'unequalLengths', 'weights');
    expectMistake(run({ outcome: [1, 0, Number.NaN, 0, 0] }), 'notFinite', 'outcome', 2);
    expectMistake(run({ treated: [1, 1, 0, 3, 0] }), 'unknownCode', 'treated', 3);
    expectMistake(run({ weights: [1, 1, 0, -3, 0] }), 'negative', 'weights', 3);
    const level = () => estimateWeightedDifference(data, { confidenceLevel: 1 });
    expectMistake(level, 'outOfRange', 'confidenceLevel');
  });
});

// Unmarked: 1 of 2 treated and 1 of 4 others have the outcome. Marked: 3 of 4 treated, 1 of 2 others.
const cells = [
  { mark: 0, treated: 1, events: 1, n: 2 },
  { mark: 0, treated: 0, events: 1, n: 4 },
  { mark: 1, treated: 1, events: 3, n: 4 },
  { mark: 1, treated: 0, events: 1, n: 2 },
];
const rows = cells.flatMap((cell) =>
  Array.from({ length: cell.n }, (_, i) => ({ ...cell, y: Number(i < cell.events) })),
);
const data = {
  outcome: rows.map(({ y }) => y),
  treated: rows.map(({ treated }) => treated),
  covariates: [rows.map(({ mark }) => mark)],
};

describe('with an estimated propensity, by hand', () => {
  it('adjusts for one mark as standardisation does: 1/4 in both halves, so 1/4', () => {
    for (const estimand of ['ate', 'att', 'atc', 'overlap', 'matching'] as const) {
      const found = estimable(estimatePropensityWeightedDifference(data, { estimand }));
      expect(found.difference).toBeCloseTo(0.25, 9);
    }
    const found = estimable(estimatePropensityWeightedDifference(data, { estimand: 'ate' }));
    expect(found.treatedMean).toBeCloseTo((1 / 2 + 3 / 4) / 2, 9);
    expect(found.propensity.fitted[0]).toBeCloseTo(1 / 3, 9);
  });

  it('has for everyone the variance of standardisation over the mark', () => {
    // Within a half each arm's share p of n has variance p (1 - p)/n; halves weigh 1/2; both differ by 1/4 alike.
    const binomial = (events: number, n: number): number => ((events / n) * (1 - events / n)) / n;
    const variance = cells.reduce((sum, { events, n }) => sum + binomial(events, n) / 4, 0);
    const interval = estimable(
      estimable(estimatePropensityWeightedDifference(data, { estimand: 'ate' })).interval,
    );
    expect(interval.standardError).toBeCloseTo(Math.sqrt(variance), 8);
    expect(interval.lower).toBeCloseTo(0.25 - 1.959963984540054 * Math.sqrt(variance), 7);
  });

  it('sums within clusters: two copies in one cluster each vary as the rows alone did', () => {
    const twice = <T>(column: readonly T[]): T[] => [...column, ...column];
    const copied = {
      outcome: twice(data.outcome),
      treated: twice(data.treated),
      covariates: [twice(data.covariates[0])],
    };
    const errorOf = (cluster?: number[]): number => {
      const found = estimatePropensityWeightedDifference(cluster ? { ...copied, cluster } : copied, {
        estimand: 'overlap',
      });
      return estimable(estimable(found).interval).standardError;
    };
    const single = estimable(estimatePropensityWeightedDifference(data, { estimand: 'overlap' }));
    expect(errorOf(twice([...data.outcome.keys()]))).toBeCloseTo(
      estimable(single.interval).standardError,
      10,
    );
    expect(errorOf()).toBeCloseTo(estimable(single.interval).standardError / Math.SQRT2, 10);
  });

  it('has the variance of any estimate whose slopes along the weights are given', () => {
    const { treated, covariates, outcome } = data;
    const found = estimable(estimatePropensityWeightedDifference(data, { estimand: 'att' }));
    const odds = [1 / 2, 2];
    const total = [odds[0] * 4 + odds[1] * 2, 6];
    const slope = outcome.map((y, i) =>
      treated[i] === 1 ? (y - found.treatedMean) / total[1] : (found.controlMean - y) / total[0],
    );
    const { variance } = estimable(
      estimatePropensityVariance({ treated, covariates, slope }, { estimand: 'att' }),
    );
    expect(Math.sqrt(variance)).toBeCloseTo(estimable(found.interval).standardError, 10);
    const whole = { treated, covariates, slope, cluster: slope.map(() => 1) };
    expect(estimable(estimatePropensityVariance(whole, { estimand: 'att' })).variance).toBeCloseTo(0, 14);
  });

  it('is not estimable without both groups, or with a covariate that separates them', () => {
    const alone = { ...data, treated: data.treated.map(() => 1) };
    expect(estimatePropensityWeightedDifference(alone, { estimand: 'ate' })).toMatchObject({
      code: 'emptyArm',
    });
    const split = { ...data, covariates: [data.treated] };
    expect(estimatePropensityWeightedDifference(split, { estimand: 'ate' })).toMatchObject({
      code: 'separation',
    });
    const variance = { treated: split.treated, covariates: split.covariates, slope: data.outcome };
    expect(estimatePropensityVariance(variance, { estimand: 'ate' })).toMatchObject({ code: 'separation' });
    const flat = { ...data, outcome: data.outcome.map(() => 1) };
    expect(estimable(estimatePropensityWeightedDifference(flat, { estimand: 'ate' })).interval).toMatchObject(
      { code: 'noSpread' },
    );
  });

  it('leaves out a covariate that repeats another', () => {
    const [mark] = data.covariates;
    const repeated = { ...data, covariates: [mark, mark.map((m) => 3 - m)] };
    const [one, two] = [data, repeated].map((set) =>
      estimable(estimatePropensityWeightedDifference(set, { estimand: 'overlap' })),
    );
    expect(two.interval).toEqual(one.interval);
  });

  it('refuses mistakes', () => {
    const run = (over: Partial<typeof data & { cluster: number[] }>) => () =>
      estimatePropensityWeightedDifference({ ...data, ...over }, { estimand: 'ate' });
    expectMistake(run({ treated: [1] }), 'unequalLengths', 'treated');
    expectMistake(run({ cluster: [1] }), 'unequalLengths', 'cluster');
    expectMistake(run({ outcome: data.outcome.map(() => Number.NaN) }), 'notFinite', 'outcome', 0);
    expectMistake(run({ treated: data.treated.map((t) => t + 1) }), 'unknownCode', 'treated', 0);
    expectMistake(run({ cluster: data.treated.map(() => Number.NaN) }), 'notFinite', 'cluster', 0);
    expectMistake(run({ covariates: [[1]] }), 'unequalLengths', 'covariates[0]');
    const level = () => estimatePropensityWeightedDifference(data, { estimand: 'ate', confidenceLevel: 0 });
    expectMistake(level, 'outOfRange', 'confidenceLevel');
    const slope = data.outcome.map(() => Number.NaN);
    const { treated, covariates } = data;
    const variance = (over: object) => () =>
      estimatePropensityVariance({ treated, covariates, slope, ...over }, { estimand: 'ate' });
    expectMistake(variance({}), 'notFinite', 'slope', 0);
    expectMistake(variance({ slope: [1] }), 'unequalLengths', 'slope');
    expectMistake(variance({ treated: treated.map(() => 7) }), 'unknownCode', 'treated', 0);
    expectMistake(variance({ slope: treated, cluster: slope }), 'notFinite', 'cluster', 0);
  });
});
