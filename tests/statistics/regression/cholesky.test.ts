import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  factorSymmetric,
  inverseQuadratic,
  invertSymmetric,
  solveSymmetric,
} from '@/lib/statistics/regression/cholesky';

const matrix = Float64Array.from([4, 2, 2, 2, 5, 3, 2, 3, 6]);

describe('by hand', () => {
  const factor = factorSymmetric(matrix, 3, 1e-12);

  it('factors [4 2 2; 2 5 3; 2 3 6] into rows 2; 1 2; 1 1 2', () => {
    expect(Array.from(factor.lower)).toEqual([2, 0, 0, 1, 2, 0, 1, 1, 2]);
    expect(factor.rank).toBe(3);
  });

  it('solves for [8, 10, 11] by [1, 1, 1]', () => {
    expect(Array.from(solveSymmetric(factor, [8, 10, 11]))).toEqual([1, 1, 1]);
  });

  it('gives the quadratic form 8 + 10 + 11', () => {
    expect(inverseQuadratic(factor, [8, 10, 11])).toBe(29);
  });

  it('inverts: the determinant is 64, the first cofactor 21', () => {
    const inverse = invertSymmetric(factor);
    expect(inverse[0]).toBeCloseTo(21 / 64, 15);
    expect(inverse[1]).toBe(inverse[3]);
    expect(inverse[8]).toBeCloseTo(16 / 64, 15);
  });
});

describe('a column that repeats earlier ones', () => {
  // The third column is the sum of the first two.
  const twice = Float64Array.from([2, 1, 3, 1, 2, 3, 3, 3, 6]);

  it('is dropped, the later one, and the rest is solved without it', () => {
    const factor = factorSymmetric(twice, 3, 1e-12);
    expect(Array.from(factor.dropped)).toEqual([0, 0, 1]);
    expect(factor.rank).toBe(2);
    const x = solveSymmetric(factor, [3, 3, 6]);
    expect(x[0]).toBeCloseTo(1, 14);
    expect(x[1]).toBeCloseTo(1, 14);
    expect(x[2]).toBe(0);
    expect(Array.from(invertSymmetric(factor).slice(6))).toEqual([0, 0, 0]);
  });

  it('is judged against the sums it was made of when they are given', () => {
    const tiny = Float64Array.from([1e-13]);
    expect(factorSymmetric(tiny, 1, 1e-11).rank).toBe(1);
    expect(factorSymmetric(tiny, 1, 1e-11, Float64Array.from([1])).rank).toBe(0);
  });

  it('is dropped wherever NaN stands', () => {
    expect(factorSymmetric(Float64Array.from([Number.NaN]), 1, 1e-11).rank).toBe(0);
  });
});

it('inverse times matrix is the unit matrix, for any sum of squares with a ridge', () => {
  const rows = fc.array(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 4, maxLength: 4 }), {
    minLength: 1,
    maxLength: 8,
  });
  fc.assert(
    fc.property(rows, (x) => {
      const size = 4;
      const sums = new Float64Array(size * size);
      for (let i = 0; i < size; i += 1)
        for (let j = 0; j < size; j += 1)
          sums[i * size + j] = x.reduce((sum, row) => sum + row[i] * row[j], i === j ? 1 : 0);
      const inverse = invertSymmetric(factorSymmetric(sums, size, 1e-12));
      for (let i = 0; i < size; i += 1)
        for (let j = 0; j < size; j += 1) {
          let product = 0;
          for (let k = 0; k < size; k += 1) product += sums[i * size + k] * inverse[k * size + j];
          expect(product).toBeCloseTo(i === j ? 1 : 0, 9);
        }
    }),
  );
});
