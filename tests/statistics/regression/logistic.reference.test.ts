import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { estimateCStatistic, fitLogisticRegression } from '@/lib/statistics';
import { compareAnswer } from '../../reference-run/compare';
import { estimable } from '../estimable';
import { loadReference } from '../reference-cases';

const numbers = z.array(z.number());
const { cases, call, tolerance } = loadReference(
  'logistic-regression',
  z.object({
    call: z.string(),
    tolerance: z.object({ rel: z.number(), abs: z.number() }),
    cases: z.array(
      z.object({
        outcome: numbers,
        covariates: z.array(numbers),
        weights: numbers.nullish(),
        offset: numbers.nullish(),
        coefficients: z.array(z.number().nullable()),
        standardErrors: numbers,
        pValues: numbers,
        covariance: z.array(numbers),
        deviance: z.number(),
        nullDeviance: z.number(),
        fitted: numbers,
      }),
    ),
  }),
);

describe(`logistic regression against R (${call})`, () => {
  it.each(cases.map((one, i) => ({ i, one })))('case $i', ({ one }) => {
    const { outcome, covariates, weights, offset, ...expected } = one;
    const found = estimable(
      fitLogisticRegression({
        outcome,
        covariates,
        ...(weights ? { weights } : {}),
        ...(offset ? { offset } : {}),
      }),
    );
    const terms = [found.intercept, ...found.terms];
    const kept = terms.flatMap((term) => (term.kind === 'estimated' ? [term] : []));
    const got = {
      coefficients: terms.map((term) => (term.kind === 'estimated' ? term.coefficient : null)),
      standardErrors: kept.map((term) => term.standardError),
      pValues: kept.map((term) => term.pValue),
      covariance: kept.map((_, k) =>
        Array.from(found.covariance.slice(k * kept.length, (k + 1) * kept.length)),
      ),
      deviance: found.deviance,
      nullDeviance: found.nullDeviance,
      fitted: found.fitted,
    };
    expect(compareAnswer(got, expected, tolerance)).toEqual([]);
  });
});

it('has the C statistic of the pbc propensity model, from ranks in R', () => {
  const { data, expected } = loadReference(
    'ps-pbc',
    z.object({
      data: z.object({ treat: numbers }),
      expected: z.object({ ps: numbers, cStatistic: z.number() }),
    }),
  );
  const found = estimable(estimateCStatistic({ outcome: data.treat, marker: expected.ps }));
  expect(found.cStatistic).toBeCloseTo(expected.cStatistic, 10);
});
