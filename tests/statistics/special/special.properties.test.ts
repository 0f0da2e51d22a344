import fc from 'fast-check';
import { expect, it } from 'vitest';
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

const z = fc.double({ min: -37, max: 37, noNaN: true });
const probability = fc.double({ min: 1e-300, max: 1 - 1e-12, noNaN: true });
const shape = fc.double({ min: 0.01, max: 5000, noNaN: true });

it('normal tails are mirror images, add to one and fall', () => {
  fc.assert(
    fc.property(z, fc.double({ min: 1e-3, max: 1, noNaN: true }), (at, step) => {
      expect(normalLowerTail(at)).toBe(normalUpperTail(-at));
      expect(normalLowerTail(at) + normalUpperTail(at)).toBeCloseTo(1, 14);
      expect(normalUpperTail(at + step)).toBeLessThanOrEqual(normalUpperTail(at));
      expect(normalDensity(at)).toBe(normalDensity(-at));
    }),
  );
});

it('the slope of the normal tail is the density', () => {
  fc.assert(
    fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (at) => {
      const h = 1e-4;
      const slope = (normalLowerTail(at + h) - normalLowerTail(at - h)) / (2 * h);
      expect(Math.abs(slope - normalDensity(at))).toBeLessThan(1e-8);
    }),
  );
});

it('a normal quantile leads back to its probability', () => {
  fc.assert(
    fc.property(probability, (p) => {
      expect(Math.abs(normalLowerTail(normalQuantile(p)) / p - 1)).toBeLessThan(1e-12);
      expect(Math.abs(normalUpperTail(normalUpperQuantile(p)) / p - 1)).toBeLessThan(1e-12);
    }),
  );
});

it('gamma tails add to one, fall and satisfy the recurrence in the shape', () => {
  fc.assert(
    fc.property(shape, fc.double({ min: 0.001, max: 3, noNaN: true }), (a, ratio) => {
      const x = a * ratio;
      expect(gammaLowerTail(a, x) + gammaUpperTail(a, x)).toBeCloseTo(1, 13);
      expect(gammaUpperTail(a, 1.01 * x)).toBeLessThanOrEqual(gammaUpperTail(a, x));
      // Q(a + 1, x) = Q(a, x) + x^a e^-x / gamma(a + 1)
      const step = Math.exp(a * Math.log(x) - x - logGamma(a + 1));
      expect(Math.abs(gammaUpperTail(a + 1, x) - gammaUpperTail(a, x) - step)).toBeLessThan(1e-9);
    }),
  );
});

it('log gamma satisfies log gamma(x + 1) = log gamma(x) + log x', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (x) => {
      const scale = Math.max(1, Math.abs(logGamma(x)));
      expect(Math.abs(logGamma(x + 1) - logGamma(x) - Math.log(x)) / scale).toBeLessThan(1e-13);
    }),
  );
});

it('a chi-square with one degree of freedom is a squared normal', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 36, noNaN: true }), (at) => {
      expect(Math.abs(chiSquareUpperTail(at * at, 1) / (2 * normalUpperTail(at)) - 1)).toBeLessThan(1e-12);
      expect(chiSquareLowerTail(at * at, 1)).toBeCloseTo(1 - 2 * normalUpperTail(at), 13);
    }),
  );
});
