import { describe, expect, it } from 'vitest';
import { type LogRankData, type LogRankTest, testLogRank } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

function tested(data: LogRankData, groupCount?: number): LogRankTest {
  const result = testLogRank(data, groupCount === undefined ? {} : { groupCount });
  if (result.kind !== 'tested') throw new Error(result.reason);
  return result;
}

describe('by hand', () => {
  // Group 0 leaves at 1, 3 and 4, group 1 at 2, 4 and 5; the one censored case is group 0 at 4.
  const data = { timeDays: [1, 3, 4, 2, 4, 5], event: [1, 1, 0, 1, 1, 1], group: [0, 0, 0, 1, 1, 1] };
  // Group 0 at risk / all: day 1 3/6, day 2 2/5, day 3 2/4, day 4 1/3, day 5 0/1.
  const expected = 3 / 6 + 2 / 5 + 2 / 4 + 1 / 3;
  const variance = 1 / 4 + (2 / 5) * (3 / 5) + 1 / 4 + (1 / 3) * (2 / 3);

  it('compares observed with expected', () => {
    const test = tested(data);
    expect(test.groups[0]).toMatchObject({ group: 0, n: 3, observed: 2 });
    expect(test.groups[0].expected).toBeCloseTo(expected, 14);
    expect(test.groups[1].expected).toBeCloseTo(5 - expected, 14);
    expect(test.chiSquare).toBeCloseTo((2 - expected) ** 2 / variance, 14);
    expect(test.degreesOfFreedom).toBe(1);
    expect(test.covariance[0]).toBeCloseTo(variance, 14);
    expect(test.covariance[1]).toBeCloseTo(-variance, 14);
  });

  it('takes d (n - d)/(n - 1) at tied events, and nothing when all fall together', () => {
    // Day 1: 2 events among 4, 2 of them group 0: 2 x 2/3 x 1/4. Day 2: both the rest fall, no variance.
    const test = tested({ timeDays: [1, 1, 2, 2], event: [1, 1, 1, 1], group: [0, 1, 0, 1] });
    expect(test.covariance[0]).toBeCloseTo(1 / 3, 15);
    expect(test.chiSquare).toBeCloseTo(0, 15);
    expect(test.pValue).toBe(1);
  });

  it('adds scores and variances over strata, compared within only', () => {
    const twice = {
      timeDays: [...data.timeDays, ...data.timeDays],
      event: [...data.event, ...data.event],
      group: [...data.group, ...data.group],
      strata: [7, 7, 7, 7, 7, 7, 0, 0, 0, 0, 0, 0],
    };
    const test = tested(twice);
    expect(test.chiSquare).toBeCloseTo((4 - 2 * expected) ** 2 / (2 * variance), 13);
    expect(test.groups[0]).toMatchObject({ n: 6, observed: 4 });
  });

  it('counts with delayed entry only who has entered before', () => {
    // Day 2: at risk 0, 2 (case 1 enters on day 2, too late). Day 4: cases 1 and 2.
    const test = tested({ timeDays: [2, 4, 5], event: [1, 1, 0], group: [0, 0, 1], entryDays: [0, 2, 1] });
    expect(test.groups[0].expected).toBeCloseTo(1 / 2 + 1 / 2, 15);
    expect(test.covariance[0]).toBeCloseTo(1 / 4 + 1 / 4, 15);
  });
});

describe('degrees of freedom', () => {
  it('leave out groups without cases and groups gone before the first event', () => {
    const data = { timeDays: [2, 3, 4, 5, 1], event: [1, 1, 1, 0, 0], group: [0, 1, 0, 1, 3] };
    const test = tested(data, 5);
    expect(test.degreesOfFreedom).toBe(1);
    expect(test.groups.map(({ n, expected }) => [n, expected > 0])).toEqual([
      [2, true],
      [2, true],
      [0, false],
      [1, false],
      [0, false],
    ]);
  });

  it('are counted within sets of groups that meet: two pairs in two strata have two', () => {
    const first = { timeDays: [1, 2, 3, 4], event: [1, 1, 1, 0], group: [0, 1, 0, 1] };
    const second = { timeDays: [1, 2, 3, 5], event: [0, 1, 1, 1], group: [2, 3, 3, 2] };
    const both = tested({
      timeDays: [...first.timeDays, ...second.timeDays],
      event: [...first.event, ...second.event],
      group: [...first.group, ...second.group],
      strata: [0, 0, 0, 0, 1, 1, 1, 1],
    });
    expect(both.degreesOfFreedom).toBe(2);
    const apart = tested(first).chiSquare + tested({ ...second, group: [0, 1, 1, 0] }).chiSquare;
    expect(both.chiSquare).toBeCloseTo(apart, 13);
  });

  it('join groups that meet only through a third', () => {
    // 0 meets 1 in the first stratum, 1 meets 2 in the second: three groups, two contrasts.
    const test = tested({
      timeDays: [1, 2, 3, 4, 1, 2, 3, 4],
      event: [1, 1, 1, 0, 1, 1, 1, 0],
      group: [2, 1, 2, 1, 0, 1, 1, 0],
      strata: [0, 0, 0, 0, 1, 1, 1, 1],
    });
    expect(test.degreesOfFreedom).toBe(2);
  });
});

describe('not estimable', () => {
  it('with one group', () => {
    const data = { timeDays: [1, 2], event: [1, 1], group: [1, 1] };
    expect(testLogRank(data)).toMatchObject({ kind: 'notEstimable', code: 'fewerThanTwoGroups' });
    expect(testLogRank({ timeDays: [], event: [], group: [] })).toMatchObject({ code: 'fewerThanTwoGroups' });
  });

  it('without events', () => {
    const data = { timeDays: [1, 2], event: [0, 0], group: [0, 1] };
    expect(testLogRank(data)).toMatchObject({ kind: 'notEstimable', code: 'noEvents' });
  });

  it('when the groups never meet at an event', () => {
    const data = { timeDays: [1, 2, 3], event: [0, 1, 1], group: [0, 1, 1] };
    expect(testLogRank(data)).toMatchObject({ kind: 'notEstimable', code: 'noOverlap' });
    const apart = { timeDays: [1, 2, 1, 2], event: [1, 1, 1, 1], group: [0, 0, 1, 1], strata: [0, 0, 1, 1] };
    expect(testLogRank(apart)).toMatchObject({ kind: 'notEstimable', code: 'noOverlap' });
  });
});

describe('mistakes name the row of the whole input', () => {
  const good = { timeDays: [1, 2, 3.5], event: [1, 1, 1], group: [0, 1, 0], strata: [4, 9, 4] };

  it('in every column', () => {
    expectMistake(() => testLogRank({ ...good, strata: [4, 9] }), 'unequalLengths', 'strata');
    expectMistake(() => testLogRank({ ...good, group: [0] }), 'unequalLengths', 'group');
    expectMistake(() => testLogRank({ ...good, strata: [4, 9, 0.5] }), 'unknownCode', 'strata', 2);
    expectMistake(() => testLogRank({ ...good, timeDays: [1, 2, -1] }), 'negative', 'timeDays', 2);
    expectMistake(() => testLogRank({ ...good, event: [1, 3, 1] }), 'unknownCode', 'event', 1);
    expectMistake(() => testLogRank(good, { groupCount: 1 }), 'unknownCode', 'group', 1);
    expectMistake(() => testLogRank(good, { groupCount: 0 }), 'outOfRange', 'group');
  });

  it('for entries that are not before the exit, by rounding too', () => {
    const late = { ...good, entryDays: [0, 0, 3.5] };
    expectMistake(() => testLogRank(late), 'entryNotBeforeExit', 'entryDays', 2);
    const blurred = { ...good, entryDays: [0, 0, 3.5 - 1e-12] };
    expectMistake(() => testLogRank(blurred), 'entryNotBeforeExit', 'entryDays', 2);
  });
});
