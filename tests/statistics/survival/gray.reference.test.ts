import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { testGray } from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { codesOf, differences, loadCases, loadReference } from '../reference-cases';

const numbers = z.array(z.number());

it.each(keptCases('cumulative_incidence'))('$id with its tests ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

const results = z.array(
  z.object({ cause: z.coerce.number(), stat: z.number(), p: z.number(), df: z.number() }),
);
const label = z.union([z.string(), z.number()]);
const twoTests = z.object({
  data: z.object({ time: numbers, status: numbers, group: z.array(label).optional() }),
  expected: z.object({
    groups: z.record(z.string(), z.unknown()),
    grayTest: results.optional(),
    grayTestRho1: results.optional(),
  }),
});

it.each(loadCases('cumulative_incidence', twoTests))(
  '$id: Gray ($rCall)',
  ({ data, expected, tolerance }) => {
    const group = codesOf(data.group ?? data.time.map(() => 'all'), Object.keys(expected.groups));
    for (const [rho, tests] of [expected.grayTest ?? [], expected.grayTestRho1 ?? []].entries()) {
      for (const { cause, stat, p, df } of tests) {
        const test = estimable(testGray({ timeDays: data.time, status: data.status, group }, { cause, rho }));
        expect(test.degreesOfFreedom).toBe(df);
        expect(differences('stat, p', [test.chiSquare, test.pValue], [stat, p], tolerance)).toEqual([]);
      }
    }
  },
);

const stratified = loadReference(
  'gray-strata',
  z.object({
    call: z.string(),
    tolerance: z.object({ rel: z.number(), abs: z.number() }),
    cases: z.array(
      z.object({
        id: z.string(),
        ...{ time: numbers, status: numbers, group: numbers, strata: numbers },
        rho0: z.array(z.object({ cause: z.number(), chiSquare: z.number(), p: z.number(), df: z.number() })),
        rho1: z.array(z.object({ cause: z.number(), chiSquare: z.number(), p: z.number(), df: z.number() })),
        rhoHalf: z.array(
          z.object({ cause: z.number(), chiSquare: z.number(), p: z.number(), df: z.number() }),
        ),
      }),
    ),
  }),
);

describe.each(stratified.cases)(`$id (${stratified.call})`, (one) => {
  it.each([
    { rho: 0, expected: one.rho0 },
    { rho: 1, expected: one.rho1 },
    { rho: 0.5, expected: one.rhoHalf },
  ])('rho $rho, every cause', ({ rho, expected }) => {
    const { time: timeDays, status, group, strata } = one;
    const wrong = expected.flatMap(({ cause, chiSquare, p, df }) => {
      const test = estimable(testGray({ timeDays, status, group, strata }, { cause, rho }));
      const got = [test.chiSquare, test.pValue, test.degreesOfFreedom];
      return differences(`cause ${cause}`, got, [chiSquare, p, df], stratified.tolerance);
    });
    expect(wrong).toEqual([]);
  });
});
