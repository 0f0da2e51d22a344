import fc from 'fast-check';
import { expect, it } from 'vitest';
import { testFisherExactTable, testPearsonChiSquare, testProportionTrend } from '@/lib/statistics';
import { estimable } from '../estimable';

const size = fc.integer({ min: 2, max: 4 });
const tablesOf = (most: number) =>
  fc.tuple(size, size).chain(([rows, columns]) =>
    fc.array(fc.array(fc.integer({ min: 0, max: most }), { minLength: columns, maxLength: columns }), {
      minLength: rows,
      maxLength: rows,
    }),
  );
const turned = (table: number[][]): number[][] => table[0].map((_, j) => table.map((row) => row[j]));
const shuffled = (table: number[][]): number[][] => table.toReversed().map((row) => row.toReversed());

/** All tables with these totals, one after the other, with the product of 1/cell! of each. */
function allTables(rows: number[], columns: number[]): number[] {
  const factorial = (x: number): number => (x < 2 ? 1 : x * factorial(x - 1));
  const weights: number[] = [];
  const fill = (i: number, j: number, left: number, open: number[], weight: number): void => {
    if (i === rows.length) {
      if (open.every((rest) => rest === 0)) weights.push(weight);
      return;
    }
    if (j === columns.length) {
      if (left === 0) fill(i + 1, 0, rows[i + 1] ?? 0, open, weight);
      return;
    }
    for (let x = 0; x <= Math.min(left, open[j]); x += 1) {
      const rest = open.map((value, k) => (k === j ? value - x : value));
      fill(i, j + 1, left - x, rest, weight / factorial(x));
    }
  };
  fill(0, 0, rows[0], columns, 1);
  return weights;
}

it('Fisher: the same as the plain sum over every table with these totals', () => {
  fc.assert(
    fc.property(tablesOf(3), (table) => {
      // The plain sum visits every table: a 4 x 4 one with many cases has hundreds of millions.
      fc.pre(table.length * table[0].length <= 9 && table.flat().some((count) => count > 0));
      const sum = (row: number[]): number => row.reduce((total, count) => total + count, 0);
      const weights = allTables(table.map(sum), turned(table).map(sum));
      const factorial = (x: number): number => (x < 2 ? 1 : x * factorial(x - 1));
      const seen = table.flat().reduce((weight, count) => weight / factorial(count), 1);
      const total = sum(weights);
      const rare = sum(weights.filter((weight) => weight <= seen * (1 + 1e-7)));
      expect(estimable(testFisherExactTable(table)).pValue).toBeCloseTo(rare / total, 10);
    }),
    { numRuns: 60 },
  );
});

it('Fisher and Pearson: rows, columns and their roles may change places', () => {
  fc.assert(
    fc.property(tablesOf(6), (table) => {
      const fisher = testFisherExactTable(table);
      const pearson = testPearsonChiSquare(table);
      for (const other of [turned(table), shuffled(table)]) {
        const again = testFisherExactTable(other);
        expect(again.kind).toBe(fisher.kind);
        if (again.kind === 'tested' && fisher.kind === 'tested') {
          expect(again.pValue).toBeCloseTo(fisher.pValue, 9);
        }
        const same = testPearsonChiSquare(other);
        if (same.kind === 'tested' && pearson.kind === 'tested') {
          expect(same.chiSquare).toBeCloseTo(pearson.chiSquare, 9);
        }
      }
    }),
  );
});

const groups = fc.array(
  fc.integer({ min: 1, max: 40 }).chain((n) =>
    fc.record({
      n: fc.constant(n),
      events: fc.integer({ min: 0, max: n }),
      score: fc.integer({ min: -5, max: 5 }),
    }),
  ),
  { minLength: 2, maxLength: 6 },
);

it('trend: scores may be shifted, stretched and turned; it never passes the overall chi-square', () => {
  fc.assert(
    fc.property(
      groups,
      fc.integer({ min: 1, max: 9 }),
      fc.integer({ min: -50, max: 50 }),
      (rows, by, shift) => {
        const columns = (scoreOf: (score: number) => number) => ({
          events: rows.map(({ events }) => events),
          n: rows.map(({ n }) => n),
          scores: rows.map(({ score }) => scoreOf(score)),
        });
        const found = testProportionTrend(columns((score) => score));
        fc.pre(found.kind === 'tested');
        const moved = estimable(testProportionTrend(columns((score) => by * score + shift)));
        const mirrored = estimable(testProportionTrend(columns((score) => -score)));
        expect(moved.z).toBeCloseTo(found.z, 8);
        expect(mirrored.z).toBeCloseTo(-found.z, 8);
        expect(found.chiSquare).toBeLessThanOrEqual(found.overallChiSquare * (1 + 1e-9) + 1e-9);
        expect(found.chiSquare).toBeGreaterThanOrEqual(found.correlationChiSquare);
      },
    ),
  );
});
