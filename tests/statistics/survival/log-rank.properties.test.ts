import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type LogRankData, type LogRankGroup, testLogRank } from '@/lib/statistics';
import { type FollowUp, followUp, reversed } from './follow-up';

type Numbers = { chiSquare: number; degreesOfFreedom: number; pValue: number };

/** The test's numbers, or why there are none. */
function summary(data: LogRankData): Numbers | string {
  const result = testLogRank(data, { groupCount: 3 });
  if (result.kind !== 'tested') return result.code;
  const { chiSquare, degreesOfFreedom, pValue } = result;
  return { chiSquare, degreesOfFreedom, pValue };
}

function expectSame(a: Numbers | string, b: Numbers | string): void {
  if (typeof a === 'string' || typeof b === 'string') {
    expect(a).toBe(b);
    return;
  }
  expect(a.degreesOfFreedom).toBe(b.degreesOfFreedom);
  expect(Math.abs(a.chiSquare - b.chiSquare)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(b.chiSquare)));
  expect(a.pValue).toBeCloseTo(b.pValue, 9);
}

const without = ({ timeDays, event, group }: FollowUp): LogRankData => ({ timeDays, event, group });

it('does not depend on the order of the rows', () => {
  fc.assert(
    fc.property(followUp(), (data) => {
      expectSame(summary(reversed(data)), summary(data));
    }),
  );
});

it('does not depend on which group has which code', () => {
  fc.assert(
    fc.property(followUp(), fc.constantFrom([1, 0, 2], [2, 0, 1], [2, 1, 0]), (data, codes) => {
      expectSame(summary({ ...data, group: data.group.map((g) => codes[g]) }), summary(data));
    }),
  );
});

it('with two groups is symmetric: opposite scores, one variance, (O - E)^2 / V', () => {
  fc.assert(
    fc.property(followUp(2), (data) => {
      const test = testLogRank({ ...without(data), group: data.group.map((g) => Math.min(g, 1)) });
      if (test.kind !== 'tested') return;
      const [first, second] = test.groups;
      expect(first.observed - first.expected).toBeCloseTo(second.expected - second.observed, 11);
      expect(test.covariance[0]).toBeCloseTo(test.covariance[3], 11);
      expect(test.chiSquare).toBeCloseTo((first.observed - first.expected) ** 2 / test.covariance[0], 9);
      expect(test.degreesOfFreedom).toBe(1);
    }),
  );
});

it('expects as many events as are observed, and covariances sum to zero', () => {
  fc.assert(
    fc.property(followUp(2), (data) => {
      const test = testLogRank(data, { groupCount: 3 });
      if (test.kind !== 'tested') return;
      const total = (pick: (g: LogRankGroup) => number): number =>
        test.groups.reduce((sum, g) => sum + pick(g), 0);
      expect(total((g) => g.expected)).toBeCloseTo(
        total((g) => g.observed),
        9,
      );
      for (const row of [0, 1, 2]) {
        const sum = test.covariance.slice(3 * row, 3 * row + 3).reduce((a, b) => a + b, 0);
        expect(sum).toBeCloseTo(0, 10);
      }
    }),
  );
});

it('with one stratum is the unstratified test, in days and in fractions of days', () => {
  fc.assert(
    fc.property(followUp(), fc.constantFrom(1, 0.1), fc.boolean(), (data, scale, delayed) => {
      const plain = {
        ...without(data),
        timeDays: data.timeDays.map((t) => t * scale),
        ...(delayed ? { entryDays: data.entryDays.map((t) => t * scale) } : {}),
      };
      expectSame(summary({ ...plain, strata: data.timeDays.map(() => 5) }), summary(plain));
    }),
  );
});

it('uses the order of the times only', () => {
  fc.assert(
    fc.property(followUp(), (data) => {
      expectSame(
        summary({ ...without(data), timeDays: data.timeDays.map((t) => t * t) }),
        summary(without(data)),
      );
    }),
  );
});

it('does not change when everybody enters before the first time', () => {
  fc.assert(
    fc.property(followUp(), (data) => {
      expectSame(
        summary({ ...without(data), entryDays: data.timeDays.map(() => 0) }),
        summary(without(data)),
      );
    }),
  );
});

it('two copies of the rows in two strata double the statistic of two groups', () => {
  fc.assert(
    fc.property(followUp(2), (data) => {
      const group = data.group.map((g) => Math.min(g, 1));
      const once = summary({ ...without(data), group });
      const twice = summary({
        timeDays: [...data.timeDays, ...data.timeDays],
        event: [...data.event, ...data.event],
        group: [...group, ...group],
        strata: [...group.map(() => 0), ...group.map(() => 1)],
      });
      if (typeof once === 'string' || typeof twice === 'string') expect(twice).toBe(once);
      else expect(twice.chiSquare).toBeCloseTo(2 * once.chiSquare, 8);
    }),
  );
});
