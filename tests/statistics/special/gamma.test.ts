import { describe, expect, it } from 'vitest';
import {
  chiSquareDensity,
  chiSquareQuantile,
  chiSquareUpperQuantile,
  complementaryErrorFunction,
  errorFunction,
  gammaDensity,
  gammaLowerTail,
  gammaQuantile,
  gammaUpperQuantile,
  gammaUpperTail,
  normalLogLowerTail,
  normalLogUpperTail,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const INFINITY = Number.POSITIVE_INFINITY;

describe('gamma distribution', () => {
  it('with shape 1 is exponential, with shape 3 has density x^2 e^-x/2', () => {
    expect(gammaDensity(1, 2)).toBeCloseTo(Math.exp(-2), 15);
    expect(gammaDensity(3, 2)).toBeCloseTo(2 * Math.exp(-2), 15);
    expect(gammaQuantile(1, 0.3)).toBeCloseTo(-Math.log(0.7), 14);
    expect(gammaUpperQuantile(1, 0.3)).toBeCloseTo(-Math.log(0.3), 14);
    expect(gammaUpperQuantile(1, 1e-300)).toBeCloseTo(300 * Math.LN10, 10);
    expect(gammaUpperQuantile(1, 0.9)).toBeCloseTo(-Math.log(0.9), 14);
  });

  it('has a density at 0 that is infinite, 1 or nought, and nought at infinity', () => {
    expect([0.5, 1, 2].map((shape) => gammaDensity(shape, 0))).toEqual([INFINITY, 1, 0]);
    expect(gammaDensity(2, INFINITY)).toBe(0);
  });

  it('has a quantile of 0 where it is smaller than any double', () => {
    expect(gammaQuantile(1e-10, 0.5)).toBe(0);
    expect(gammaQuantile(0.01, 1e-300)).toBe(0);
    expect(gammaUpperQuantile(1e-300, 0.5)).toBe(0);
  });

  it('is never above 1, even at the smallest shape and place', () => {
    expect(gammaLowerTail(1e-300, 1e-300)).toBe(1);
    expect(gammaUpperTail(1e-300, 1e-300)).toBeLessThan(1e-296);
  });

  it('takes the largest shape', () => {
    expect(gammaUpperTail(1e12, 1e12)).toBeCloseTo(0.5, 6);
    expectMistake(() => gammaUpperTail(1.1e15, 1), 'outOfRange', 'shape');
  });

  it('refuses what has no answer', () => {
    expectMistake(() => gammaDensity(1, -1), 'negative', 'x');
    expectMistake(() => gammaDensity(1, Number.NaN), 'notFinite', 'x');
    expectMistake(() => gammaDensity(0, 1), 'outOfRange', 'shape');
    for (const ask of [gammaQuantile, gammaUpperQuantile]) {
      for (const p of [0, 1, Number.NaN]) expectMistake(() => ask(1, p), 'outOfRange', 'p');
      for (const shape of [0, INFINITY, Number.NaN])
        expectMistake(() => ask(shape, 0.5), 'outOfRange', 'shape');
    }
  });
});

describe('chi-square distribution', () => {
  it('with two degrees of freedom has density e^(-x/2)/2 and quantile -2 log(1 - p)', () => {
    expect(chiSquareDensity(3, 2)).toBeCloseTo(Math.exp(-1.5) / 2, 15);
    expect(chiSquareQuantile(0.3, 2)).toBeCloseTo(-2 * Math.log(0.7), 14);
    expect(chiSquareUpperQuantile(0.3, 2)).toBeCloseTo(-2 * Math.log(0.3), 14);
  });

  it('has its 5 % point at 3.841459 (Abramowitz & Stegun table 26.8)', () => {
    expect(chiSquareUpperQuantile(0.05, 1)).toBeCloseTo(3.841459, 6);
    expect(chiSquareQuantile(0.95, 10)).toBeCloseTo(18.307, 3);
  });

  it('has a density at 0 that is infinite, 1/2 or nought', () => {
    expect([1, 2, 3].map((df) => chiSquareDensity(0, df))).toEqual([INFINITY, 0.5, 0]);
  });

  it('refuses what has no answer', () => {
    expectMistake(() => chiSquareDensity(-1, 1), 'negative', 'x');
    expectMistake(() => chiSquareDensity(1, 0), 'outOfRange', 'degreesOfFreedom');
    for (const ask of [chiSquareQuantile, chiSquareUpperQuantile]) {
      expectMistake(() => ask(1, 1), 'outOfRange', 'p');
      expectMistake(() => ask(0.5, 0), 'outOfRange', 'degreesOfFreedom');
    }
  });
});

describe('error function', () => {
  it('has its printed values (Abramowitz & Stegun table 7.1)', () => {
    expect(errorFunction(0.5)).toBeCloseTo(0.5204998778, 10);
    expect(errorFunction(1)).toBeCloseTo(0.8427007929, 10);
    expect(errorFunction(2)).toBeCloseTo(0.995322265, 9);
  });

  it('is odd and ends at 1', () => {
    expect([errorFunction(0), errorFunction(INFINITY), errorFunction(-INFINITY)]).toEqual([0, 1, -1]);
    expect([errorFunction(-1.5), errorFunction(-2.5)]).toEqual([-errorFunction(1.5), -errorFunction(2.5)]);
  });

  it('leaves to its complement what is missing', () => {
    expect(complementaryErrorFunction(0)).toBe(1);
    expect(complementaryErrorFunction(INFINITY)).toBe(0);
    expect(complementaryErrorFunction(-INFINITY)).toBe(2);
    expect(complementaryErrorFunction(-3) + complementaryErrorFunction(3)).toBeCloseTo(2, 15);
  });

  it('refuses what is no number', () => {
    expectMistake(() => errorFunction(Number.NaN), 'notFinite', 'x');
    expectMistake(() => complementaryErrorFunction(Number.NaN), 'notFinite', 'x');
  });
});

describe('logarithm of a normal tail', () => {
  it('is -log 2 at the centre, nought and minus infinity at the ends', () => {
    expect([normalLogLowerTail(0), normalLogUpperTail(0)]).toEqual([-Math.LN2, -Math.LN2]);
    expect(normalLogLowerTail(INFINITY)).toBeCloseTo(0, 300);
    expect(normalLogLowerTail(-INFINITY)).toBe(-INFINITY);
    expect(normalLogUpperTail(INFINITY)).toBe(-INFINITY);
  });

  it('goes on where the tail itself is nought: about -z^2/2 - log(z root(2 pi))', () => {
    expect(normalLogUpperTail(1000)).toBeCloseTo(-500_000 - Math.log(1000 * Math.sqrt(2 * Math.PI)), 5);
  });

  it('refuses what is no number', () => {
    expectMistake(() => normalLogLowerTail(Number.NaN), 'notFinite', 'z');
    expectMistake(() => normalLogUpperTail(Number.NaN), 'notFinite', 'z');
  });
});
