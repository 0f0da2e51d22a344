import { describe, expect, it } from 'vitest';
import {
  betaDensity,
  betaLowerTail,
  betaQuantile,
  betaUpperQuantile,
  betaUpperTail,
  fDensity,
  fLowerTail,
  fQuantile,
  fUpperQuantile,
  fUpperTail,
  studentDensity,
  studentLowerTail,
  studentQuantile,
  studentUpperQuantile,
  studentUpperTail,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const INFINITY = Number.POSITIVE_INFINITY;
const NO_SHAPE = [0, -1, 9e-301, 1.1e15, INFINITY, Number.NaN];

describe('beta distribution', () => {
  it('with shapes 2 and 3 has density 12 x (1 - x)^2 and reaches 11/16 at one half', () => {
    expect(betaDensity(0.5, 2, 3)).toBeCloseTo(3 / 2, 14);
    expect(betaDensity(0.25, 2, 3)).toBeCloseTo(27 / 16, 14);
    expect(betaLowerTail(0.5, 2, 3)).toBeCloseTo(11 / 16, 15);
    expect(betaUpperTail(0.5, 2, 3)).toBeCloseTo(5 / 16, 15);
    expect(betaQuantile(11 / 16, 2, 3)).toBeCloseTo(0.5, 14);
    expect(betaUpperQuantile(5 / 16, 2, 3)).toBeCloseTo(0.5, 14);
  });

  it('is a pure power when one shape is 1', () => {
    expect(betaLowerTail(0.25, 0.5, 1)).toBeCloseTo(1 / 2, 15);
    expect(betaUpperTail(0.25, 1, 2)).toBeCloseTo(9 / 16, 15);
    expect(betaQuantile(1 / 2, 0.5, 1)).toBeCloseTo(1 / 4, 15);
    expect(betaUpperQuantile(9 / 16, 1, 2)).toBeCloseTo(1 / 4, 15);
    expect(betaQuantile(1e-300, 2, 1) / 1e-150).toBeCloseTo(1, 12);
  });

  it('has both ends, where the density is nought, finite or infinite by the shape there', () => {
    expect([betaLowerTail(0, 2, 3), betaUpperTail(0, 2, 3)]).toEqual([0, 1]);
    expect([betaLowerTail(1, 2, 3), betaUpperTail(1, 2, 3)]).toEqual([1, 0]);
    expect([0.5, 1, 2].map((a) => betaDensity(0, a, 3))).toEqual([INFINITY, 3, 0]);
    expect([0.5, 1, 2].map((b) => betaDensity(1, 3, b))).toEqual([INFINITY, 3, 0]);
  });

  it('is never above 1, even at the smallest shape and place', () => {
    expect(betaLowerTail(5e-324, 1e-300, 3)).toBe(1);
    expect(betaUpperTail(5e-324, 1e-300, 3)).toBe(0);
    expect(betaUpperTail(1 - 2 ** -53, 3, 1e-300)).toBe(1);
  });

  it('finds a quantile next to 1 instead of 1, and 0 where it is smaller than any double', () => {
    expect(betaUpperQuantile(1e-40, 1000.5, 3)).toBe(1 - 2 ** -53);
    expect(betaQuantile(1e-300, 0.01, 1)).toBe(0);
    expect(betaUpperQuantile(1e-300, 1, 0.01)).toBe(1);
  });

  it('refuses what is outside', () => {
    for (const x of [-1e-9, 1 + 1e-9, Number.NaN]) {
      for (const ask of [betaDensity, betaLowerTail, betaUpperTail]) {
        expectMistake(() => ask(x, 1, 1), 'outOfRange', 'x');
      }
    }
    for (const shape of NO_SHAPE) {
      for (const ask of [betaDensity, betaLowerTail, betaUpperTail, betaQuantile, betaUpperQuantile]) {
        expectMistake(() => ask(0.5, shape, 1), 'outOfRange', 'a');
        expectMistake(() => ask(0.5, 1, shape), 'outOfRange', 'b');
      }
    }
    for (const p of [0, 1, Number.NaN]) {
      expectMistake(() => betaQuantile(p, 1, 1), 'outOfRange', 'p');
      expectMistake(() => betaUpperQuantile(p, 1, 1), 'outOfRange', 'p');
    }
  });

  it('takes the smallest and the largest shapes', () => {
    expect(betaLowerTail(0.5, 1e15, 1e15)).toBeCloseTo(0.5, 12);
    expect(betaLowerTail(0.5, 1e-300, 1e-300)).toBeCloseTo(0.5, 12);
  });
});

describe("Student's t", () => {
  it('with one degree of freedom is Cauchy: 1/pi at 0, a quarter beyond 1', () => {
    expect(studentDensity(0, 1)).toBeCloseTo(1 / Math.PI, 15);
    expect(studentDensity(1, 1)).toBeCloseTo(1 / (2 * Math.PI), 15);
    expect(studentUpperTail(1, 1)).toBeCloseTo(1 / 4, 15);
    expect(studentLowerTail(1, 1)).toBeCloseTo(3 / 4, 15);
    expect(studentLowerTail(-1, 1)).toBeCloseTo(1 / 4, 15);
    expect(studentQuantile(1 / 4, 1)).toBeCloseTo(-1, 14);
    expect(studentUpperQuantile(1 / 4, 1)).toBeCloseTo(1, 14);
    expect(studentQuantile(3 / 4, 1)).toBeCloseTo(1, 14);
  });

  it('with two has the tail (1 - t/root(2 + t^2))/2', () => {
    expect(studentUpperTail(Math.SQRT2, 2)).toBeCloseTo((1 - Math.SQRT1_2) / 2, 15);
    expect(studentDensity(0, 2)).toBeCloseTo(1 / (2 * Math.SQRT2), 15);
  });

  it('is halved at 0', () => {
    expect([studentLowerTail(0, 5), studentUpperTail(0, 5)]).toEqual([0.5, 0.5]);
    expect(studentQuantile(0.5, 5)).toBeCloseTo(0, 15);
    expect(studentUpperQuantile(0.5, 5)).toBe(0);
  });

  it('keeps a tail whose square is no double: 1/(pi t) for Cauchy', () => {
    expect(studentUpperTail(1e160, 1) * Math.PI * 1e160).toBeCloseTo(1, 12);
    expect(studentDensity(1e160, 0.5) / studentDensity(1e161, 0.5) / 10 ** 1.5).toBeCloseTo(1, 11);
    expect(studentDensity(1e149, 0.5) / studentDensity(1e151, 0.5) / 1000).toBeCloseTo(1, 11);
    expect([
      studentUpperTail(INFINITY, 3),
      studentLowerTail(INFINITY, 3),
      studentDensity(INFINITY, 3),
    ]).toEqual([0, 1, 0]);
  });

  it('is infinite where a quantile is beyond the doubles', () => {
    expect(studentUpperQuantile(1e-300, 0.01)).toBe(INFINITY);
    expect(studentQuantile(1e-300, 0.01)).toBe(Number.NEGATIVE_INFINITY);
  });

  it('refuses what has no answer', () => {
    for (const ask of [studentDensity, studentLowerTail, studentUpperTail]) {
      expectMistake(() => ask(Number.NaN, 1), 'notFinite', 't');
      for (const df of NO_SHAPE) expectMistake(() => ask(1, df), 'outOfRange', 'degreesOfFreedom');
    }
    for (const ask of [studentQuantile, studentUpperQuantile]) {
      for (const p of [0, 1, Number.NaN]) expectMistake(() => ask(p, 1), 'outOfRange', 'p');
      for (const df of NO_SHAPE) expectMistake(() => ask(0.5, df), 'outOfRange', 'degreesOfFreedom');
    }
  });
});

describe('F distribution', () => {
  it('with 2 and 2 degrees of freedom reaches x/(1 + x) and has density 1/(1 + x)^2', () => {
    expect(fLowerTail(3, 2, 2)).toBeCloseTo(3 / 4, 15);
    expect(fUpperTail(3, 2, 2)).toBeCloseTo(1 / 4, 15);
    expect(fDensity(3, 2, 2)).toBeCloseTo(1 / 16, 15);
    expect(fQuantile(3 / 4, 2, 2)).toBeCloseTo(3, 13);
    expect(fUpperQuantile(1 / 4, 2, 2)).toBeCloseTo(3, 13);
  });

  it('with 2 and 4 is beyond x in 1/(1 + x/2)^2', () => {
    expect(fUpperTail(2, 2, 4)).toBeCloseTo(1 / 4, 15);
    expect(fDensity(2, 2, 4)).toBeCloseTo(1 / 8, 15);
  });

  it('has both ends, where the density is infinite, 1 or nought', () => {
    expect([fLowerTail(0, 3, 4), fUpperTail(0, 3, 4)]).toEqual([0, 1]);
    expect([fLowerTail(INFINITY, 3, 4), fUpperTail(INFINITY, 3, 4)]).toEqual([1, 0]);
    expect([1, 2, 3].map((df) => fDensity(0, df, 4))).toEqual([INFINITY, 1, 0]);
    expect(fDensity(INFINITY, 3, 4)).toBe(0);
  });

  it('follows ratios next to the ends of the doubles: with 2 and 2, 1/x above and x below', () => {
    expect(fUpperTail(1e305, 2, 2) * 1e305).toBeCloseTo(1, 11);
    expect(fLowerTail(1e-305, 2, 2) * 1e305).toBeCloseTo(1, 11);
    expect(fDensity(1e-305, 2, 2)).toBeCloseTo(1, 11);
    expect(fDensity(1e301, 0.01, 0.01) / fDensity(1e299, 0.01, 0.01) / 100 ** -1.005).toBeCloseTo(1, 11);
    expect(fUpperTail(1e-305, 2, 2)).toBe(1);
    expect(fLowerTail(1e305, 2, 2)).toBe(1);
  });

  it('refuses what has no answer', () => {
    for (const ask of [fDensity, fLowerTail, fUpperTail]) {
      expectMistake(() => ask(Number.NaN, 1, 1), 'notFinite', 'x');
      expectMistake(() => ask(-1, 1, 1), 'negative', 'x');
    }
    for (const ask of [fDensity, fLowerTail, fUpperTail, fQuantile, fUpperQuantile]) {
      for (const df of NO_SHAPE) {
        expectMistake(() => ask(0.5, df, 1), 'outOfRange', 'numerator');
        expectMistake(() => ask(0.5, 1, df), 'outOfRange', 'denominator');
      }
    }
    for (const p of [0, 1, Number.NaN]) {
      expectMistake(() => fQuantile(p, 1, 1), 'outOfRange', 'p');
      expectMistake(() => fUpperQuantile(p, 1, 1), 'outOfRange', 'p');
    }
  });
});
