import { describe, expect, it } from 'vitest';
import {
  type BootstrapDesign,
  deriveBootstrapLimits,
  estimateByBootstrap,
  estimateSurvivalByBootstrap,
  type NotEstimable,
} from '@/lib/statistics';
import { notEstimable } from '@/lib/statistics/absence';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

describe('limits from replicates, by hand', () => {
  // 19 replicates 1..19: the rank of p is 20 p.
  const replicates = [...Array(19).keys()].map((k) => 19 - k);

  it('are the replicates of rank (B + 1) p', () => {
    const found = deriveBootstrapLimits({ estimate: 9, replicates }, { confidenceLevel: 0.9 });
    expect(found).toEqual({ kind: 'estimated', lower: 1, upper: 19 });
    const half = deriveBootstrapLimits({ estimate: 9, replicates }, { confidenceLevel: 0.5 });
    expect(half).toEqual({ kind: 'estimated', lower: 5, upper: 15 });
  });

  it('lie between two replicates as normal quantiles do', () => {
    // Rank 20 x 0.125 = 2.5; quantiles of 0.1, 0.125 and 0.15 from R's qnorm.
    const [low, p, high] = [-1.2815515655446004, -1.1503493803760079, -1.0364333894937896];
    const found = estimable(deriveBootstrapLimits({ estimate: 9, replicates }, { confidenceLevel: 0.75 }));
    expect(found.lower).toBeCloseTo(2 + (p - low) / (high - low), 10);
    expect(found.upper).toBeCloseTo(18 - (p - low) / (high - low), 10);
  });

  it('are none where no replicate bounds them', () => {
    expect(deriveBootstrapLimits({ estimate: 9, replicates })).toMatchObject({ code: 'tooFewReplicates' });
    expect(deriveBootstrapLimits({ estimate: 9, replicates: [3, 3, 3] })).toMatchObject({
      code: 'replicatesAlike',
    });
    expect(deriveBootstrapLimits({ estimate: 9, replicates: [] })).toMatchObject({ code: 'replicatesAlike' });
  });

  it('by BCa without bias or acceleration are the percentile limits', () => {
    // 9 of 18 lie below 9.5, and the influences cancel in the third power.
    const even = replicates.filter((value) => value !== 19);
    const data = { estimate: 9.5, replicates: even, influence: [-1, 1] };
    const plain = deriveBootstrapLimits(data, { confidenceLevel: 0.5 });
    expect(deriveBootstrapLimits(data, { limits: 'bca', confidenceLevel: 0.5 })).toEqual(plain);
  });

  it('count an influence as often as it stands for rows', () => {
    const options = { limits: 'bca', confidenceLevel: 0.5 } as const;
    const written = { estimate: 9.5, replicates, influence: [-1, -1, -1, 3] };
    const counted = { estimate: 9.5, replicates, influence: [-1, 3], multiplicity: [3, 1] };
    expect(deriveBootstrapLimits(counted, options)).toEqual(deriveBootstrapLimits(written, options));
    const other = { ...counted, multiplicity: [1, 1] };
    expect(deriveBootstrapLimits(other, options)).not.toEqual(deriveBootstrapLimits(written, options));
  });

  it('by BCa are none when the estimate lies outside all replicates, or nothing has influence', () => {
    const code = { code: 'replicatesOnOneSide' };
    const options = { limits: 'bca', confidenceLevel: 0.5 } as const;
    const of = (estimate: number, influence: number[]): unknown =>
      deriveBootstrapLimits({ estimate, replicates, influence }, options);
    expect(of(1, [1, -1])).toMatchObject(code);
    expect(of(19.5, [1, -1])).toMatchObject(code);
    expect(of(1.5, [1, -1])).toMatchObject({ code: 'tooFewReplicates' });
    expect(of(10, [0, 0])).toMatchObject(code);
    expect(of(10, [1, -1])).toMatchObject({ kind: 'estimated' });
  });

  it('refuse mistakes', () => {
    const of = (over: object, options: object) => () =>
      deriveBootstrapLimits({ estimate: 9, replicates, ...over }, options);
    expectMistake(of({ replicates: [1, Number.NaN] }, {}), 'notFinite', 'replicates', 1);
    expectMistake(of({ influence: [Number.NaN] }, {}), 'notFinite', 'influence', 0);
    expectMistake(of({}, { limits: 'bca' }), 'outOfRange', 'influence');
    expectMistake(of({}, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
  });
});

const mean =
  (values: readonly number[]) =>
  (rows: Int32Array): number => {
    let sum = 0;
    for (const row of rows) sum += values[row];
    return sum / rows.length;
  };

describe('the bootstrap of rows', () => {
  it('gives the statistic of all rows once, and of as many rows drawn', () => {
    const seen: number[][] = [];
    const found = estimable(
      estimateByBootstrap(
        { rows: 3 },
        (rows) => {
          seen.push(Array.from(rows));
          return mean([1, 2, 6])(rows);
        },
        { seed: 4, replicates: 50, confidenceLevel: 0.5 },
      ),
    );
    expect(found.estimate).toBe(3);
    expect(seen[0]).toEqual([0, 1, 2]);
    expect(seen).toHaveLength(51);
    expect(new Set(seen.map((rows) => rows.length))).toEqual(new Set([3]));
    expect(new Set(seen.slice(1).flat())).toEqual(new Set([0, 1, 2]));
    expect(Array.from(found.replicates)).toEqual(
      seen.slice(1).map((rows) => mean([1, 2, 6])(Int32Array.from(rows))),
    );
  });

  it('has the mean and spread that theory gives for a mean: the value and root(sum of squares)/n', () => {
    const values = [3, 1, 4, 1, 5, 9, 2, 6];
    const found = estimable(estimateByBootstrap({ rows: 8 }, mean(values), { seed: 11, replicates: 4000 }));
    const centre = mean(values)(Int32Array.from(values.keys()));
    const error = Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0)) / 8;
    expect(Math.abs(found.mean - centre)).toBeLessThan((4 * error) / Math.sqrt(4000));
    expect(Math.abs(found.standardError / error - 1)).toBeLessThan(4 / Math.sqrt(8000));
  });

  it('draws whole clusters', () => {
    const design = { rows: 5, cluster: [7, 7, 7, 2, 5] };
    estimateByBootstrap(
      design,
      (rows) => {
        const counts = [0, 0, 0, 0, 0];
        for (const row of rows) counts[row] += 1;
        expect(counts[1]).toBe(counts[0]);
        expect(counts[2]).toBe(counts[0]);
        expect(counts[0] + counts[3] + counts[4]).toBe(3);
        return rows.length;
      },
      { seed: 1, replicates: 100, confidenceLevel: 0.5 },
    );
  });

  it('draws within strata as many as they have', () => {
    estimateByBootstrap(
      { rows: 6, strata: [1, 2, 1, 2, 2, 9] },
      (rows) => {
        const found = Array.from(rows);
        expect(found.filter((row) => row === 0 || row === 2)).toHaveLength(2);
        expect(found.filter((row) => row === 5)).toHaveLength(1);
        return found.length;
      },
      { seed: 1, replicates: 60, confidenceLevel: 0.5 },
    );
  });

  it('counts replicates without a value, and gives up when they are more than one in twenty', () => {
    const failing = (every: number) =>
      (() => {
        let asked = 0;
        return (rows: Int32Array): number | NotEstimable => {
          asked += 1;
          return asked > 1 && asked % every === 0 ? notEstimable('noRows') : mean([1, 2, 6])(rows);
        };
      })();
    const options = { seed: 4, replicates: 100, confidenceLevel: 0.5 };
    const found = estimable(estimateByBootstrap({ rows: 3 }, failing(20), options));
    expect(found.failed).toBe(5);
    expect(found.replicates).toHaveLength(95);
    expect(estimateByBootstrap({ rows: 3 }, failing(16), options)).toMatchObject({
      code: 'replicatesFailed',
    });
    expect(estimateByBootstrap({ rows: 3 }, () => notEstimable('emptyArm'), options)).toMatchObject({
      code: 'emptyArm',
    });
    expect(estimateByBootstrap({ rows: 3 }, mean([1, 2, 6]), { seed: 1, replicates: 1 })).toMatchObject({
      code: 'tooFewReplicates',
    });
  });

  it('for BCa leaves out one row, or one cluster, at a time', () => {
    const values = [3, 1, 4, 1, 5, 9, 2, 6];
    const options = { seed: 2, replicates: 400, limits: 'bca', confidenceLevel: 0.8 } as const;
    const found = estimable(estimateByBootstrap({ rows: 8 }, mean(values), options));
    const influence = values.map((value) => value - 31 / 8);
    const { estimate, replicates } = found;
    expect(found.interval).toEqual(
      deriveBootstrapLimits({ estimate, replicates, influence }, { limits: 'bca', confidenceLevel: 0.8 }),
    );
    const clustered = estimable(
      estimateByBootstrap({ rows: 8, cluster: [1, 1, 2, 2, 3, 3, 4, 4] }, mean(values), options),
    );
    const pairs = [4, 5, 14, 8].map((sum) => sum / 2 - 31 / 8);
    expect(clustered.interval).toEqual(
      deriveBootstrapLimits(
        { estimate: clustered.estimate, replicates: clustered.replicates, influence: pairs },
        { limits: 'bca', confidenceLevel: 0.8 },
      ),
    );
  });

  it('for BCa has no interval when the statistic has no value without one row', () => {
    const needsAll = (rows: Int32Array): number | NotEstimable =>
      rows.length < 3 ? notEstimable('noRows') : mean([1, 2, 6])(rows);
    const options = { seed: 4, replicates: 50, limits: 'bca', confidenceLevel: 0.5 } as const;
    const found = estimable(estimateByBootstrap({ rows: 3 }, needsAll, options));
    expect(found.interval).toMatchObject({ code: 'replicatesFailed' });
  });

  it('refuses mistakes', () => {
    const run =
      (design: BootstrapDesign, statistic = mean([1, 2]), replicates = 10) =>
      () =>
        estimateByBootstrap(design, statistic, { seed: 1, replicates });
    expectMistake(run({ rows: 0 }), 'outOfRange', 'rows');
    expectMistake(run({ rows: 1.5 }), 'notInteger', 'rows');
    expectMistake(run({ rows: 2, strata: [1] }), 'unequalLengths', 'strata');
    expectMistake(run({ rows: 2, cluster: [1] }), 'unequalLengths', 'cluster');
    expectMistake(run({ rows: 2, strata: [1, Number.NaN] }), 'notFinite', 'strata', 1);
    expectMistake(run({ rows: 2, cluster: [Number.NaN, 1] }), 'notFinite', 'cluster', 0);
    expectMistake(run({ rows: 2, strata: [1, 2], cluster: [5, 5] }), 'outOfRange', 'cluster', 1);
    expectMistake(
      run({ rows: 2 }, () => Number.NaN),
      'notFinite',
      'statistic',
    );
    expectMistake(run({ rows: 2 }, mean([1, 2]), -1), 'negative', 'replicates');
    expectMistake(() => estimateByBootstrap({ rows: 2 }, mean([1, 2]), { seed: -1 }), 'negative', 'seed');
  });
});

describe('the bootstrap of a Kaplan-Meier curve', () => {
  // Events on days 1, 3, 3 and 6, censored on days 3 and 5.
  const data = { timeDays: [1, 3, 3, 3, 5, 6], event: [1, 1, 1, 0, 0, 1] };
  const options = { seed: 5, replicates: 400, confidenceLevel: 0.8 };

  it('has the values of the curve, and none but those that six rows drawn can give', () => {
    const [before, first, second] = estimateSurvivalByBootstrap(data, [0, 1, 4], options).map(estimable);
    expect([before.survival, first.survival, second.survival]).toEqual([1, 5 / 6, 0.5]);
    expect(before).toMatchObject({ standardError: 0, interval: { code: 'replicatesAlike' } });
    for (const value of first.replicates)
      expect(Math.abs(value * 6 - Math.round(value * 6))).toBeLessThan(1e-12);
    expect(second.timeDays).toBe(4);
    for (const [i, value] of second.replicates.entries())
      expect(value).toBeLessThanOrEqual(first.replicates[i]);
  });

  it('answers times in the order asked', () => {
    const [late, early] = estimateSurvivalByBootstrap(data, [6, 1], options).map(estimable);
    expect([late.survival, early.survival]).toEqual([0, 5 / 6]);
    const sorted = estimateSurvivalByBootstrap(data, [1, 6], options).map(estimable);
    expect(early.replicates).toEqual(sorted[0].replicates);
  });

  it('draws the same curve from few rows one by one and from many cell by cell', () => {
    const copies = 60;
    const many = {
      timeDays: Array.from({ length: 6 * copies }, (_, i) => data.timeDays[i % 6]),
      event: Array.from({ length: 6 * copies }, (_, i) => data.event[i % 6]),
    };
    const [found] = estimateSurvivalByBootstrap(many, [4], { ...options, replicates: 4000 }).map(estimable);
    expect(found.survival).toBeCloseTo(0.5, 12);
    // Greenwood: 0.25 (1/6/5 + 2/5/3)/60.
    const error = Math.sqrt(0.25 / 6 / copies);
    expect(Math.abs(found.standardError / error - 1)).toBeLessThan(0.06);
    expect(Math.abs(found.mean - 0.5)).toBeLessThan((4 * error) / Math.sqrt(4000));
  });

  it('is not estimable without rows or with one replicate', () => {
    expect(estimateSurvivalByBootstrap({ timeDays: [], event: [] }, [1], options)).toMatchObject([
      { code: 'noRows' },
    ]);
    expect(estimateSurvivalByBootstrap(data, [1], { seed: 1, replicates: 1 })).toMatchObject([
      { code: 'tooFewReplicates' },
    ]);
    expect(estimateSurvivalByBootstrap(data, [], options)).toEqual([]);
  });

  it('has no BCa limits where the curve is at zero', () => {
    const [end] = estimateSurvivalByBootstrap(data, [6], { ...options, limits: 'bca' }).map(estimable);
    expect(end.interval).toMatchObject({ kind: 'notEstimable' });
  });

  it('refuses mistakes', () => {
    const run =
      (over: object, times = [1], with_: object = {}) =>
      () =>
        estimateSurvivalByBootstrap({ ...data, ...over }, times, { ...options, ...with_ });
    expectMistake(run({ event: [1] }), 'unequalLengths', 'event');
    expectMistake(run({ event: [1, 1, 1, 0, 0, 2] }), 'unknownCode', 'event', 5);
    expectMistake(run({ timeDays: [1, -3, 3, 3, 5, 6] }), 'negative', 'timeDays', 1);
    expectMistake(run({}, [-1]), 'negative', 'times', 0);
    expectMistake(run({}, [1], { seed: 0.5 }), 'notInteger', 'seed');
    expectMistake(run({}, [1], { replicates: 0.5 }), 'notInteger', 'replicates');
    expectMistake(run({}, [1], { confidenceLevel: 0 }), 'outOfRange', 'confidenceLevel');
  });
});
