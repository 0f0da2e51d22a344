import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveFineGrayIncidence,
  type FineGrayFit,
  type FineGrayOptions,
  fitFineGray,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { differences, loadCases, loadReference } from '../reference-cases';

it.each(keptCases('fine_gray'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

const numbers = z.array(z.number());
const regression = z.object({
  params: z.object({ covariates: z.array(z.string()), failcode: z.number() }),
  data: z.record(z.string(), numbers),
  expected: z.looseObject({ coef: numbers, se: numbers, loglik: z.number() }),
});

function fitted(data: Parameters<typeof fitFineGray>[0], options: FineGrayOptions): FineGrayFit {
  const fit = estimable(fitFineGray(data, options));
  if (fit.kind === 'monotone') throw new Error(fit.reason);
  return fit;
}

const coefficientsOf = (fit: FineGrayFit): number[] =>
  fit.coefficients.map((one) => estimable(one).coefficient);

it.each(loadCases('fine_gray', regression))(
  '$id: coefficients ($rCall)',
  ({ params, data, expected, tolerance }) => {
    const covariates = params.covariates.map((name) => data[name]);
    const fit = fitted({ timeDays: data.time, status: data.status, covariates }, { cause: params.failcode });
    const errors = fit.coefficients.map((one) => estimable(estimable(one).interval).standardError);
    expect(differences('coefficient', coefficientsOf(fit), expected.coef, tolerance)).toEqual([]);
    expect(differences('error', errors, expected.se, tolerance)).toEqual([]);
    expect(differences('likelihood', [fit.logLikelihood], [expected.loglik], tolerance)).toEqual([]);
  },
);

const synthetic = loadReference(
  'fine-gray-synthetic',
  z.object({
    call: z.string(),
    tolerance: z.object({ rel: z.number(), abs: z.number() }),
    cases: z.array(
      z.object({
        ...{
          id: z.string(),
          cause: z.number(),
          time: numbers,
          status: numbers,
          first: numbers,
          second: numbers,
        },
        ...{ coefficient: numbers, covariance: numbers, goneCoefficient: numbers },
        ...{ logLikelihood: z.number(), nullLogLikelihood: z.number() },
        ...{ times: numbers, incidenceAtZero: numbers, incidenceAtOther: numbers },
      }),
    ),
  }),
);

describe.each(synthetic.cases)(`$id (${synthetic.call})`, (one) => {
  const { tolerance } = synthetic;
  const data = { timeDays: one.time, status: one.status, covariates: [one.first, one.second] };
  const fit = fitted(data, { cause: one.cause });

  it('has the coefficients, their covariance and the likelihoods', () => {
    expect(differences('coefficient', coefficientsOf(fit), one.coefficient, tolerance)).toEqual([]);
    expect(differences('covariance', fit.covariance, one.covariance, tolerance)).toEqual([]);
    const likelihoods = [fit.logLikelihood, fit.nullLogLikelihood];
    const expected = [one.logLikelihood, one.nullLogLikelihood];
    expect(differences('likelihood', likelihoods, expected, tolerance)).toEqual([]);
  });

  it('predicts the incidence of two cases', () => {
    const zero = deriveFineGrayIncidence(fit, [0, 0], one.times);
    const other = deriveFineGrayIncidence(fit, [1, -0.5], one.times);
    expect(differences('at zero', zero, one.incidenceAtZero, tolerance)).toEqual([]);
    expect(differences('at another', other, one.incidenceAtOther, tolerance)).toEqual([]);
  });

  it('has the coefficients of weights whose failures are gone before a censoring of the same time', () => {
    const gone = fitted(data, { cause: one.cause, tiedFailures: 'gone' });
    expect(differences('gone', coefficientsOf(gone), one.goneCoefficient, tolerance)).toEqual([]);
  });
});
