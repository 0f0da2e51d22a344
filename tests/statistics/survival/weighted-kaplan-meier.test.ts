import { describe, expect, it } from 'vitest';
import {
  estimateCumulativeIncidence,
  estimateWeightedKaplanMeier,
  estimateWeightedKaplanMeierByGroup,
  survivalAt,
  survivalQuantile,
  testWeightedSurvivalDifference,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

// Weights 2, 1, 1, 2: events on days 1, 2 and 4, one case censored on day 3.
const data = { timeDays: [1, 2, 3, 4], event: [1, 1, 0, 1], weights: [2, 1, 1, 2] };
// One more row of each weight's double in days, for the path of sorted times.
const halfDays = { ...data, timeDays: data.timeDays.map((day) => day / 2) };

describe.each([
  { path: 'whole days', rows: data, unit: 1 },
  { path: 'half days', rows: halfDays, unit: 0.5 },
])('by hand, $path', ({ rows, unit }) => {
  const curve = estimateWeightedKaplanMeier(rows);

  it('falls by sums of weights: 4/6, then 3/4 of it, then to zero', () => {
    expect(Array.from(curve.timeDays)).toEqual([1 * unit, 2 * unit, 3 * unit, 4 * unit]);
    expect(curve.survival[0]).toBeCloseTo(2 / 3, 15);
    expect(curve.survival[1]).toBeCloseTo(1 / 2, 15);
    expect(curve.survival[2]).toBe(curve.survival[1]);
    expect(curve.survival[3]).toBe(0);
    expect([curve.intervalFrom, curve.intervalTo]).toEqual([0, 3]);
  });

  it('counts cases and weights apart, and how many equal cases say as much', () => {
    expect([curve.n, curve.eventTotal, curve.clusterCount]).toEqual([4, 3, 4]);
    expect(Array.from(curve.atRisk)).toEqual([4, 3, 2, 1]);
    expect(Array.from(curve.weightAtRisk)).toEqual([6, 4, 3, 2]);
    expect(Array.from(curve.weightEvents)).toEqual([2, 1, 0, 2]);
    expect(Array.from(curve.weightCensored)).toEqual([0, 0, 1, 0]);
    expect(curve.weightTotal).toBe(6);
    expect(curve.effectiveSampleSize).toBeCloseTo(3.6, 15);
  });

  it('squares what each case moves log S by: 4, -1, -1, -2 twelfths, then 2, 1, -1, -2 sixths', () => {
    expect(curve.standardError[0]).toBeCloseTo((2 / 3) * Math.sqrt(22 / 144), 14);
    expect(curve.standardError[1]).toBeCloseTo((1 / 2) * Math.sqrt(10 / 36), 14);
    expect(curve.standardError[2]).toBeCloseTo((1 / 2) * Math.sqrt(10 / 36), 14);
  });

  it('adds within clusters before it squares: 2 - 1, 1, -2 sixths', () => {
    const clustered = estimateWeightedKaplanMeier({ ...rows, cluster: [7, 3, 7, 9] });
    expect(clustered.survival).toEqual(curve.survival);
    expect(clustered.standardError[1]).toBeCloseTo((1 / 2) * Math.sqrt(6 / 36), 14);
    expect(clustered.clusterCount).toBe(3);
  });

  it('is read like any curve, on the scale asked for', () => {
    const [point, end] = survivalAt(
      estimateWeightedKaplanMeier(rows, { limits: 'plain', confidenceLevel: 0.9 }),
      [2 * unit, 4 * unit],
    );
    const error = (1 / 2) * Math.sqrt(10 / 36);
    expect(point).toMatchObject({ atRisk: 3, interval: { kind: 'estimated' } });
    const interval = estimable(estimable(point).interval);
    expect(interval.upper - 0.5).toBeCloseTo(1.6448536269514722 * error, 12);
    expect(end).toMatchObject({ survival: 0, interval: { code: 'curveAtZero' } });
    expect(survivalQuantile(curve, 0.5)).toMatchObject({ kind: 'reached', timeDays: 3 * unit });
  });
});

it('counts delayed entry as Kaplan-Meier does: at risk after the day of entry', () => {
  const late = { ...data, entryDays: [0, 1, 0, 0] };
  const curve = estimateWeightedKaplanMeier(late);
  expect(Array.from(curve.weightAtRisk)).toEqual([5, 4, 3, 2]);
  expect(curve.survival[1]).toBeCloseTo((3 / 5) * (3 / 4), 15);
  // Day 1: 2 x (1/3 - 2/15), -2/15, -4/15. The late case feels day 2 only: 1/3 - 1/12.
  const parts = [2 / 5, 1 / 4, -(2 / 15 + 1 / 12), -2 * (2 / 15 + 1 / 12)];
  const variance = parts.reduce((sum, part) => sum + part * part, 0);
  expect(curve.standardError[1]).toBeCloseTo(curve.survival[1] * Math.sqrt(variance), 14);
});

it('counts rows of weight 0 but lets them move nothing, not even a curve that falls to zero', () => {
  const curve = estimateWeightedKaplanMeier({
    timeDays: [1, 2, 2, 3],
    event: [1, 1, 0, 1],
    weights: [1, 1, 0, 0],
  });
  expect(Array.from(curve.atRisk)).toEqual([4, 3, 1]);
  expect(Array.from(curve.survival)).toEqual([0.5, 0, 0]);
  expect([curve.n, curve.clusterCount, curve.intervalTo]).toEqual([4, 2, 1]);
  const none = estimateWeightedKaplanMeier({ timeDays: [1, 2], event: [1, 1], weights: [0, 0] });
  expect(none).toMatchObject({ weightTotal: 0, effectiveSampleSize: 0, clusterCount: 0 });
  expect(Array.from(none.survival)).toEqual([1, 1]);
});

describe('one cluster', () => {
  const alone = { ...data, cluster: [5, 5, 5, 5] };

  it('says nothing of chance: no limits, and the reason', () => {
    const curve = estimateWeightedKaplanMeier(alone);
    expect(survivalAt(curve, [2])).toMatchObject([
      { survival: 0.5, interval: { kind: 'notEstimable', code: 'tooFewClusters' } },
    ]);
    expect(survivalQuantile(curve, 0.5)).toMatchObject({
      kind: 'reached',
      lower: { kind: 'notReached' },
      upper: { kind: 'notReached' },
    });
    expect(curve.lower).toHaveLength(0);
  });

  it('nor of a difference', () => {
    const both = { ...alone, group: [0, 0, 1, 1] };
    expect(testWeightedSurvivalDifference(both, [1])).toMatchObject([
      { plain: { code: 'tooFewClusters' }, logLog: { code: 'tooFewClusters' } },
    ]);
  });
});

it('makes a curve per group, and one without cases for a code that nobody has', () => {
  const group = [0, 0, 2, 2];
  const curves = estimateWeightedKaplanMeierByGroup({ ...data, group }, { groupCount: 4 });
  expect(curves.map(({ n, weightTotal }) => [n, weightTotal])).toEqual([
    [2, 3],
    [0, 0],
    [2, 3],
    [0, 0],
  ]);
  expect(curves[2].survival[1]).toBe(0);
  expect(estimateWeightedKaplanMeierByGroup({ ...data, group })).toHaveLength(3);
  expect(survivalAt(curves[1], [1])).toMatchObject([{ code: 'noRows' }]);
});

describe('the difference of two curves', () => {
  // Group 0: 1/2 after day 1. Group 1: 2/3 after day 2. Patient 8 is in both.
  const rows = {
    timeDays: [1, 5, 2, 5, 5],
    event: [1, 0, 1, 0, 0],
    group: [0, 0, 1, 1, 1],
  };

  it('adds the variances of separate cases: 1/8 + 2/27', () => {
    const [point] = testWeightedSurvivalDifference(rows, [3]);
    const { difference, plain, logLog } = estimable(point);
    expect(difference).toBeCloseTo(-1 / 6, 15);
    expect(estimable(plain).standardError).toBeCloseTo(Math.sqrt(1 / 8 + 2 / 27), 14);
    expect(logLog.kind).toBe('tested');
  });

  it('adds within a patient who is in both groups: -1/4 and 2/9 of the same one', () => {
    // Moves of S0: -1/4 and 1/4; of S1: -2/9, 1/9, 1/9. Patient 8 has both events.
    const [point] = testWeightedSurvivalDifference({ ...rows, cluster: [8, 1, 8, 2, 3] }, [3]);
    const variance = (-1 / 4 + 2 / 9) ** 2 + (1 / 4) ** 2 + 2 * (1 / 9) ** 2;
    const plain = estimable(estimable(point).plain);
    expect(plain.standardError).toBeCloseTo(Math.sqrt(variance), 14);
    expect(plain.upper - plain.lower).toBeCloseTo(2 * 1.959963984540054 * Math.sqrt(variance), 13);
    const log = estimable(estimable(point).logLog);
    const moves = [
      -1 / 4 / (0.5 * Math.log(0.5)) + 2 / 9 / ((2 / 3) * Math.log(2 / 3)),
      1 / 4 / (0.5 * Math.log(0.5)),
      1 / 9 / ((2 / 3) * Math.log(2 / 3)),
      1 / 9 / ((2 / 3) * Math.log(2 / 3)),
    ];
    const error = Math.sqrt(moves.reduce((sum, move) => sum + move * move, 0));
    const apart = Math.log(-Math.log(0.5)) - Math.log(-Math.log(2 / 3));
    expect(log.z).toBeCloseTo(apart / error, 12);
  });

  it('has nothing to go by where each patient moves both curves alike', () => {
    const twice = {
      timeDays: [1, 5, 1, 5],
      event: [1, 0, 1, 0],
      group: [0, 0, 1, 1],
      cluster: [0, 1, 0, 1],
    };
    expect(testWeightedSurvivalDifference(twice, [2])).toMatchObject([
      { difference: 0, plain: { code: 'tooFewClusters' }, logLog: { code: 'tooFewClusters' } },
    ]);
  });

  it('compares the codes asked for, and says where one has no cases or no event yet', () => {
    const [asked] = testWeightedSurvivalDifference(rows, [3], { groups: [1, 0], confidenceLevel: 0.8 });
    expect(estimable(asked).difference).toBeCloseTo(1 / 6, 15);
    const { lower, upper, standardError } = estimable(estimable(asked).plain);
    expect(upper - lower).toBeCloseTo(2 * 1.2815515655446004 * standardError, 13);
    expect(testWeightedSurvivalDifference(rows, [3], { groups: [0, 4] })).toMatchObject([{ code: 'noRows' }]);
    expect(testWeightedSurvivalDifference(rows, [0.5])).toMatchObject([{ plain: { code: 'noEventYet' } }]);
  });

  it('refuses codes that are none, or one code twice', () => {
    expectMistake(
      () => testWeightedSurvivalDifference(rows, [3], { groups: [1, 1] }),
      'unknownCode',
      'groups',
    );
    expectMistake(
      () => testWeightedSurvivalDifference(rows, [3], { groups: [0, -1] }),
      'unknownCode',
      'groups',
    );
    expectMistake(
      () => testWeightedSurvivalDifference(rows, [3], { groups: [0, 2000] }),
      'unknownCode',
      'groups',
    );
    expectMistake(() => testWeightedSurvivalDifference(rows, [-3]), 'negative', 'times', 0);
    expectMistake(
      () => testWeightedSurvivalDifference(rows, [3], { confidenceLevel: 1 }),
      'outOfRange',
      'confidenceLevel',
    );
  });
});

describe('cumulative incidence in clusters', () => {
  const rows = { timeDays: [1, 2, 3], status: [1, 2, 1] };

  it('adds what the rows of a cluster move F by: day 1 has 2/9, -1/9, -1/9 of the cases', () => {
    const [plain] = estimateCumulativeIncidence(rows).causes;
    expect(plain.standardError[0] ** 2).toBeCloseTo(6 / 81, 15);
    const [pairs] = estimateCumulativeIncidence({ ...rows, cluster: [4, 4, 6] }).causes;
    expect(pairs.incidence).toEqual(plain.incidence);
    expect(pairs.standardError[0] ** 2).toBeCloseTo(2 / 81, 15);
  });

  it('refuses codes that are none', () => {
    expectMistake(
      () => estimateCumulativeIncidence({ ...rows, cluster: [1, 2] }),
      'unequalLengths',
      'cluster',
    );
    expectMistake(
      () => estimateCumulativeIncidence({ ...rows, cluster: [1, -2, 3] }),
      'unknownCode',
      'cluster',
      1,
    );
  });
});

it('refuses bad rows, weights, clusters, groups and levels', () => {
  expectMistake(() => estimateWeightedKaplanMeier({ ...data, weights: [1, 2] }), 'unequalLengths', 'weights');
  expectMistake(
    () => estimateWeightedKaplanMeier({ ...data, weights: [1, -2, 1, 1] }),
    'negative',
    'weights',
    1,
  );
  expectMistake(
    () => estimateWeightedKaplanMeier({ ...data, weights: [1, 1, Number.NaN, 1] }),
    'notFinite',
    'weights',
    2,
  );
  expectMistake(
    () => estimateWeightedKaplanMeier({ ...data, cluster: [1, 1.5, 2, 3] }),
    'unknownCode',
    'cluster',
    1,
  );
  expectMistake(
    () => estimateWeightedKaplanMeier({ ...data, event: [1, 2, 0, 0] }),
    'unknownCode',
    'event',
    1,
  );
  const group = [0, 1, 2, 0];
  expectMistake(
    () => estimateWeightedKaplanMeierByGroup({ ...data, group }, { groupCount: 2 }),
    'unknownCode',
    'group',
    2,
  );
  expectMistake(
    () => estimateWeightedKaplanMeier(data, { confidenceLevel: 0 }),
    'outOfRange',
    'confidenceLevel',
  );
});
