import { expect, it } from 'vitest';
import { testWeightedLogRank } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

// Group 1: events on days 1 (weight 2) and 2 (weight 1). Group 0: censored on day 3.
const data = { timeDays: [1, 2, 3], event: [1, 1, 0], group: [1, 1, 0], weights: [2, 1, 1] };

it('weighs events and those at risk: 2 - 3/4 x 2, then 1 - 1/2', () => {
  const test = estimable(testWeightedLogRank(data));
  expect(test.score).toBeCloseTo(1, 15);
  // Day 1: 1/3 x ((1/4)^2 x 5 + (3/4)^2 x 1). Day 2: 1/2 x (1/4 + 1/4).
  expect(test.variance).toBeCloseTo(7 / 24 + 1 / 4, 15);
  expect(test.z).toBeCloseTo(Math.sqrt(24 / 13), 14);
  expect(test.chiSquare).toBeCloseTo(24 / 13, 14);
  expect(test.pValue).toBeCloseTo(0.1742313882, 9);
});

it('takes cases for draws when asked to: residuals 1/4, 1/8 and 5/8', () => {
  const test = estimable(testWeightedLogRank(data, { variance: 'sampling' }));
  expect(test.score).toBeCloseTo(1, 15);
  expect(test.variance).toBeCloseTo(13 / 64, 15);
  expect(test.chiSquare).toBeCloseTo(64 / 13, 13);
});

it('shares tied events by Efron for draws: means 1/2 and 0, each with its hazard', () => {
  // One event in each group on day 1 among three: group 1 has one of three at the first term, 1/2 of 2 at the second.
  const tied = { timeDays: [1, 1, 2], event: [1, 1, 0], group: [1, 0, 0], weights: [1, 1, 1] };
  const mean = (1 / 3 + (1 - 1 / 2) / 2) / 2;
  const hazard = 1 / 3 + 1 / 2;
  const residuals = [1 - mean - (1 - mean) * hazard, 0 - mean - (0 - mean) * hazard, mean * hazard];
  const score = residuals.reduce((sum, value) => sum + value, 0);
  const spread = residuals.reduce((sum, value) => sum + (value - score / 3) ** 2, 0);
  const test = estimable(testWeightedLogRank(tied, { variance: 'sampling' }));
  expect(test.score).toBeCloseTo(score, 15);
  expect(test.variance).toBeCloseTo(1.5 * spread, 15);
});

it('has no variance from the last case at risk, and lets cases of weight 0 count among cases only', () => {
  const last = { timeDays: [1, 2], event: [1, 1], group: [1, 0], weights: [1, 1] };
  expect(estimable(testWeightedLogRank(last)).variance).toBeCloseTo(1 / 4, 15);
  const more = { timeDays: [1, 2, 3], event: [1, 1, 0], group: [1, 0, 0], weights: [1, 1, 0] };
  // Day 1: 1/3 x (1/4 + 1/4). Day 2: only the case of group 0 has weight, so nothing is shared.
  expect(estimable(testWeightedLogRank(more)).variance).toBeCloseTo(1 / 6, 15);
});

it('has no spread between draws that are alike; a third of weight 0 is no draw', () => {
  // Residuals 1/4 and 1/4.
  const alike = { timeDays: [1, 2], event: [1, 1], group: [1, 0], weights: [1, 1] };
  expect(testWeightedLogRank(alike, { variance: 'sampling' })).toMatchObject({ code: 'tooFewClusters' });
  const more = { timeDays: [1, 2, 3], event: [1, 1, 0], group: [1, 0, 0], weights: [1, 1, 0] };
  expect(testWeightedLogRank(more, { variance: 'sampling' })).toMatchObject({ code: 'tooFewClusters' });
});

it('is not estimable with one group, without events, or when groups never meet', () => {
  expect(testWeightedLogRank({ ...data, weights: [2, 1, 0] })).toMatchObject({ code: 'fewerThanTwoGroups' });
  expect(testWeightedLogRank({ ...data, group: [1, 1, 1] })).toMatchObject({ code: 'fewerThanTwoGroups' });
  expect(testWeightedLogRank({ ...data, event: [0, 0, 0] })).toMatchObject({ code: 'noEvents' });
  const gone = { timeDays: [1, 2, 3], event: [0, 1, 0], group: [1, 0, 0], weights: [1, 1, 1] };
  expect(testWeightedLogRank(gone)).toMatchObject({ kind: 'notEstimable', code: 'noOverlap' });
  expect(testWeightedLogRank(gone, { variance: 'sampling' })).toMatchObject({ code: 'noOverlap' });
});

it('refuses a third group and bad columns', () => {
  expectMistake(() => testWeightedLogRank({ ...data, group: [0, 1, 2] }), 'unknownCode', 'group', 2);
  expectMistake(() => testWeightedLogRank({ ...data, group: [0, 1] }), 'unequalLengths', 'group');
  expectMistake(() => testWeightedLogRank({ ...data, weights: [1, -1, 1] }), 'negative', 'weights', 1);
  expectMistake(() => testWeightedLogRank({ ...data, timeDays: [1, -1, 1] }), 'negative', 'timeDays', 1);
});
