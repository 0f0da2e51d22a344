import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  betaDensity,
  betaLowerTail,
  betaQuantile,
  betaUpperQuantile,
  betaUpperTail,
  binomialLowerTail,
  binomialProbability,
  binomialQuantile,
  binomialUpperQuantile,
  binomialUpperTail,
  chiSquareDensity,
  chiSquareLowerTail,
  chiSquareQuantile,
  chiSquareUpperQuantile,
  chiSquareUpperTail,
  complementaryErrorFunction,
  errorFunction,
  fDensity,
  fLowerTail,
  fQuantile,
  fUpperQuantile,
  fUpperTail,
  gammaDensity,
  gammaLowerTail,
  gammaQuantile,
  gammaUpperQuantile,
  gammaUpperTail,
  hypergeometricLowerTail,
  hypergeometricProbability,
  hypergeometricQuantile,
  hypergeometricUpperQuantile,
  hypergeometricUpperTail,
  normalLogLowerTail,
  normalLogUpperTail,
  normalLowerTail,
  normalUpperTail,
  poissonLowerTail,
  poissonProbability,
  poissonQuantile,
  poissonUpperQuantile,
  poissonUpperTail,
  studentDensity,
  studentLowerTail,
  studentQuantile,
  studentUpperQuantile,
  studentUpperTail,
} from '@/lib/statistics';

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** From 10^least to 10^most, evenly by size. */
const sized = (least: number, most: number) => between(least, most).map((exponent) => 10 ** exponent);
const tail = sized(-300, Math.log10(0.5));
const inside = between(0.001, 0.999);
const RUNS = { numRuns: 60 };

function expectRelative(got: number, want: number, within: number): void {
  expect(Math.abs(got - want)).toBeLessThanOrEqual(within * Math.abs(want));
}

/** A quantile is right when the tail there is p, as far as a change of its last bits allows. */
function expectLeadsBack(found: number, p: number, tailAt: (x: number) => number, density: number): void {
  expect(Math.abs(tailAt(found) - p)).toBeLessThanOrEqual(1e-12 * (p + density * Math.abs(found)));
}

it('beta: the tails add to one and change places with x and the shapes', () => {
  fc.assert(
    fc.property(sized(-2, 4), sized(-2, 4), fc.integer({ min: 1, max: 1023 }), (a, b, k) => {
      const x = k / 1024;
      expect(betaLowerTail(x, a, b) + betaUpperTail(x, a, b)).toBeCloseTo(1, 14);
      expectRelative(betaLowerTail(x, a, b), betaUpperTail(1 - x, b, a), 1e-12);
      expectRelative(betaDensity(x, a, b), betaDensity(1 - x, b, a), 1e-13);
      expect(betaLowerTail(x, a, b)).toBeLessThanOrEqual(betaLowerTail(x + 1 / 2048, a, b));
    }),
    RUNS,
  );
});

it('beta: one more in the first shape takes x (1 - x) density / a off the lower tail', () => {
  fc.assert(
    // I_x(a, b) - I_x(a + 1, b) = x^a (1 - x)^b / (a B(a, b)) = x (1 - x) density / a (Abramowitz & Stegun 26.5.16).
    fc.property(between(0.1, 50), between(0.1, 50), inside, (a, b, x) => {
      const step = (x * (1 - x) * betaDensity(x, a, b)) / a;
      expect(Math.abs(betaLowerTail(x, a, b) - betaLowerTail(x, a + 1, b) - step)).toBeLessThan(1e-13);
    }),
    RUNS,
  );
});

it('beta and gamma: a quantile leads back to its probability, from 1e-300 on', () => {
  fc.assert(
    fc.property(sized(-1, 6), sized(-1, 6), tail, (a, b, p) => {
      const low = betaQuantile(p, a, b);
      if (low > 1e-300) expectLeadsBack(low, p, (x) => betaLowerTail(x, a, b), betaDensity(low, a, b));
      const high = betaUpperQuantile(p, a, b);
      if (high < 1) expectLeadsBack(high, p, (x) => betaUpperTail(x, a, b), betaDensity(high, a, b));
      const short = gammaQuantile(a, p);
      if (short > 1e-300) expectLeadsBack(short, p, (x) => gammaLowerTail(a, x), gammaDensity(a, short));
      const long = gammaUpperQuantile(a, p);
      expectLeadsBack(long, p, (x) => gammaUpperTail(a, x), gammaDensity(a, long));
      expect(chiSquareQuantile(p, 2 * a)).toBe(2 * short);
      expect(chiSquareUpperQuantile(p, 2 * a)).toBe(2 * long);
    }),
    RUNS,
  );
});

it('gamma: the slope of the tail is the density, of which chi-square has half at twice x', () => {
  fc.assert(
    fc.property(between(0.5, 40), between(0.5, 60), (shape, x) => {
      const h = 1e-4 * x;
      const slope = (gammaLowerTail(shape, x + h) - gammaLowerTail(shape, x - h)) / (2 * h);
      expect(Math.abs(slope - gammaDensity(shape, x))).toBeLessThan(1e-5);
      expect(chiSquareDensity(2 * x, 2 * shape)).toBe(gammaDensity(shape, x) / 2);
    }),
    RUNS,
  );
});

it("Student's t: mirrored, and its square is F with one degree of freedom in the numerator", () => {
  fc.assert(
    fc.property(sized(-2, 6), sized(-3, 3), tail, (df, t, p) => {
      expect(studentLowerTail(-t, df)).toBe(studentUpperTail(t, df));
      expect(studentLowerTail(t, df) + studentUpperTail(t, df)).toBeCloseTo(1, 14);
      expect(studentDensity(-t, df)).toBe(studentDensity(t, df));
      // The rounding of t^2 costs digits where the tail is far out.
      expectRelative(
        2 * studentUpperTail(t, df),
        fUpperTail(t * t, 1, df),
        1e-15 * (100 + Math.min(t * t, df)),
      );
      const found = studentQuantile(p, df);
      expect(studentUpperQuantile(p, df)).toBe(-found);
      if (Number.isFinite(found)) {
        expectLeadsBack(found, p, (at) => studentLowerTail(at, df), studentDensity(found, df));
      }
    }),
    RUNS,
  );
});

it('F: the tails change places with 1/x and the degrees of freedom, and are those of beta', () => {
  fc.assert(
    fc.property(sized(-1, 5), sized(-1, 5), fc.integer({ min: -9, max: 9 }), tail, (df1, df2, k, p) => {
      const x = 2 ** k;
      expectRelative(fLowerTail(x, df1, df2), fUpperTail(1 / x, df2, df1), 1e-10);
      expect(fLowerTail(x, df1, df2) + fUpperTail(x, df1, df2)).toBeCloseTo(1, 14);
      // Next to 1 the place y itself is rounded.
      const y = (df1 * x) / (df2 + df1 * x);
      expect(Math.abs(fLowerTail(x, df1, df2) - betaLowerTail(y, df1 / 2, df2 / 2))).toBeLessThan(1e-10);
      for (const [found, side] of [
        [fQuantile(p, df1, df2), fLowerTail],
        [fUpperQuantile(p, df1, df2), fUpperTail],
      ] as const) {
        if (found < 1e-300 || found > 1e300) continue;
        expectLeadsBack(found, p, (at) => side(at, df1, df2), fDensity(found, df1, df2));
      }
    }),
    RUNS,
  );
});

const trials = fc.integer({ min: 1, max: 60 });

it('binomial: probabilities add up to the tails, and failures mirror successes', () => {
  fc.assert(
    fc.property(trials, fc.integer({ min: 1, max: 63 }), (n, k) => {
      const chance = k / 64;
      let below = 0;
      for (let x = 0; x <= n; x += 1) {
        below += binomialProbability(x, n, chance);
        expect(binomialLowerTail(x, n, chance)).toBeCloseTo(below, 13);
        expectRelative(binomialProbability(n - x, n, 1 - chance), binomialProbability(x, n, chance), 1e-13);
        if (x < n)
          expectRelative(binomialUpperTail(n - x - 1, n, 1 - chance), binomialLowerTail(x, n, chance), 1e-13);
      }
      expect(below).toBeCloseTo(1, 13);
    }),
    RUNS,
  );
});

it('binomial: a tail leads back to its count', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 5000 }), inside, inside, (n, chance, share) => {
      const x = Math.floor(n * share);
      const [lower, upper] = [binomialLowerTail(x, n, chance), binomialUpperTail(x, n, chance)];
      // Where the count adds nothing to its tail, or the tail is nought or one, it cannot be told from its neighbour.
      const told = (side: number) =>
        side > 1e-300 && side < 1 && binomialProbability(x, n, chance) > 1e-12 * side;
      if (told(lower)) expect(binomialQuantile(lower, n, chance)).toBe(x);
      if (told(upper)) expect(binomialUpperQuantile(upper, n, chance)).toBe(x);
    }),
    RUNS,
  );
});

it('Poisson: probabilities add up to the tails, which are those of chi-square', () => {
  fc.assert(
    fc.property(sized(-3, 2), fc.integer({ min: 0, max: 80 }), (mean, x) => {
      let below = 0;
      for (let k = 0; k <= x; k += 1) below += poissonProbability(k, mean);
      expect(poissonLowerTail(x, mean)).toBeCloseTo(below, 13);
      expectRelative(poissonLowerTail(x, mean), chiSquareUpperTail(2 * mean, 2 * x + 2), 1e-12);
      expectRelative(poissonUpperTail(x, mean), chiSquareLowerTail(2 * mean, 2 * x + 2), 1e-12);
    }),
    RUNS,
  );
});

it('Poisson: a tail leads back to its count', () => {
  fc.assert(
    fc.property(sized(-1, 5), between(0.3, 2), (mean, share) => {
      const x = Math.floor(mean * share);
      const [lower, upper] = [poissonLowerTail(x, mean), poissonUpperTail(x, mean)];
      const told = (side: number) => side > 1e-300 && side < 1 && poissonProbability(x, mean) > 1e-12 * side;
      if (told(lower)) expect(poissonQuantile(lower, mean)).toBe(x);
      if (told(upper)) expect(poissonUpperQuantile(upper, mean)).toBe(x);
    }),
    RUNS,
  );
});

it('hypergeometric: probabilities add up to the tails; marked and drawn may change places', () => {
  const some = fc.integer({ min: 0, max: 40 });
  fc.assert(
    fc.property(some, some, fc.integer({ min: 0, max: 80 }), (marked, unmarked, wish) => {
      const urn = { marked, unmarked, drawn: Math.min(wish, marked + unmarked) };
      const swapped = { marked: urn.drawn, unmarked: marked + unmarked - urn.drawn, drawn: marked };
      let below = 0;
      for (let x = 0; x <= urn.drawn; x += 1) {
        const here = hypergeometricProbability(x, urn);
        below += here;
        expect(hypergeometricLowerTail(x, urn)).toBeCloseTo(below, 13);
        expect(hypergeometricUpperTail(x, urn)).toBeCloseTo(1 - below, 13);
        if (x <= swapped.drawn) expectRelative(hypergeometricProbability(x, swapped), here, 1e-12);
        const [lower, upper] = [hypergeometricLowerTail(x, urn), hypergeometricUpperTail(x, urn)];
        const told = (side: number) => side > 0 && side < 1 && here > 1e-12 * side;
        if (told(lower)) expect(hypergeometricQuantile(lower, urn)).toBe(x);
        if (told(upper)) expect(hypergeometricUpperQuantile(upper, urn)).toBe(x);
      }
      expect(below).toBeCloseTo(1, 13);
    }),
    RUNS,
  );
});

it('erf and erfc add to one and are the normal tail at root 2 times x', () => {
  fc.assert(
    fc.property(between(-25, 25), (x) => {
      expect(errorFunction(x) + complementaryErrorFunction(x)).toBeCloseTo(1, 15);
      expectRelative(complementaryErrorFunction(x), 2 * normalUpperTail(x * Math.SQRT2), 1e-12);
    }),
  );
});

it('the logarithms of the normal tails are those of the tails', () => {
  fc.assert(
    fc.property(between(-37, 37), (z) => {
      expectRelative(Math.exp(normalLogLowerTail(z)), normalLowerTail(z), 1e-12);
      expect(normalLogUpperTail(z)).toBe(normalLogLowerTail(-z));
      expect(normalLogLowerTail(z)).toBeLessThanOrEqual(normalLogLowerTail(z + 0.1));
    }),
  );
});
