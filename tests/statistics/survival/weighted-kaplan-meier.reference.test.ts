import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateCumulativeIncidence,
  estimateWeightedKaplanMeier,
  estimateWeightedKaplanMeierByGroup,
  survivalAt,
  testWeightedLogRank,
  testWeightedSurvivalDifference,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { codesOf, differences, loadCases, loadReference } from '../reference-cases';

it.each(keptCases('weighted_km'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

const numbers = z.array(z.number());
const label = z.union([z.string(), z.number()]);
const weighted = z.object({
  data: z.object({ time: numbers, status: numbers, group: z.array(label), weight: numbers }),
  expected: z.object({
    groups: z.record(z.string(), z.looseObject({ surv: numbers, robustStdErrSurv: numbers })),
    svyLogrank: z.object({ values: numbers }),
    xieLiu: z.object({ numerator: z.number(), variance: z.number(), p: z.number() }),
  }),
});

describe.each(loadCases('weighted_km', weighted))('$id', ({ data, expected, tolerance }) => {
  const names = Object.keys(expected.groups);
  const { time: timeDays, status: event, weight: weights } = data;
  const rows = { timeDays, event, weights, group: codesOf(data.group, names) };

  it('has the curves and robust errors of survfit', () => {
    const wrong = estimateWeightedKaplanMeierByGroup(rows).flatMap((curve, g) => {
      const { surv, robustStdErrSurv } = expected.groups[names[g]];
      return [
        ...differences(`${names[g]} survival`, curve.survival, surv, tolerance),
        ...differences(
          `${names[g]} error`,
          curve.standardError,
          robustStdErrSurv.slice(0, curve.intervalTo),
          tolerance,
        ),
      ];
    });
    expect(wrong).toEqual([]);
  });

  it('has the tests of Xie & Liu and of survey sampling', () => {
    const permuted = estimable(testWeightedLogRank(rows));
    const sampled = estimable(testWeightedLogRank(rows, { variance: 'sampling' }));
    const { numerator, variance, p } = expected.xieLiu;
    const got = [permuted.score, permuted.variance, permuted.pValue, sampled.chiSquare, sampled.pValue];
    const want = [numerator, variance, p, ...expected.svyLogrank.values];
    expect(differences('tests', got, want, tolerance)).toEqual([]);
  });
});

const clustered = loadReference(
  'clustered-curves',
  z.object({
    call: z.string(),
    tolerance: z.object({ rel: z.number(), abs: z.number() }),
    cases: z.array(
      z.object({
        ...{ id: z.string(), time: numbers, status: numbers, group: numbers, cluster: numbers },
        ...{ entry: numbers.optional(), weights: numbers.optional() },
        curve: z.object({ time: numbers, survival: numbers, standardError: numbers }),
        difference: z.object({ times: numbers, estimate: numbers, standardError: numbers }),
        incidence: z.object({
          ...{ time: numbers, first: numbers, second: numbers, firstError: numbers, secondError: numbers },
        }),
      }),
    ),
  }),
);

describe.each(clustered.cases)(`$id, clustered (${clustered.call})`, (one) => {
  const { time: timeDays, status, group, cluster, entry, weights } = one;
  const { tolerance } = clustered;
  const rows = {
    ...{ timeDays, cluster, group, event: status.map((code) => Math.min(1, code)) },
    ...(entry ? { entryDays: entry } : {}),
    ...(weights ? { weights } : {}),
  };

  it('has the curve and its error at every time', () => {
    const curve = estimateWeightedKaplanMeier(rows);
    const points = survivalAt(curve, one.curve.time).map(estimable);
    const errors = points.map(({ interval }) => (interval.kind === 'estimated' ? interval.standardError : 0));
    const survival = points.map((point) => point.survival);
    expect(differences('survival', survival, one.curve.survival, tolerance)).toEqual([]);
    expect(differences('error', errors, one.curve.standardError, tolerance)).toEqual([]);
  });

  it('has the difference of the groups, which share clusters', () => {
    const { times, estimate, standardError } = one.difference;
    const points = testWeightedSurvivalDifference(rows, times).map(estimable);
    expect(
      differences(
        'difference',
        points.map(({ difference }) => difference),
        estimate,
        tolerance,
      ),
    ).toEqual([]);
    const errors = points.map(({ plain }) => (plain.kind === 'tested' ? plain.standardError : 0));
    // Where a curve is at zero there is no test, and the same in both packages else.
    const due = standardError.map((value, i) => (points[i].plain.kind === 'tested' ? value : 0));
    expect(errors.some((error) => error > 0)).toBe(true);
    expect(differences('error', errors, due, tolerance)).toEqual([]);
  });

  it('has the incidence of each cause and its error', () => {
    const data = { timeDays, status, cluster, ...(entry ? { entryDays: entry } : {}) };
    const { causes, timeDays: own } = estimateCumulativeIncidence(data, { causeCount: 2 });
    const at = own.map((time) => one.incidence.time.indexOf(time));
    const { first, second, firstError, secondError } = one.incidence;
    for (const [index, [value, error]] of [
      [first, firstError],
      [second, secondError],
    ].entries()) {
      const pick = (column: readonly number[]): number[] => Array.from(at, (j) => column[j]);
      expect(differences('incidence', causes[index].incidence, pick(value), tolerance)).toEqual([]);
      expect(differences('error', causes[index].standardError, pick(error), tolerance)).toEqual([]);
    }
  });
});
