import { describe, expect, it } from 'vitest';
import {
  chiSquareLowerTail,
  chiSquareUpperTail,
  gammaLowerTail,
  gammaUpperTail,
  logGamma,
  normalDensity,
  normalLowerTail,
  normalQuantile,
  normalUpperQuantile,
  normalUpperTail,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

describe('normal distribution', () => {
  it('has its known values at zero and at the 97.5 % point (Abramowitz & Stegun table 26.5)', () => {
    expect(normalDensity(0)).toBeCloseTo(1 / Math.sqrt(2 * Math.PI), 16);
    expect(normalLowerTail(0)).toBe(0.5);
    expect(normalUpperTail(0)).toBe(0.5);
    expect(normalQuantile(0.5)).toBeCloseTo(0, 16);
    expect(normalUpperQuantile(0.025)).toBeCloseTo(1.959963984540054, 14);
    expect(normalQuantile(0.025)).toBeCloseTo(-1.959963984540054, 14);
  });

  it('keeps a far tail instead of rounding it to zero', () => {
    expect(normalUpperTail(10)).toBeCloseTo(7.619853024160527e-24, 36);
    expect(normalLowerTail(10)).toBe(1);
    expect(normalUpperTail(Number.POSITIVE_INFINITY)).toBe(0);
    expect(normalLowerTail(Number.POSITIVE_INFINITY)).toBe(1);
    expect(normalDensity(Number.NEGATIVE_INFINITY)).toBe(0);
  });

  it('refuses what has no answer', () => {
    for (const p of [0, 1, -0.1, 1.1, Number.NaN]) {
      expectMistake(() => normalQuantile(p), 'outOfRange', 'p');
      expectMistake(() => normalUpperQuantile(p), 'outOfRange', 'p');
    }
    expectMistake(() => normalDensity(Number.NaN), 'notFinite', 'z');
    expectMistake(() => normalUpperTail(Number.NaN), 'notFinite', 'z');
    expectMistake(() => normalLowerTail(Number.NaN), 'notFinite', 'z');
  });
});

describe('gamma functions', () => {
  it('knows factorials', () => {
    expect(logGamma(1)).toBe(0);
    expect(logGamma(2)).toBe(0);
    expect(Math.exp(logGamma(6))).toBeCloseTo(120, 10);
    expect(Math.exp(logGamma(0.5))).toBeCloseTo(Math.sqrt(Math.PI), 13);
  });

  it('is exponential at shape 1', () => {
    expect(gammaUpperTail(1, 3)).toBeCloseTo(Math.exp(-3), 16);
    expect(gammaLowerTail(1, 3)).toBeCloseTo(1 - Math.exp(-3), 15);
    expect(gammaLowerTail(1, 1e-20)).toBeCloseTo(1e-20, 33);
  });

  it('has both ends', () => {
    expect(gammaLowerTail(2, 0)).toBe(0);
    expect(gammaUpperTail(2, 0)).toBe(1);
    expect(gammaLowerTail(2, Number.POSITIVE_INFINITY)).toBe(1);
    expect(gammaUpperTail(2, Number.POSITIVE_INFINITY)).toBe(0);
  });

  it('refuses what has no answer', () => {
    for (const x of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expectMistake(() => logGamma(x), 'outOfRange', 'x');
      expectMistake(() => gammaLowerTail(x, 1), 'outOfRange', 'shape');
      expectMistake(() => gammaUpperTail(x, 1), 'outOfRange', 'shape');
      expectMistake(() => chiSquareLowerTail(1, x), 'outOfRange', 'degreesOfFreedom');
      expectMistake(() => chiSquareUpperTail(1, x), 'outOfRange', 'degreesOfFreedom');
    }
    expectMistake(() => gammaLowerTail(1, -1), 'negative', 'x');
    expectMistake(() => gammaUpperTail(1, Number.NaN), 'notFinite', 'x');
  });
});

describe('chi-square distribution', () => {
  it('is exponential with mean 2 at two degrees of freedom', () => {
    expect(chiSquareUpperTail(5, 2)).toBeCloseTo(Math.exp(-2.5), 16);
    expect(chiSquareLowerTail(5, 2)).toBeCloseTo(1 - Math.exp(-2.5), 15);
  });

  it('has its 5 % points (Abramowitz & Stegun table 26.8)', () => {
    expect(chiSquareUpperTail(3.84146, 1)).toBeCloseTo(0.05, 6);
    expect(chiSquareUpperTail(5.99146, 2)).toBeCloseTo(0.05, 6);
    expect(chiSquareUpperTail(18.307, 10)).toBeCloseTo(0.05, 5);
  });
});
