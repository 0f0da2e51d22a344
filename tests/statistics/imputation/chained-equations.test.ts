import { describe, expect, it } from 'vitest';
import { type ColumnToImpute, type ImputedSets, imputeByChainedEquations } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const impute = (columns: readonly ColumnToImpute[], options = {}): ImputedSets =>
  estimable(imputeByChainedEquations(columns, { imputations: 20, seed: 3, iterations: 2, ...options }));
/** What the sets put at one place. */
const put = ({ sets }: ImputedSets, column: number, row: number): number[] =>
  sets.map((set) => set[column][row]);

describe('numeric columns', () => {
  // A straight line leaves nothing to draw but the donor: fitted values are twice the first column.
  const line = (at: number): ColumnToImpute[] => [
    { kind: 'complete', values: [0, 1, 2, 3, 4, at] },
    { kind: 'numeric', values: [0, 2, 4, 6, 8, null] },
  ];

  it('take the value of the nearest donor', () => {
    expect(new Set(put(impute(line(2.2), { donors: 1 }), 1, 5))).toEqual(new Set([4]));
    expect(new Set(put(impute(line(-9), { donors: 1 }), 1, 5))).toEqual(new Set([0]));
    expect(new Set(put(impute(line(9), { donors: 1 }), 1, 5))).toEqual(new Set([8]));
  });

  it('take any of the nearest donors, as many as asked for', () => {
    expect(new Set(put(impute(line(2.2), { donors: 2, imputations: 40 }), 1, 5))).toEqual(new Set([4, 6]));
    expect(new Set(put(impute(line(1.8), { donors: 3, imputations: 60 }), 1, 5))).toEqual(new Set([2, 4, 6]));
    expect(new Set(put(impute(line(9), { donors: 2, imputations: 40 }), 1, 5))).toEqual(new Set([6, 8]));
    expect(new Set(put(impute(line(-9), { donors: 2, imputations: 40 }), 1, 5))).toEqual(new Set([0, 2]));
    // Five unless stated, and all there are when there are fewer.
    expect(new Set(put(impute(line(2.2), { imputations: 100 }), 1, 5))).toEqual(new Set([0, 2, 4, 6, 8]));
    const few: ColumnToImpute[] = [{ kind: 'numeric', values: [7, 9, null] }];
    expect(new Set(put(impute(few, { imputations: 40 }), 0, 2))).toEqual(new Set([7, 9]));
  });

  it('draw among donors with one fitted value without favour', () => {
    // The first column says nothing within its two values: five of ten donors are equally near.
    const values = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, null];
    const same: ColumnToImpute[] = [{ kind: 'numeric', values }];
    const counts = new Map<number, number>();
    for (const value of put(impute(same, { imputations: 1000, iterations: 1 }), 0, 10))
      counts.set(value, (counts.get(value) ?? 0) + 1);
    // 100 each, standard deviation 9.5.
    for (let value = 1; value <= 10; value += 1)
      expect(Math.abs((counts.get(value) ?? 0) - 100)).toBeLessThan(48);
  });

  it('spread with the uncertainty of the regression: one donor moves when the line is not exact', () => {
    const noisy: ColumnToImpute[] = [
      { kind: 'complete', values: [0, 1, 2, 3, 4, 2.2] },
      { kind: 'numeric', values: [1, 1, 5, 5, 9, null] },
    ];
    expect(new Set(put(impute(noisy, { donors: 1, imputations: 100 }), 1, 5)).size).toBeGreaterThan(1);
  });
});

describe('columns of two or more categories', () => {
  it('without others draw with the posterior of their share: for 3 of 4, log 3 with variance 4/3', () => {
    const columns: ColumnToImpute[] = [{ kind: 'binary', values: [1, 1, 1, 0, null] }];
    const sets = 4000;
    const share =
      put(impute(columns, { imputations: sets, iterations: 1 }), 0, 4).reduce((a, b) => a + b, 0) / sets;
    // The mean of 1/(1 + exp(-log 3 - root(4/3) z)) over the normal z, by the trapezoid rule.
    let expected = 0;
    for (let k = -800; k <= 800; k += 1) {
      const z = k / 100;
      expected += Math.exp((-z * z) / 2) / (1 + Math.exp(-Math.log(3) - Math.sqrt(4 / 3) * z)) / 100;
    }
    expected /= Math.sqrt(2 * Math.PI);
    expect(expected).toBeCloseTo(0.71, 2);
    expect(Math.abs(share - expected)).toBeLessThan(4 * Math.sqrt(0.25 / sets));
  });

  it('follow what predicts them, and stay finite where it separates them', () => {
    const first = Array.from({ length: 40 }, (_, i) => (i < 20 ? -1 : 1));
    const codes = first.map((x, i) => (i === 3 || i === 33 ? null : x < 0 ? 0 : 1));
    const binary: ColumnToImpute[] = [
      { kind: 'complete', values: first },
      { kind: 'binary', values: codes },
    ];
    const found = impute(binary, { imputations: 200 });
    const share = (row: number): number => put(found, 1, row).reduce((a, b) => a + b, 0) / 200;
    expect(share(3)).toBeLessThan(0.2);
    expect(share(33)).toBeGreaterThan(0.8);
  });

  it('draw the third category where it belongs, and no other code', () => {
    const level = Array.from({ length: 60 }, (_, i) => i % 3);
    const columns: ColumnToImpute[] = [
      { kind: 'categories', values: level },
      {
        kind: 'categories',
        values: level.map((code, i) => (i === 2 || i === 1 ? null : (code + (i % 7 === 0 ? 1 : 0)) % 3)),
      },
    ];
    const found = impute(columns, { imputations: 200 });
    const shareOf = (row: number, code: number): number =>
      put(found, 1, row).filter((value) => value === code).length / 200;
    expect(shareOf(2, 2)).toBeGreaterThan(0.6);
    expect(shareOf(1, 1)).toBeGreaterThan(0.6);
    expect(new Set([...put(found, 1, 1), ...put(found, 1, 2)])).toEqual(new Set([0, 1, 2]));
  });

  it('give every category of a code seen once its chance, however small', () => {
    const columns: ColumnToImpute[] = [{ kind: 'categories', values: [0, 0, 0, 0, 2, null, 1] }];
    const found = put(impute(columns, { imputations: 300, iterations: 1 }), 0, 5);
    expect(new Set(found)).toEqual(new Set([0, 1, 2]));
  });
});

describe('the sets', () => {
  const columns: ColumnToImpute[] = [
    { kind: 'complete', values: [0, 1, 0, 1, 1, 0, 1, 0, 1, 0] },
    { kind: 'numeric', values: [3, null, 5, 8, null, 2, 7, 4, 9, 1] },
    { kind: 'binary', values: [0, 1, null, 1, 0, 0, null, 1, 1, 0] },
    { kind: 'numeric', values: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10] },
  ];

  it('keep what was observed and hold no gap', () => {
    for (const set of impute(columns).sets) {
      for (const [j, { values }] of columns.entries()) {
        for (const [i, value] of set[j].entries()) {
          const given = values[i];
          if (given !== null) expect(value).toBe(given);
          else if (j === 1) expect([3, 5, 8, 2, 7, 4, 9, 1]).toContain(value);
          else expect([0, 1]).toContain(value);
        }
      }
    }
  });

  it('share the columns that lacked nothing, and differ in the others', () => {
    const { sets } = impute(columns);
    expect(sets[1][0]).toBe(sets[0][0]);
    expect(sets[1][3]).toBe(sets[0][3]);
    expect(sets[1][1]).not.toBe(sets[0][1]);
    expect(new Set(sets.map((set) => set[1].join())).size).toBeGreaterThan(5);
  });

  it('are repeated by the seed, and each stays when more are asked for', () => {
    const five = impute(columns, { imputations: 5 });
    expect(impute(columns, { imputations: 5 })).toEqual(five);
    expect(impute(columns, { imputations: 8 }).sets.slice(0, 5)).toEqual(five.sets);
    expect(impute(columns, { imputations: 5, seed: 4 }).sets).not.toEqual(five.sets);
  });

  it('leave a trace of mean and variance of the imputed values after each iteration', () => {
    const { sets, traces } = impute(columns, { imputations: 3, iterations: 4 });
    expect(traces.map(({ column }) => column)).toEqual([1, 2]);
    for (const [k, set] of sets.entries()) {
      const [a, b] = [set[1][1], set[1][4]];
      expect(traces[0].mean[4 * k + 3]).toBeCloseTo((a + b) / 2, 12);
      expect(traces[0].variance[4 * k + 3]).toBeCloseTo((a - b) ** 2 / 2, 12);
    }
    expect(traces[0].mean).toHaveLength(12);
    const single = impute([{ kind: 'numeric', values: [1, 2, null] }], { imputations: 2 });
    expect(Array.from(single.traces[0].variance)).toEqual([0, 0, 0, 0]);
  });

  it('take ten iterations unless told, and say how many sets are done', () => {
    const done: number[] = [];
    const options = { imputations: 3, seed: 1, onProgress: (sets: number) => done.push(sets) };
    const found = estimable(imputeByChainedEquations(columns, options));
    expect(found.traces[0].mean).toHaveLength(30);
    expect(done).toEqual([1, 2, 3]);
  });

  it('are the data themselves where nothing is missing', () => {
    const { sets, traces } = impute([columns[0], columns[3]], { imputations: 2 });
    expect(Array.from(sets[1][1])).toEqual(columns[3].values);
    expect(traces).toEqual([]);
  });

  it('do without a column that does not vary or repeats another', () => {
    const dressed: ColumnToImpute[] = [
      ...columns,
      { kind: 'complete', values: Array<number>(10).fill(0.1) },
      { kind: 'complete', values: [1, 3, 1, 3, 3, 1, 3, 1, 3, 1] },
    ];
    const { sets } = impute(dressed);
    for (const set of sets) for (const value of set[1]) expect(Number.isFinite(value)).toBe(true);
  });
});

describe('is not estimable', () => {
  const codeOf = (columns: ColumnToImpute[]): unknown => {
    const found = imputeByChainedEquations(columns, { imputations: 1, seed: 1 });
    return found.kind === 'notEstimable' ? found.code : found.kind;
  };

  it('from a column without any observed value, or without rows or columns', () => {
    expect(codeOf([{ kind: 'numeric', values: [null, null] }])).toBe('nothingObserved');
    expect(codeOf([{ kind: 'numeric', values: [] }])).toBe('noRows');
    expect(codeOf([])).toBe('noRows');
  });
});

it('refuses mistakes', () => {
  const run =
    (columns: ColumnToImpute[], options = {}) =>
    () =>
      imputeByChainedEquations(columns, { imputations: 1, seed: 1, ...options });
  const fine: ColumnToImpute = { kind: 'complete', values: [1, 2, 3] };
  expectMistake(run([fine, { kind: 'numeric', values: [1] }]), 'unequalLengths', 'columns[1]');
  expectMistake(
    run([fine, { kind: 'numeric', values: [1, null, Number.NaN] }]),
    'notFinite',
    'columns[1]',
    2,
  );
  expectMistake(run([{ kind: 'complete', values: [1, Number.NaN] }]), 'notFinite', 'columns[0]', 1);
  expectMistake(run([{ kind: 'binary', values: [1, null, 2] }]), 'unknownCode', 'columns[0]', 2);
  expectMistake(run([{ kind: 'categories', values: [0, 1.5, null] }]), 'unknownCode', 'columns[0]', 1);
  expectMistake(run([{ kind: 'categories', values: [0, -1, null] }]), 'unknownCode', 'columns[0]', 1);
  expectMistake(run([fine], { imputations: 0 }), 'outOfRange', 'imputations');
  expectMistake(run([fine], { iterations: 0 }), 'outOfRange', 'iterations');
  expectMistake(run([fine], { donors: 0 }), 'outOfRange', 'donors');
  expectMistake(run([fine], { donors: 1.5 }), 'notInteger', 'donors');
  expectMistake(run([fine], { seed: -1 }), 'negative', 'seed');
});
