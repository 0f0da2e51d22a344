import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateLogRankHazardRatio,
  type LogRankData,
  type LogRankWeighting,
  testLogRank,
  testLogRankTrend,
} from '@/lib/statistics';
import { fixtureFolder } from '../../support/fixtures';
import { codesOf, differences, loadCases } from '../reference-cases';
import { estimated } from './estimated';

const numbers = z.array(z.number());
const label = z.union([z.string(), z.number()]);
const data = z.object({
  time: numbers,
  status: numbers,
  group: z.array(label),
  strata: z.array(label).optional(),
});
const statistics = z.object({ var: z.array(numbers), chisq: z.number(), df: z.number(), p: z.number() });
const weightedShape = statistics.extend({
  weightedObserved: numbers,
  weightedExpected: numbers,
  trend: z.object({ scores: numbers, z: z.number(), chisq: z.number(), p: z.number() }).optional(),
});
const ratioNumber = z.array(z.union([z.number(), z.literal('Inf')])).transform(([value]) => value);
const shape = z.object({
  groups: z.array(label),
  petoPetoRho1: statistics.extend({ observed: numbers, expected: numbers }),
  weighted: z.record(z.string(), weightedShape),
  hazardRatioFromLogrank: z
    .object({
      OEratio: ratioNumber,
      petoOneStep: ratioNumber,
      petoLower: ratioNumber,
      petoUpper: ratioNumber,
      conservativeChisqOE: z.number(),
    })
    .optional(),
});

const WEIGHTINGS = {
  logrank: 'equal',
  gehanBreslow: 'gehan-breslow',
  taroneWare: 'tarone-ware',
  petoPetoLeftKM: { rho: 1, gamma: 0 },
  petoPetoModifiedAndersen: 'modified-peto-peto',
  petoPetoPrentice: 'peto-peto',
  fh_0_1: { rho: 0, gamma: 1 },
  fh_1_0: { rho: 1, gamma: 0 },
  fh_1_1: { rho: 1, gamma: 1 },
  fh_05_05: { rho: 0.5, gamma: 0.5 },
  fh_05_2: { rho: 0.5, gamma: 2 },
} as const satisfies Record<string, LogRankWeighting>;

function rowsOf(columns: z.infer<typeof data>, groups: readonly (string | number)[]): LogRankData {
  const { time: timeDays, status: event, strata } = columns;
  const rows = { timeDays, event, group: codesOf(columns.group, groups) };
  return strata ? { ...rows, strata: codesOf(strata, [...new Set(strata)]) } : rows;
}

const cases = loadCases('logrank', z.looseObject({})).filter(({ id }) => !id.startsWith('pub-'));

describe.each(cases)('$id ($rCall)', (reference) => {
  const { tolerance } = reference;
  const expected = shape.parse(reference.expected);
  const rows = rowsOf(data.parse(reference.data), expected.groups);

  it.each(Object.entries(WEIGHTINGS))('agrees on %s', (name, weighting) => {
    const want = weightedShape.parse(expected.weighted[name]);
    const test = estimated(testLogRank(rows, { weighting }));
    const column = (key: 'observed' | 'expected'): number[] => test.groups.map((each) => each[key]);
    const got = [test.chiSquare, test.degreesOfFreedom, test.pValue];
    expect([
      ...differences('observed', column('observed'), want.weightedObserved, tolerance),
      ...differences('expected', column('expected'), want.weightedExpected, tolerance),
      ...differences('covariance', test.covariance, want.var.flat(), tolerance),
      ...differences('test', got, [want.chisq, want.df, want.p], tolerance),
    ]).toEqual([]);
    if (!want.trend) return;
    const trend = estimated(testLogRankTrend(rows, want.trend.scores, { weighting }));
    const { z: score, chisq, p } = want.trend;
    const found = [trend.z, trend.chiSquare, trend.pValue];
    expect(differences('trend', found, [score, chisq, p], tolerance)).toEqual([]);
  });

  it('agrees with the package on rho = 1, and on the hazard ratio where one is given', () => {
    const { petoPetoRho1, hazardRatioFromLogrank } = expected;
    const test = estimated(testLogRank(rows, { weighting: { rho: 1, gamma: 0 } }));
    const got = [test.chiSquare, test.degreesOfFreedom, test.pValue];
    const want = [petoPetoRho1.chisq, petoPetoRho1.df, petoPetoRho1.p];
    expect(differences('rho = 1', got, want, tolerance)).toEqual([]);
    if (!hazardRatioFromLogrank) return;
    const ratio = estimated(estimateLogRankHazardRatio(estimated(testLogRank(rows))));
    const { OEratio, petoOneStep, petoLower, petoUpper, conservativeChisqOE } = hazardRatioFromLogrank;
    const found = [ratio.hazardRatio, ratio.lower, ratio.upper, ratio.conservativeChiSquare];
    expect(
      differences('ratio', found, [petoOneStep, petoLower, petoUpper, conservativeChisqOE], tolerance),
    ).toEqual([]);
    if (OEratio === 'Inf')
      expect(ratio.rateRatio).toMatchObject({ kind: 'notEstimable', code: 'noEventsInGroup' });
    else expect(differences('O/E', [estimated(ratio.rateRatio)], [OEratio], tolerance)).toEqual([]);
  });
});

/** Printed tests on data under the GPL; nothing when they are not at hand. */
function publishedOutside<T>(name: string, content: z.ZodType<T>): T[] {
  const file = `published/${name}.json`;
  const folder = fixtureFolder(file);
  return folder ? [content.parse(JSON.parse(readFileSync(join(folder, file), 'utf8')))] : [];
}
const printed = z.object({ values: z.record(z.string(), z.number()) });
const page = z.object({ data, printed });
const here = fixtureFolder('published/pub-bmt-3groups.json')
  ? ''
  : ' (left out: AFTERBEAT_FIXTURES leads to none)';

it(`prints the three groups of Klein and Moeschberger, Example 7.4${here}`, () => {
  for (const published of publishedOutside('pub-bmt-3groups', page)) {
    const test = estimated(testLogRank(rowsOf(published.data, [1, 2, 3])));
    const [first, second, third] = test.groups.map((each) => Number(each.expected.toFixed(1)));
    const got = { chisq: Number(test.chiSquare.toFixed(1)), E1: first, E2: second, E3: third };
    expect(got).toEqual(published.printed.values);
  }
});

it(`prints the weighted tests of Klein and Moeschberger, Table 7.3 (from memory)${here}`, () => {
  const tests: Record<string, readonly [LogRankWeighting, number]> = {
    logrank: ['equal', 2],
    gehan: ['gehan-breslow', 3],
    taroneWare: ['tarone-ware', 2],
    petoPetoMod: ['modified-peto-peto', 2],
    fh01: [{ rho: 0, gamma: 1 }, 2],
    fh10: [{ rho: 1, gamma: 0 }, 2],
    fh11: [{ rho: 1, gamma: 1 }, 2],
    fh55: [{ rho: 0.5, gamma: 0.5 }, 2],
    fh52: [{ rho: 0.5, gamma: 2 }, 2],
  };
  for (const published of publishedOutside('pub-km-table73', page)) {
    const rows = rowsOf(published.data, [1, 2]);
    const got = Object.entries(tests).map(([name, [weighting, digits]]) => [
      name,
      Number(estimated(testLogRank(rows, { weighting })).chiSquare.toFixed(digits)),
    ]);
    expect(Object.fromEntries(got)).toEqual(published.printed.values);
  }
});
