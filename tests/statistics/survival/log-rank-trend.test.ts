import { describe, expect, it } from 'vitest';
import { testLogRank, testLogRankTrend } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';

describe('by hand', () => {
  // Day 1: one event, of group 2, among one case of each group.
  const data = { timeDays: [1, 2, 2], event: [1, 0, 0], group: [2, 0, 1] };

  it('is a score over its root variance: 1 / root(2/3)', () => {
    const trend = estimated(testLogRankTrend(data, [0, 1, 2]));
    expect(trend.z).toBeCloseTo(Math.sqrt(1.5), 14);
    expect(trend.chiSquare).toBeCloseTo(1.5, 14);
    expect(trend.pValue).toBeCloseTo(0.220671, 6);
  });

  it('changes sign with the scores', () => {
    expect(estimated(testLogRankTrend(data, [2, 1, 0])).z).toBeCloseTo(-Math.sqrt(1.5), 14);
  });

  it('takes strata, entries and weights as the test does', () => {
    const rows = {
      timeDays: [1, 3, 4, 2, 4, 5],
      event: [1, 1, 0, 1, 1, 1],
      group: [0, 0, 0, 1, 1, 1],
      strata: [0, 1, 0, 1, 0, 0],
      entryDays: [0, 1, 0, 0, 0, 1],
    };
    const options = { weighting: 'gehan-breslow' } as const;
    const two = estimated(testLogRank(rows, options));
    expect(estimated(testLogRankTrend(rows, [5, 9], options)).chiSquare).toBeCloseTo(two.chiSquare, 13);
  });
});

describe('not estimable', () => {
  const data = { timeDays: [1, 2, 3], event: [1, 1, 0], group: [0, 1, 1] };

  it('as the log-rank test', () => {
    expect(testLogRankTrend({ ...data, group: [0, 0, 0] }, [1, 2])).toMatchObject({
      code: 'fewerThanTwoGroups',
    });
    expect(testLogRankTrend({ ...data, event: [0, 0, 0] }, [1, 2])).toMatchObject({ code: 'noEvents' });
    expect(testLogRankTrend({ ...data, event: [0, 1, 1] }, [1, 2])).toMatchObject({ code: 'noOverlap' });
  });

  it('when the groups that meet have one score', () => {
    expect(testLogRankTrend(data, [3, 3])).toMatchObject({ kind: 'notEstimable', code: 'oneScore' });
    expect(testLogRankTrend(data, [3, 3, 7])).toMatchObject({ code: 'oneScore' });
  });
});

it('refuses scores that do not fit', () => {
  const data = { timeDays: [1, 2, 3], event: [1, 1, 0], group: [0, 1, 1] };
  expectMistake(() => testLogRankTrend(data, [1, Number.NaN]), 'notFinite', 'scores', 1);
  expectMistake(() => testLogRankTrend(data, [1]), 'unknownCode', 'group', 1);
  expectMistake(() => testLogRankTrend(data, [1, 2], { groupCount: 3 }), 'unequalLengths', 'scores');
});
