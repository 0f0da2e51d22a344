import { describe, expect, it } from 'vitest';
import { testFisherExactTable, testPearsonChiSquare, testProportionTrend } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

describe("Fisher's test of a larger table", () => {
  it('counts arrangements: 2 of 6 are as rare as both firsts in one column', () => {
    // Two of four cases are in the first row: both of column 1, or one of each of the single columns; the others 2/6.
    const table = [
      [2, 0, 0],
      [0, 1, 1],
    ];
    expect(estimable(testFisherExactTable(table)).pValue).toBeCloseTo(2 / 6, 14);
    expect(
      estimable(
        testFisherExactTable([
          [1, 1, 0],
          [1, 0, 1],
        ]),
      ).pValue,
    ).toBeCloseTo(1, 14);
  });

  it('of three by three single cases: all 6 arrangements are alike', () => {
    const identity = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
    expect(estimable(testFisherExactTable(identity)).pValue).toBeCloseTo(1, 14);
    // Doubled: 90 arrangements of 6 cases into rows of two, 6 of them with every column in one row.
    const doubled = identity.map((row) => row.map((count) => 2 * count));
    expect(estimable(testFisherExactTable(doubled)).pValue).toBeCloseTo(6 / 90, 14);
  });

  it('passes over empty rows and columns', () => {
    const bare = [
      [3, 1],
      [1, 3],
    ];
    const padded = [
      [3, 0, 1],
      [0, 0, 0],
      [1, 0, 3],
    ];
    expect(estimable(testFisherExactTable(padded)).pValue).toBeCloseTo(34 / 70, 14);
    expect(estimable(testFisherExactTable(bare)).pValue).toBeCloseTo(34 / 70, 14);
    expect(
      testFisherExactTable([
        [0, 3],
        [0, 4],
      ]),
    ).toEqual({ kind: 'tested', pValue: 1 });
  });

  it('gives up what would take too long or does not fit, and says so', () => {
    expect(
      testFisherExactTable([
        [0, 0],
        [0, 0],
      ]),
    ).toMatchObject({ code: 'noRows' });
    const wide = Array.from({ length: 8 }, (_, i) => Array.from({ length: 8 }, (_, j) => 100 + i * j));
    expect(testFisherExactTable(wide)).toMatchObject({ kind: 'notEstimable', code: 'tableTooLarge' });
    const long = [
      [3, 1, 4, 1, 5, 2],
      [2, 7, 1, 8, 2, 1],
      [8, 1, 8, 2, 8, 1],
      [4, 5, 9, 0, 4, 4],
      [3, 5, 2, 3, 6, 2],
    ];
    expect(testFisherExactTable(long)).toMatchObject({ kind: 'notEstimable', code: 'tableTooLarge' });
  });
});

describe("Pearson's test", () => {
  it('sums squared distances over expectations of 10: 4 x 25/10', () => {
    const table = [
      [15, 5],
      [5, 15],
    ];
    expect(testPearsonChiSquare(table)).toMatchObject({ chiSquare: 10, degreesOfFreedom: 1 });
    const corrected = estimable(testPearsonChiSquare(table, { continuityCorrection: true }));
    expect(corrected.chiSquare).toBeCloseTo((4 * 4.5 ** 2) / 10, 13);
    const even = [
      [10, 10],
      [11, 9],
    ];
    // The distance is 1/2: nothing is left of it.
    expect(testPearsonChiSquare(even, { continuityCorrection: true })).toMatchObject({
      chiSquare: 0,
      pValue: 1,
    });
  });

  it('has (rows - 1)(columns - 1) degrees, of those that hold cases', () => {
    const table = [
      [1, 2, 0, 3],
      [0, 0, 0, 0],
      [4, 5, 0, 6],
      [7, 8, 0, 9],
    ];
    expect(testPearsonChiSquare(table)).toMatchObject({ degreesOfFreedom: 4 });
  });

  it('has nothing to compare with one row or one column', () => {
    expect(
      testPearsonChiSquare([
        [0, 0],
        [3, 4],
      ]),
    ).toMatchObject({ code: 'emptyArm' });
    expect(
      testPearsonChiSquare([
        [0, 5],
        [0, 4],
      ]),
    ).toMatchObject({ code: 'oneOutcome' });
  });
});

describe('the trend', () => {
  it('of 1, 2, 3 among 4 each at 0, 1, 2: U = 2, V = 2, all of the chi-square', () => {
    const found = estimable(testProportionTrend({ events: [1, 2, 3], n: [4, 4, 4], scores: [0, 1, 2] }));
    expect(found.z).toBeCloseTo(Math.SQRT2, 14);
    expect(found.chiSquare).toBeCloseTo(2, 14);
    expect(found.correlationChiSquare).toBeCloseTo((2 * 11) / 12, 14);
    expect(found.overallChiSquare).toBeCloseTo(2, 14);
    expect(found.overallDegreesOfFreedom).toBe(2);
    expect(found.departure).toMatchObject({ kind: 'tested', degreesOfFreedom: 1 });
    if (found.departure.kind === 'tested') expect(found.departure.chiSquare).toBeCloseTo(0, 14);
    expect(found.pValue).toBeCloseTo(0.15729920705028513, 14);
  });

  it('falls below 0 when the proportion falls, and misses what bends', () => {
    const falling = estimable(testProportionTrend({ events: [3, 2, 1], n: [4, 4, 4], scores: [0, 1, 2] }));
    expect(falling.z).toBeCloseTo(-Math.SQRT2, 14);
    const bent = estimable(testProportionTrend({ events: [1, 3, 1], n: [4, 4, 4], scores: [0, 1, 2] }));
    expect(bent.chiSquare).toBeCloseTo(0, 14);
    expect(bent.departure).toMatchObject({ kind: 'tested' });
    if (bent.departure.kind === 'tested') {
      expect(bent.departure.chiSquare).toBeCloseTo(bent.overallChiSquare, 13);
    }
  });

  it('leaves no departure to two groups, and passes over groups without cases', () => {
    const two = estimable(testProportionTrend({ events: [1, 0, 3], n: [4, 0, 4], scores: [0, 7, 2] }));
    expect(two.departure).toMatchObject({ kind: 'notEstimable', code: 'twoScores' });
    expect(two.overallDegreesOfFreedom).toBe(1);
    expect(two.chiSquare).toBeCloseTo(two.overallChiSquare, 13);
  });

  it('needs two scores and two outcomes', () => {
    const flat = { events: [1, 2], n: [4, 4], scores: [3, 3] };
    expect(testProportionTrend(flat)).toMatchObject({ kind: 'notEstimable', code: 'oneScore' });
    const none = { events: [0, 0], n: [4, 4], scores: [1, 2] };
    expect(testProportionTrend(none)).toMatchObject({ kind: 'notEstimable', code: 'oneOutcome' });
    const empty = { events: [0, 0], n: [0, 0], scores: [1, 2] };
    expect(testProportionTrend(empty)).toMatchObject({ kind: 'notEstimable', code: 'oneScore' });
  });

  it('names the group of a mistake', () => {
    const good = { events: [1, 2], n: [4, 4], scores: [1, 2] };
    expectMistake(() => testProportionTrend({ ...good, n: [4] }), 'unequalLengths', 'n');
    expectMistake(() => testProportionTrend({ ...good, events: [1, 5] }), 'outOfRange', 'events', 1);
    expectMistake(() => testProportionTrend({ ...good, scores: [1, Number.NaN] }), 'notFinite', 'scores', 1);
    expectMistake(() => testProportionTrend({ events: [1], n: [4], scores: [1] }), 'outOfRange', 'events');
  });
});

it('refuses tables that are none', () => {
  for (const run of [testFisherExactTable, testPearsonChiSquare]) {
    expectMistake(() => run([[1, 2]]), 'outOfRange', 'table');
    expectMistake(() => run([[1], [2]]), 'outOfRange', 'table');
    expectMistake(
      () =>
        run([
          [1, 2],
          [3, -4],
        ]),
      'negative',
      'table[1]',
      1,
    );
  }
  const wide = [
    [1, 2, 3],
    [4, 5, 6],
  ];
  expectMistake(
    () => testPearsonChiSquare(wide, { continuityCorrection: true }),
    'outOfRange',
    'continuityCorrection',
  );
});
