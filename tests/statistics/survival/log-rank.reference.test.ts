import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { testLogRank } from '@/lib/statistics';
import { codesOf, differences, loadCases, loadReference } from '../reference-cases';

const label = z.union([z.string(), z.number()]);
const data = z.object({
  time: z.array(z.number()),
  status: z.array(z.number()),
  group: z.array(label),
  strata: z.array(label).optional(),
});
const expectedShape = z.object({
  groups: z.array(label),
  logrank: z.object({
    n: z.array(z.number()),
    observed: z.array(z.number()),
    expected: z.array(z.number()),
    var: z.array(z.array(z.number())),
    chisq: z.number(),
    df: z.number(),
    p: z.number(),
  }),
});

function inputOf(
  rows: z.infer<typeof data>,
  groups: readonly (string | number)[],
): Parameters<typeof testLogRank>[0] {
  const { time: timeDays, status: event, strata } = rows;
  const group = codesOf(rows.group, groups);
  return strata
    ? { timeDays, event, group, strata: codesOf(strata, [...new Set(strata)]) }
    : { timeDays, event, group };
}

const cases = loadCases('logrank', z.looseObject({})).filter(({ id }) => !id.startsWith('pub-'));

describe.each(cases)('$id ($rCall)', (reference) => {
  it('agrees on counts, expectations, covariance and the test', () => {
    const { groups, logrank } = expectedShape.parse(reference.expected);
    const test = testLogRank(inputOf(data.parse(reference.data), groups));
    if (test.kind !== 'tested') throw new Error(test.reason);
    const { tolerance } = reference;
    expect([
      ...differences(
        'n',
        test.groups.map((g) => g.n),
        logrank.n,
        tolerance,
      ),
      ...differences(
        'observed',
        test.groups.map((g) => g.observed),
        logrank.observed,
        tolerance,
      ),
      ...differences(
        'expected',
        test.groups.map((g) => g.expected),
        logrank.expected,
        tolerance,
      ),
      ...differences('covariance', test.covariance, logrank.var.flat(), tolerance),
      ...differences(
        'chi-square, df, p',
        [test.chiSquare, test.degreesOfFreedom, test.pValue],
        [logrank.chisq, logrank.df, logrank.p],
        tolerance,
      ),
    ]).toEqual([]);
  });
});

describe.each(loadCases('logrank_undefined', z.looseObject({})))('$id ($title)', (reference) => {
  it('is not estimable', () => {
    const rows = data.parse(reference.data);
    expect(testLogRank(inputOf(rows, [...new Set(rows.group)])).kind).toBe('notEstimable');
  });
});

const printed = z.object({ values: z.record(z.string(), z.number()) });

it('prints the 6-MP test of Gehan 1965: 9 against 19.25, 21 against 10.75, chi-square 16.79', () => {
  const shape = z.object({ data: data.omit({ group: true }).extend({ trt: z.array(z.number()) }), printed });
  const published = loadReference('pub-logrank-6mp', shape);
  const { time, status, trt } = published.data;
  const test = testLogRank({ timeDays: time, event: status, group: trt });
  if (test.kind !== 'tested') throw new Error(test.reason);
  const [placebo, treated] = test.groups;
  expect({
    O_placebo: placebo.observed,
    E_placebo: Number(placebo.expected.toFixed(2)),
    O_6mp: treated.observed,
    E_6mp: Number(treated.expected.toFixed(2)),
    chisq: Number(test.chiSquare.toFixed(2)),
  }).toEqual(published.printed.values);
});

it('prints the maintenance test of the survival package vignette, section 2.6', () => {
  const published = loadReference('pub-aml-logrank', z.object({ data, printed }));
  const test = testLogRank(inputOf(published.data, ['Maintained', 'Nonmaintained']));
  if (test.kind !== 'tested') throw new Error(test.reason);
  expect({
    E1: Number(test.groups[0].expected.toFixed(2)),
    E2: Number(test.groups[1].expected.toFixed(2)),
    chisq: Number(test.chiSquare.toFixed(1)),
  }).toEqual(published.printed.values);
});
