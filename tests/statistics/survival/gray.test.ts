import { describe, expect, it } from 'vitest';
import { type GrayData, type GrayOptions, type GrayTest, testGray } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const tested = (data: GrayData, options: GrayOptions = {}): GrayTest => estimable(testGray(data, options));

describe('by hand', () => {
  // Group 0: cause 1 on day 1, censored on day 4. Group 1: cause 2 on day 2, cause 1 on day 3.
  const data = { timeDays: [1, 4, 2, 3], status: [1, 0, 2, 1], group: [0, 0, 1, 1] };

  it('counts events of the cause against those due: 1 - 1/2, then 0 - 1/3', () => {
    const { score, degreesOfFreedom, cause, rho } = tested(data);
    expect(score[0]).toBeCloseTo(1 / 6, 15);
    expect(score[1]).toBeCloseTo(-1 / 6, 15);
    expect({ degreesOfFreedom, cause, rho }).toEqual({ degreesOfFreedom: 1, cause: 1, rho: 0 });
  });

  it('adds the variance of both causes: 25/288 + 169/1152 + 1/16 + 1/8 + 1/8', () => {
    const { covariance, chiSquare, pValue } = tested(data);
    expect(covariance[0]).toBeCloseTo(629 / 1152, 15);
    expect(covariance[1]).toBeCloseTo(-629 / 1152, 15);
    expect(chiSquare).toBeCloseTo(32 / 629, 15);
    expect(pValue).toBeCloseTo(0.82154867, 8);
  });

  it('weights by one minus the pooled incidence: 1/2 - 3/4 x 1/3', () => {
    const test = tested(data, { rho: 1 });
    expect(test.score[0]).toBeCloseTo(1 / 4, 15);
    expect(test.rho).toBe(1);
  });

  it('compares another cause when asked to', () => {
    // Day 2: Y = (1, 2), S = (1/2, 1), so h = (2, 2), nobody has had cause 2 yet: half is due in each group.
    const test = tested(data, { cause: 2 });
    expect(test.score[1]).toBeCloseTo(1 / 2, 15);
    expect(test.cause).toBe(2);
  });

  it('adds scores and variances over strata, compared within only', () => {
    const double = (column: readonly number[]): number[] => [...column, ...column];
    const twice = {
      timeDays: double(data.timeDays),
      status: double(data.status),
      group: double(data.group),
      strata: [5, 5, 5, 5, 0, 0, 0, 0],
    };
    const test = tested(twice);
    expect(test.score[0]).toBeCloseTo(2 / 6, 15);
    expect(test.covariance[0]).toBeCloseTo(629 / 576, 15);
  });
});

describe('degrees of freedom', () => {
  it('leave out a group gone before the first event of the cause, and codes without cases', () => {
    const data = { timeDays: [1, 4, 2, 3, 0], status: [1, 0, 2, 1, 0], group: [0, 0, 1, 1, 3] };
    const test = tested(data, { groupCount: 5 });
    expect(test.degreesOfFreedom).toBe(1);
    expect(test.chiSquare).toBeCloseTo(32 / 629, 14);
  });
});

describe('not estimable', () => {
  it('with one group, or without an event of the cause', () => {
    const data = { timeDays: [1, 2, 3], status: [1, 0, 2], group: [1, 1, 1] };
    expect(testGray(data)).toMatchObject({ kind: 'notEstimable', code: 'fewerThanTwoGroups' });
    const two = { ...data, group: [0, 1, 0] };
    expect(testGray(two, { cause: 3 })).toMatchObject({ kind: 'notEstimable', code: 'noEvents' });
    const other = { ...two, status: [2, 0, 2] };
    expect(testGray(other)).toMatchObject({ kind: 'notEstimable', code: 'noEvents' });
  });

  it('when the groups never meet at an event, or all fall at once', () => {
    const apart = { timeDays: [1, 2, 3], status: [0, 1, 1], group: [0, 1, 1] };
    expect(testGray(apart)).toMatchObject({ code: 'noOverlap' });
    const together = { timeDays: [2, 2, 2, 2], status: [1, 1, 1, 1], group: [0, 0, 1, 1] };
    expect(testGray(together)).toMatchObject({ code: 'noOverlap' });
  });

  it('when the pooled incidence is one before an event', () => {
    // Day 1: h = 4, F0 = 1/4. Day 2: h = 2, F0 = 3/4, and an event follows.
    const below = { timeDays: [1, 1, 2, 3], status: [1, 2, 1, 1], group: [0, 0, 1, 1] };
    expect(testGray(below)).toMatchObject({ kind: 'tested' });
    // Day 1: F0 = 2/4. Day 2: 1/2 more, and an event follows.
    const reached = { ...below, status: [1, 1, 1, 1] };
    expect(testGray(reached)).toMatchObject({ kind: 'notEstimable', code: 'pooledIncidenceAtOne' });
    // Without the event that follows nothing is lost.
    expect(testGray({ ...reached, status: [1, 1, 1, 0] })).toMatchObject({ kind: 'tested' });
  });

  it('with a broken power of a negative weight', () => {
    // Day 1: F0 = 3/5. Day 2: 1/2 more, so the event of day 3 has weight (-1/10)^rho.
    const late = { timeDays: [1, 1, 1, 2, 3], status: [1, 1, 1, 1, 1], group: [0, 0, 0, 1, 1] };
    expect(testGray(late, { rho: 0.5 })).toMatchObject({ code: 'pooledIncidenceAtOne' });
    expect(testGray(late, { rho: 1 })).toMatchObject({ kind: 'tested' });
  });

  it('when ties leave a negative variance', () => {
    // Group 1 has one of ten left when five of the fifteen of group 0 fail at once: h S is 1.6, the correction 1 - 4/0.6.
    const other = (n: number): number[] => Array.from({ length: n }, () => 1);
    const data = {
      timeDays: [...other(9), 2, ...other(5).map(() => 2), ...other(1).map(() => 3)],
      status: [...other(9).map(() => 2), 0, ...other(5), 0],
      group: [...other(10), ...other(6).map(() => 0)],
    };
    expect(testGray(data)).toMatchObject({ kind: 'notEstimable', code: 'varianceNotPositive' });
  });
});

describe('mistakes', () => {
  const good = { timeDays: [1, 2, 3.5], status: [1, 2, 1], group: [0, 1, 0], strata: [4, 9, 4] };

  it('name the row of the whole input', () => {
    expectMistake(() => testGray({ ...good, strata: [4, 9] }), 'unequalLengths', 'strata');
    expectMistake(() => testGray({ ...good, group: [0] }), 'unequalLengths', 'group');
    expectMistake(() => testGray({ ...good, strata: [4, 9, 0.5] }), 'unknownCode', 'strata', 2);
    expectMistake(() => testGray({ ...good, timeDays: [1, 2, -1] }), 'negative', 'timeDays', 2);
    expectMistake(() => testGray({ ...good, status: [1, 0.5, 1] }), 'unknownCode', 'status', 1);
    expectMistake(() => testGray(good, { groupCount: 1 }), 'unknownCode', 'group', 1);
    expectMistake(() => testGray(good, { groupCount: 0 }), 'outOfRange', 'group');
  });

  it('in the options are refused', () => {
    expectMistake(() => testGray(good, { cause: 0 }), 'unknownCode', 'cause');
    expectMistake(() => testGray(good, { cause: 1.5 }), 'unknownCode', 'cause');
    expectMistake(() => testGray(good, { rho: Number.NaN }), 'outOfRange', 'rho');
  });
});
