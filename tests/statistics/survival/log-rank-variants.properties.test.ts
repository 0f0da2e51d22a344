import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateLogRankHazardRatio,
  type LogRankData,
  type LogRankWeighting,
  testLogRank,
  testLogRankTrend,
} from '@/lib/statistics';
import { type FollowUp, followUp, reversed } from './follow-up';

const weighting = fc.constantFrom<LogRankWeighting>(
  'equal',
  'gehan-breslow',
  'tarone-ware',
  'peto-peto',
  'modified-peto-peto',
  { rho: 1, gamma: 0 },
  { rho: 0, gamma: 1 },
  { rho: 0.5, gamma: 0.5 },
);
const plain = ({ timeDays, event, group }: FollowUp): LogRankData => ({ timeDays, event, group });
const twoGroups = (data: FollowUp): LogRankData => ({
  ...plain(data),
  group: data.group.map((g) => Math.min(g, 1)),
});
const near = (a: number, b: number): void => {
  expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-8 * (1 + Math.abs(b)));
};

it('weighted tests do not depend on the order of the rows, and are used by any number of groups', () => {
  fc.assert(
    fc.property(followUp(2), weighting, fc.boolean(), (data, weights, delayed) => {
      const rows = (from: FollowUp): LogRankData =>
        delayed ? { ...plain(from), entryDays: from.entryDays, strata: from.strata } : plain(from);
      const options = { groupCount: 3, weighting: weights };
      const test = testLogRank(rows(data), options);
      const again = testLogRank(rows(reversed(data)), options);
      expect(again.kind).toBe(test.kind);
      if (test.kind !== 'tested' || again.kind !== 'tested') return;
      near(again.chiSquare, test.chiSquare);
      const total = (key: 'observed' | 'expected'): number => test.groups.reduce((sum, g) => sum + g[key], 0);
      near(total('observed'), total('expected'));
    }),
  );
});

it('Fleming-Harrington with powers of zero is the log-rank test; without ties Peto-Peto and Gehan-Breslow agree', () => {
  fc.assert(
    fc.property(followUp(2), (data) => {
      const flat = testLogRank(plain(data), { weighting: { rho: 0, gamma: 0 } });
      const equal = testLogRank(plain(data));
      expect(flat.kind).toBe(equal.kind);
      if (flat.kind === 'tested' && equal.kind === 'tested') near(flat.chiSquare, equal.chiSquare);
      // All events, all apart: the product of n/(n + 1) falls as n does.
      const apart = {
        ...plain(data),
        timeDays: data.timeDays.map((_, i) => i + 1),
        event: data.event.map(() => 1),
      };
      const gehan = testLogRank(apart, { weighting: 'gehan-breslow' });
      const peto = testLogRank(apart, { weighting: 'peto-peto' });
      if (gehan.kind === 'tested' && peto.kind === 'tested') near(peto.chiSquare, gehan.chiSquare);
    }),
  );
});

it('trend between two groups is their test; it follows the scale of the scores', () => {
  fc.assert(
    fc.property(followUp(2), weighting, (data, weights) => {
      const two = testLogRank(twoGroups(data), { weighting: weights });
      const trend = testLogRankTrend(twoGroups(data), [4, 6], { weighting: weights });
      expect(trend.kind).toBe(two.kind);
      if (two.kind === 'tested' && trend.kind === 'tested') near(trend.chiSquare, two.chiSquare);
      const three = testLogRankTrend(plain(data), [0, 1, 3], { weighting: weights });
      const moved = testLogRankTrend(plain(data), [7, 5, 1], { weighting: weights });
      expect(moved.kind).toBe(three.kind);
      if (three.kind === 'tested' && moved.kind === 'tested') near(moved.z, -three.z);
    }),
  );
});

it('trend is one of the contrasts of the whole test: never above its chi-square', () => {
  fc.assert(
    fc.property(followUp(2), weighting, (data, weights) => {
      const whole = testLogRank(plain(data), { groupCount: 3, weighting: weights });
      const trend = testLogRankTrend(plain(data), [0, 1, 2], { weighting: weights });
      if (whole.kind !== 'tested' || trend.kind !== 'tested') return;
      expect(trend.chiSquare).toBeLessThanOrEqual(whole.chiSquare * (1 + 1e-8) + 1e-8);
    }),
  );
});

it('the hazard ratio turns over with the groups and sides with observed over expected', () => {
  fc.assert(
    fc.property(followUp(2), (data) => {
      const rows = twoGroups(data);
      const test = testLogRank(rows);
      const swapped = testLogRank({ ...rows, group: Array.from(rows.group, (g) => 1 - g) });
      if (test.kind !== 'tested' || swapped.kind !== 'tested') return;
      const ratio = estimateLogRankHazardRatio(test);
      const inverse = estimateLogRankHazardRatio(swapped);
      if (ratio.kind !== 'estimated' || inverse.kind !== 'estimated') throw new Error('expected a ratio');
      near(Math.log(ratio.hazardRatio), -Math.log(inverse.hazardRatio));
      near(Math.log(ratio.lower), -Math.log(inverse.upper));
      const [first] = test.groups;
      near(Math.log(ratio.hazardRatio) * test.covariance[0], first.observed - first.expected);
      // Sum of (O - E)^2/E uses a larger variance.
      expect(ratio.conservativeChiSquare).toBeLessThanOrEqual(test.chiSquare * (1 + 1e-9) + 1e-9);
    }),
  );
});
