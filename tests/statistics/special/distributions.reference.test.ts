import { describe, expect, it } from 'vitest';
import { z } from 'zod';
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
  normalDensity,
  normalLowerTail,
  normalQuantile,
  normalUpperQuantile,
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
import { loadReference, type ReferenceNumber, referenceNumber } from '../reference-cases';

const RELATIVE = 1e-12;
/** Where R differs by more than this from mpmath, the fixture holds mpmath's value beside that of R. */
const R_IS_OFF = 3e-13;

/** Parameters come before x, or before p; each answers density (or probability), lower and upper. */
type Distribution = {
  readonly values: (...args: number[]) => readonly [number, number, number];
  readonly quantiles: (...args: number[]) => readonly [number, number];
};

const urn = (marked: number, unmarked: number, drawn: number) => ({ marked, unmarked, drawn });

const DISTRIBUTIONS: Readonly<Record<string, Distribution>> = {
  beta: {
    values: (a, b, x) => [betaDensity(x, a, b), betaLowerTail(x, a, b), betaUpperTail(x, a, b)],
    quantiles: (a, b, p) => [betaQuantile(p, a, b), betaUpperQuantile(p, a, b)],
  },
  gamma: {
    values: (shape, x) => [gammaDensity(shape, x), gammaLowerTail(shape, x), gammaUpperTail(shape, x)],
    quantiles: (shape, p) => [gammaQuantile(shape, p), gammaUpperQuantile(shape, p)],
  },
  student: {
    values: (df, t) => [studentDensity(t, df), studentLowerTail(t, df), studentUpperTail(t, df)],
    quantiles: (df, p) => [studentQuantile(p, df), studentUpperQuantile(p, df)],
  },
  'chi-square': {
    values: (df, x) => [chiSquareDensity(x, df), chiSquareLowerTail(x, df), chiSquareUpperTail(x, df)],
    quantiles: (df, p) => [chiSquareQuantile(p, df), chiSquareUpperQuantile(p, df)],
  },
  f: {
    values: (df1, df2, x) => [fDensity(x, df1, df2), fLowerTail(x, df1, df2), fUpperTail(x, df1, df2)],
    quantiles: (df1, df2, p) => [fQuantile(p, df1, df2), fUpperQuantile(p, df1, df2)],
  },
  binomial: {
    values: (n, chance, x) => [
      binomialProbability(x, n, chance),
      binomialLowerTail(x, n, chance),
      binomialUpperTail(x, n, chance),
    ],
    quantiles: (n, chance, p) => [binomialQuantile(p, n, chance), binomialUpperQuantile(p, n, chance)],
  },
  poisson: {
    values: (mean, x) => [poissonProbability(x, mean), poissonLowerTail(x, mean), poissonUpperTail(x, mean)],
    quantiles: (mean, p) => [poissonQuantile(p, mean), poissonUpperQuantile(p, mean)],
  },
  hypergeometric: {
    values: (m, u, d, x) => [
      hypergeometricProbability(x, urn(m, u, d)),
      hypergeometricLowerTail(x, urn(m, u, d)),
      hypergeometricUpperTail(x, urn(m, u, d)),
    ],
    quantiles: (m, u, d, p) => [
      hypergeometricQuantile(p, urn(m, u, d)),
      hypergeometricUpperQuantile(p, urn(m, u, d)),
    ],
  },
  normal: {
    values: (at) => [normalDensity(at), normalLowerTail(at), normalUpperTail(at)],
    quantiles: (p) => [normalQuantile(p), normalUpperQuantile(p)],
  },
};

const WHERE = ['lower', 'upper', 'density', 'probability', 'quantile', 'upper quantile'] as const;
const numbers = z.array(z.number());
const shape = z.object({
  values: z.array(z.tuple([numbers, z.tuple([referenceNumber, referenceNumber, referenceNumber])])),
  quantiles: z.array(z.tuple([numbers, z.number(), z.tuple([referenceNumber, referenceNumber])])),
  arbitrated: z.array(z.tuple([numbers, z.enum(WHERE), referenceNumber, z.number()])),
});

/** Relative difference from a reference number; none where the fixture has none. */
function difference(got: number, want: ReferenceNumber): number {
  if (typeof want !== 'number') return want === null ? 0 : Number.POSITIVE_INFINITY;
  return got === want ? 0 : Math.abs(got - want) / Math.abs(want);
}

/** What the fixture calls `where`, at its arguments. */
function valueAt({ values, quantiles }: Distribution, args: number[], where: (typeof WHERE)[number]): number {
  if (where === 'quantile') return quantiles(...args)[0];
  if (where === 'upper quantile') return quantiles(...args)[1];
  if (where === 'lower') return values(...args)[1];
  return values(...args)[where === 'upper' ? 2 : 0];
}

describe.each(Object.entries(DISTRIBUTIONS))('%s distribution', (name, distribution) => {
  const reference = loadReference(`special-${name}-r`, shape);

  it('agrees with R to 1e-12 in density or probability and in both tails', () => {
    const wrong = reference.values.flatMap(([args, wants]) => {
      const gots = distribution.values(...args);
      return gots.map((got, i) => ({ args, got, want: wants[i] }));
    });
    expect(wrong.length).toBeGreaterThan(50);
    expect(wrong.filter(({ got, want }) => !(difference(got, want) <= RELATIVE))).toEqual([]);
  });

  it('agrees with R to 1e-12 in both quantiles, or in their probability where they are ill-conditioned', () => {
    const compared = reference.quantiles.flatMap(([parameters, p, wants]) => {
      const gots = distribution.quantiles(...parameters, p);
      return gots.map((got, i) => ({ parameters, p, got, want: wants[i], side: i + 1 }));
    });
    expect(compared.length).toBeGreaterThan(25);
    const wrong = compared.filter(({ parameters, p, got, want, side }) => {
      if (difference(got, want) <= RELATIVE) return false;
      return !(difference(distribution.values(...parameters, got)[side], p) <= RELATIVE);
    });
    expect(wrong).toEqual([]);
  });

  it(`agrees with mpmath to 1e-12 where R is off (${reference.arbitrated.length} values)`, () => {
    const compared = reference.arbitrated.map(([args, where, ofR, want]) => {
      const got = valueAt(distribution, args, where);
      return { args, where, got, want, ofR };
    });
    expect(compared.filter(({ got, want }) => !(difference(got, want) <= RELATIVE))).toEqual([]);
    expect(compared.filter(({ want, ofR }) => !(difference(want, ofR) > R_IS_OFF / 2))).toEqual([]);
  });
});
