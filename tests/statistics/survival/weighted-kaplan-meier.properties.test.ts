import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateCumulativeIncidence,
  estimateKaplanMeier,
  estimateWeightedKaplanMeier,
  estimateWeightedKaplanMeierByGroup,
  survivalAt,
  testLogRank,
  testSurvivalDifference,
  testWeightedLogRank,
  testWeightedSurvivalDifference,
} from '@/lib/statistics';
import { type FollowUp, followUp } from './follow-up';

type Weighted = FollowUp & { readonly weights: number[]; readonly cluster: number[] };

/** Whole weights, some of them zero when allowed, and a few clusters. */
function weightedFollowUp(least: number): fc.Arbitrary<Weighted> {
  return followUp(2).chain((data) => {
    const { length } = data.timeDays;
    const column = (min: number, max: number) =>
      fc.array(fc.integer({ min, max }), { minLength: length, maxLength: length });
    return fc
      .record({ weights: column(least, 4), cluster: column(0, 9) })
      .map((extra) => ({ ...data, ...extra }));
  });
}

const closeTo = (got: ArrayLike<number>, want: ArrayLike<number>, digits = 10): void => {
  expect(got.length).toBe(want.length);
  for (let i = 0; i < got.length; i += 1) expect(got[i]).toBeCloseTo(want[i], digits);
};

it('with weights 1 is Kaplan-Meier, with the errors of Greenwood and the same limits', () => {
  fc.assert(
    fc.property(followUp(2), fc.constantFrom('plain', 'log', 'log-log'), ({ timeDays, event }, limits) => {
      const plain = estimateKaplanMeier({ timeDays, event }, { limits });
      const weights = timeDays.map(() => 1);
      for (const curve of [
        estimateWeightedKaplanMeier({ timeDays, event, weights }, { limits }),
        estimateWeightedKaplanMeier({ timeDays, event }, { limits }),
        estimateWeightedKaplanMeier({ timeDays, event, cluster: [...timeDays.keys()] }, { limits }),
      ]) {
        expect([curve.intervalFrom, curve.intervalTo]).toEqual([plain.intervalFrom, plain.intervalTo]);
        closeTo(curve.survival, plain.survival);
        closeTo(curve.standardError, plain.standardError);
        closeTo(curve.lower, plain.lower, 8);
        closeTo(curve.upper, plain.upper, 8);
        expect(curve.effectiveSampleSize).toBeCloseTo(timeDays.length, 9);
      }
    }),
  );
});

it('with whole weights has the curve of the rows repeated, and their error only if copies are one cluster', () => {
  fc.assert(
    fc.property(weightedFollowUp(1), fc.boolean(), ({ timeDays, event, entryDays, weights }, delayed) => {
      const rows = [...timeDays.keys()].flatMap((i) => Array.from({ length: weights[i] }, () => i));
      const pick = (column: readonly number[]): number[] => rows.map((i) => column[i]);
      const entry = delayed ? { entryDays } : {};
      const curve = estimateWeightedKaplanMeier({ timeDays, event, weights, ...entry });
      const repeated = {
        timeDays: pick(timeDays),
        event: pick(event),
        ...(delayed ? { entryDays: pick(entryDays) } : {}),
      };
      const together = estimateWeightedKaplanMeier({ ...repeated, cluster: rows });
      closeTo(together.survival, curve.survival);
      closeTo(together.standardError, curve.standardError);
      closeTo(estimateKaplanMeier(repeated).survival, curve.survival);
    }),
  );
});

it('does not take weights of 2 for twice as many cases: the error stays', () => {
  fc.assert(
    fc.property(followUp(2), fc.integer({ min: 2, max: 9 }), ({ timeDays, event }, factor) => {
      const once = estimateWeightedKaplanMeier({ timeDays, event });
      const more = estimateWeightedKaplanMeier({ timeDays, event, weights: timeDays.map(() => factor) });
      closeTo(more.survival, once.survival);
      closeTo(more.standardError, once.standardError);
      const copies = (column: readonly number[]): number[] =>
        Array.from({ length: factor }, () => column).flat();
      const many = estimateKaplanMeier({ timeDays: copies(timeDays), event: copies(event) });
      closeTo(
        many.standardError.map((error) => error * Math.sqrt(factor)),
        more.standardError,
      );
    }),
  );
});

it('does not feel the scale of the weights, the order of the rows, rows of weight 0 or the names of clusters', () => {
  fc.assert(
    fc.property(weightedFollowUp(0), fc.boolean(), (data, delayed) => {
      const { timeDays, event, entryDays, weights, cluster } = data;
      const all = { timeDays, event, weights, cluster, ...(delayed ? { entryDays } : {}) };
      const curve = estimateWeightedKaplanMeier(all);
      const same = (other: ReturnType<typeof estimateWeightedKaplanMeier>): void => {
        closeTo(other.survival, curve.survival);
        closeTo(other.standardError, curve.standardError, 7);
      };
      same(estimateWeightedKaplanMeier({ ...all, weights: weights.map((w) => w * 0.37) }));
      same(estimateWeightedKaplanMeier({ ...all, cluster: cluster.map((c) => 1000 - 7 * c) }));
      const turned = Object.entries(all).map(([name, column]) => [name, column.toReversed()]);
      same(estimateWeightedKaplanMeier({ ...all, ...Object.fromEntries(turned) }));
      const kept = (column: readonly number[]): number[] => column.filter((_, i) => weights[i] > 0);
      const without = estimateWeightedKaplanMeier({
        timeDays: kept(timeDays),
        event: kept(event),
        weights: kept(weights),
        cluster: kept(cluster),
        ...(delayed ? { entryDays: kept(entryDays) } : {}),
      });
      if (without.n === 0) return;
      const read = (one: typeof curve) =>
        survivalAt(one, without.timeDays).map((point) => (point.kind === 'estimated' ? point.survival : 0));
      closeTo(read(curve), read(without));
    }),
  );
});

it('by group is the curve of the rows of that group', () => {
  fc.assert(
    fc.property(weightedFollowUp(0), ({ timeDays, event, weights, cluster, group }) => {
      const curves = estimateWeightedKaplanMeierByGroup(
        { timeDays, event, weights, cluster, group },
        { groupCount: 3 },
      );
      for (const [g, curve] of curves.entries()) {
        const own = (column: readonly number[]): number[] => column.filter((_, i) => group[i] === g);
        const alone = estimateWeightedKaplanMeier({
          timeDays: own(timeDays),
          event: own(event),
          weights: own(weights),
          cluster: own(cluster),
        });
        closeTo(curve.survival, alone.survival);
        closeTo(curve.standardError, alone.standardError, 7);
      }
    }),
  );
});

it('clustered incidence is that of any event, of one cause the clustered curve turned over, and plain for lone rows', () => {
  fc.assert(
    fc.property(
      weightedFollowUp(1),
      fc.boolean(),
      ({ timeDays, event, status, entryDays, cluster }, delayed) => {
        const entry = delayed ? { entryDays } : {};
        const [cause] = estimateCumulativeIncidence({ timeDays, status: event, cluster, ...entry }).causes;
        const curve = estimateWeightedKaplanMeier({ timeDays, event, cluster, ...entry });
        closeTo(cause.standardError.slice(0, curve.intervalTo), curve.standardError, 7);
        const lone = estimateCumulativeIncidence(
          { timeDays, status, cluster: [...timeDays.keys()] },
          { causeCount: 2 },
        );
        const plain = estimateCumulativeIncidence({ timeDays, status }, { causeCount: 2 });
        for (const index of [0, 1])
          closeTo(lone.causes[index].standardError, plain.causes[index].standardError, 7);
      },
    ),
  );
});

it('the difference without shared clusters is that of independent curves, and turns its sign with the groups', () => {
  fc.assert(
    fc.property(weightedFollowUp(1), ({ timeDays, event, weights, group, cluster }) => {
      const rows = { timeDays, event, weights, group, cluster: cluster.map((c, i) => 3 * c + group[i]) };
      const times = [3, 10, 25];
      const [first, second] = estimateWeightedKaplanMeierByGroup(rows, { groupCount: 3 });
      const points = testWeightedSurvivalDifference(rows, times);
      for (const [i, apart] of testSurvivalDifference(first, second, times).entries()) {
        const point = points[i];
        expect(point.kind).toBe(apart.kind);
        if (point.kind === 'notEstimable' || apart.kind === 'notEstimable') continue;
        expect(point.difference).toBeCloseTo(apart.difference, 12);
        if (point.plain.kind === 'tested' && apart.plain.kind === 'tested')
          expect(point.plain.standardError).toBeCloseTo(apart.plain.standardError, 9);
      }
      const shared = { ...rows, cluster };
      const turned = testWeightedSurvivalDifference(shared, times, { groups: [1, 0] });
      for (const [i, point] of testWeightedSurvivalDifference(shared, times, { groups: [0, 1] }).entries()) {
        const other = turned[i];
        if (point.kind === 'notEstimable' || other.kind === 'notEstimable') continue;
        expect(other.difference).toBeCloseTo(-point.difference, 12);
        if (point.plain.kind === 'tested' && other.plain.kind === 'tested')
          expect(other.plain.standardError).toBeCloseTo(point.plain.standardError, 9);
      }
    }),
  );
});

it('the weighted log-rank test turns its sign with the groups and does not feel the scale of the weights', () => {
  fc.assert(
    fc.property(
      weightedFollowUp(1),
      fc.constantFrom('permutation', 'sampling'),
      ({ timeDays, event, weights, strata: group }, variance) => {
        const rows = { timeDays, event, weights, group };
        const test = testWeightedLogRank(rows, { variance });
        const turned = testWeightedLogRank({ ...rows, group: group.map((g) => 1 - g) }, { variance });
        const scaled = testWeightedLogRank({ ...rows, weights: weights.map((w) => 3 * w) }, { variance });
        expect([turned.kind, scaled.kind]).toEqual([test.kind, test.kind]);
        if (test.kind !== 'tested' || turned.kind !== 'tested' || scaled.kind !== 'tested') return;
        expect(turned.z).toBeCloseTo(-test.z, 7);
        expect(scaled.z).toBeCloseTo(test.z, 7);
        expect(scaled.score).toBeCloseTo(3 * test.score, 9);
        expect(test.chiSquare).toBeCloseTo(test.z ** 2, 9);
      },
    ),
  );
});

it('the weighted log-rank test with weights 1 has the score of the log-rank test', () => {
  fc.assert(
    fc.property(followUp(2), ({ timeDays, event, strata: group }) => {
      const test = testWeightedLogRank({ timeDays, event, group, weights: timeDays.map(() => 1) });
      const plain = testLogRank({ timeDays, event, group });
      if (test.kind !== 'tested' || plain.kind !== 'tested') return;
      expect(test.score).toBeCloseTo(plain.groups[1].observed - plain.groups[1].expected, 10);
    }),
  );
});
