import { expect, it } from 'vitest';
import { z } from 'zod';
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
import { loadReference } from '../reference-cases';

const RELATIVE = 1e-12;

function expectClose(rows: { what: string; got: number; want: number }[]): void {
  const wrong = rows.filter(({ got, want }) => !(Math.abs(got - want) <= RELATIVE * Math.abs(want)));
  expect(rows.length).toBeGreaterThan(0);
  expect(wrong).toEqual([]);
}

const normal = loadReference(
  'special-normal',
  z.object({
    tails: z.array(z.object({ z: z.number(), density: z.number(), lower: z.number(), upper: z.number() })),
    quantiles: z.array(z.object({ p: z.number(), quantile: z.number() })),
  }),
);

it('agrees with mpmath to 1e-12 on the normal density and both tails, out to 37.5 standard deviations', () => {
  expectClose(
    normal.tails.flatMap(({ z: at, density, lower, upper }) => [
      { what: `density ${at}`, got: normalDensity(at), want: density },
      { what: `lower ${at}`, got: normalLowerTail(at), want: lower },
      { what: `upper ${at}`, got: normalUpperTail(at), want: upper },
    ]),
  );
});

it('agrees with mpmath to 1e-12 on normal quantiles from 1e-300 upwards, and mirrors them', () => {
  expectClose(
    normal.quantiles.flatMap(({ p, quantile }) => [
      { what: `quantile ${p}`, got: normalQuantile(p), want: quantile },
      { what: `upper quantile ${p}`, got: normalUpperQuantile(p), want: -quantile },
    ]),
  );
});

const chiSquare = loadReference(
  'special-chi-square',
  z.object({
    tails: z.array(
      z.object({ df: z.number(), x: z.number(), lower: z.number().optional(), upper: z.number().optional() }),
    ),
    logGamma: z.array(z.object({ x: z.number(), logGamma: z.number() })),
  }),
);

it('agrees with mpmath to 1e-12 on both chi-square tails, 0.01 to 20,000 degrees of freedom', () => {
  expectClose(
    chiSquare.tails.flatMap(({ df, x, lower, upper }) => [
      ...(lower === undefined
        ? []
        : [{ what: `lower ${x}, ${df}`, got: chiSquareLowerTail(x, df), want: lower }]),
      ...(upper === undefined
        ? []
        : [{ what: `upper ${x}, ${df}`, got: chiSquareUpperTail(x, df), want: upper }]),
    ]),
  );
});

it('agrees with mpmath to 1e-12 on both incomplete gamma tails', () => {
  expectClose(
    chiSquare.tails.flatMap(({ df, x, lower, upper }) => [
      ...(lower === undefined
        ? []
        : [{ what: `P ${x}, ${df}`, got: gammaLowerTail(df / 2, x / 2), want: lower }]),
      ...(upper === undefined
        ? []
        : [{ what: `Q ${x}, ${df}`, got: gammaUpperTail(df / 2, x / 2), want: upper }]),
    ]),
  );
});

it('agrees with mpmath to 1e-12 on log gamma, next to its zeros at 1 and 2 as well', () => {
  expectClose(chiSquare.logGamma.map(({ x, logGamma: want }) => ({ what: `${x}`, got: logGamma(x), want })));
});
