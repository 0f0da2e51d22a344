import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  type CoxData,
  deriveMartingaleResiduals,
  deriveSchoenfeldResiduals,
  estimateAdjustedCoxCurve,
  estimateConcordance,
  estimateCoxCurve,
  fitCox,
  fitCoxByGroup,
  testProportionalHazards,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom } from '../kept-cases';
import { differences, loadCases, loadReference } from '../reference-cases';
import { estimated } from '../survival/estimated';
import { coefficientsOf, fitted } from './three-cases';

const numbers = z.array(z.number());
const named = z.union([z.tuple([]).transform(() => ({})), z.record(z.string(), z.unknown())]);
const whole = z.looseObject({ params: named, data: named, expected: named });

describe.each(['cox', 'cox_collinear', 'cox_monotone', 'cox_undefined'])('%s', (method) => {
  const cases = loadCases(method, whole).filter(({ id }) => !id.startsWith('pub-'));

  it('has cases', () => {
    expect(cases.length).toBeGreaterThan(0);
  });

  it.each(cases)('$id ($rCall)', (one) => {
    expect(differencesFrom(one)).toEqual([]);
  });
});

it('fits two groups from counts as coxph fits their covariate (aml, maintained or not)', () => {
  const [one] = loadCases('cox', whole).filter(({ id }) => id === 'cox-aml');
  const { time, status, maint } = z
    .object({ time: numbers, status: numbers, maint: numbers })
    .parse(one.data);
  const side = z.object({
    coef: numbers,
    se: numbers,
    loglik: numbers,
    score: z.object({ stat: z.number() }),
  });
  const expected = z.object({ efron: side, breslow: side }).parse(one.expected);
  for (const ties of ['efron', 'breslow'] as const) {
    const fit = fitted(fitCoxByGroup({ timeDays: time, event: status, group: maint }, { ties }));
    const { coef, se, loglik, score } = expected[ties];
    const got = [
      ...coefficientsOf(fit),
      Math.sqrt(fit.modelCovariance[0]),
      fit.nullLogLikelihood,
      fit.logLikelihood,
    ];
    expect(
      differences(
        ties,
        [...got, fit.score.chiSquare],
        [...coef, ...se, ...loglik, score.stat],
        one.tolerance,
      ),
    ).toEqual([]);
  }
});

it('averages curves over the rows as the mean of all curves of survfit does', () => {
  const shape = z.object({
    tolerance: z.object({ rel: z.number(), abs: z.number() }),
    data: z.object({ time: numbers, status: numbers, age: numbers, sex: numbers, site: numbers, w: numbers }),
    expected: z.array(
      z.object({
        fixed: numbers,
        stratum: z.number(),
        time: numbers,
        survival: numbers,
        ties: z.enum(['efron', 'breslow']),
      }),
    ),
  });
  const { data, expected, tolerance } = loadReference('cox-adjusted-curves', shape);
  const { time: timeDays, status: event, age, sex, site: strata, w: weights } = data;
  const rows: CoxData = { timeDays, event, covariates: [age, sex], strata, weights };
  expect(expected.length).toBe(12);
  const found = expected.flatMap(({ fixed, stratum, time, survival, ties }) => {
    const fit = fitted(fitCox(rows, { ties }));
    const values = fixed.map((value) => ({ covariate: 1, value }));
    const curves = estimateAdjustedCoxCurve(rows, fit, values).map((curve) => estimated(curve));
    const curve = curves.find((one) => one.stratum === stratum);
    return [
      ...differences('time', curve?.timeDays ?? [], time, tolerance),
      ...differences('survival', curve?.survival ?? [], survival, tolerance),
    ];
  });
  expect(found).toEqual([]);
});

const printed = z.object({ values: z.record(z.string(), z.number()), decimals: numbers });

/** Printed values, and ours rounded to as many decimals, by name. */
function asPrinted({ values, decimals }: z.infer<typeof printed>, ours: Record<string, number>) {
  return Object.fromEntries(
    Object.keys(values).map((key, i) => [key, Number((ours[key] ?? Number.NaN).toFixed(decimals[i]))]),
  );
}

describe('6-MP against placebo (Freireich et al. 1963; data of Gehan 1965)', () => {
  const shape = z.object({ data: z.object({ time: numbers, status: numbers, trt: numbers }), printed });

  it('prints coefficient and standard error with Breslow ties, as in the texts of Lawless and of Kalbfleisch & Prentice', () => {
    const { data, printed: paper } = loadReference('pub-cox-6mp-breslow', shape);
    const rows = { timeDays: data.time, event: data.status, covariates: [data.trt] };
    const [found] = fitted(fitCox(rows, { ties: 'breslow' })).coefficients.map((one) => estimated(one));
    const ours = { coef: found.coefficient, se: estimated(found.interval).standardError };
    expect(asPrinted(paper, ours)).toEqual(paper.values);
  });

  it('prints the fit with Efron ties, as in public course notes', () => {
    const { data, printed: paper } = loadReference('pub-cox-6mp-efron', shape);
    const rows = { timeDays: data.time, event: data.status, covariates: [data.trt] };
    const fit = fitted(fitCox(rows));
    const [found] = fit.coefficients.map((one) => estimated(one));
    const { standardError: se, lower, upper } = estimated(found.interval);
    const ours = {
      ...{ coef: found.coefficient, se, hr: found.hazardRatio, lower, upper },
      ...{ lrt: fit.likelihoodRatio.chiSquare, wald: estimated(fit.wald).chiSquare },
      // The marker is the risk itself: treated patients have the lower one.
      concordance: estimated(estimateConcordance({ ...rows, marker: data.trt.map((x) => -x) })).concordance,
    };
    expect(asPrinted(paper, ours)).toEqual(paper.values);
  });

  it('lies, with either rule for ties, nearer to 0 than the odds ratio of the discrete model (Cox 1972), which is another estimand and not offered', () => {
    const { data, printed: paper } = loadReference('pub-cox-6mp-exact', shape);
    const rows = { timeDays: data.time, event: data.status, covariates: [data.trt] };
    const [efron] = coefficientsOf(fitted(fitCox(rows)));
    const [breslow] = coefficientsOf(fitted(fitCox(rows, { ties: 'breslow' })));
    expect(breslow).toBeGreaterThan(efron);
    expect(efron).toBeGreaterThan(paper.values.coef);
    expect(efron - paper.values.coef).toBeLessThan(paper.values.se / 4);
  });
});

it('prints stage and age of the larynx data, Klein & Moeschberger, sections 8.3 and 8.4 (Breslow)', () => {
  const { data, printed: paper } = loadReference(
    'pub-larynx-cox',
    z.object({ data: z.object({ time: numbers, status: numbers, stage: numbers, age: numbers }), printed }),
  );
  const stages = [2, 3, 4].map((stage) => data.stage.map((one) => Number(one === stage)));
  const rows = { timeDays: data.time, event: data.status, covariates: [...stages, data.age] };
  const found = fitted(fitCox(rows, { ties: 'breslow' })).coefficients.map((one) => estimated(one));
  const [s2, s3, s4, age] = found.map(({ coefficient }) => coefficient);
  const [se2, se3, se4, seAge] = found.map(({ interval }) => estimated(interval).standardError);
  expect(asPrinted(paper, { s2, s3, s4, age, se2, se3, se4, seAge })).toEqual(paper.values);
});

describe('the lung model of the main vignette of the R package survival, section 3', () => {
  const shape = z.object({
    data: z.object({ time: numbers, status: numbers, age: numbers, sex: numbers, wtloss: numbers }),
    printed,
  });
  const rowsOf = ({ time, status, age, sex, wtloss }: z.infer<typeof shape>['data']) => ({
    ...{ timeDays: time, event: status, covariates: [age, sex, wtloss] },
  });

  it('prints coefficients, tests and concordance', () => {
    const { data, printed: paper } = loadReference('pub-lung-cox', shape);
    const rows = rowsOf(data);
    const fit = fitted(fitCox(rows));
    const [age, sex, wt] = coefficientsOf(fit);
    const found = fit.coefficients.map((one) => estimated(estimated(one).interval).standardError);
    const [seAge, seSex, seWt] = found;
    const marker = data.time.map((_, i) => age * data.age[i] + sex * data.sex[i] + wt * data.wtloss[i]);
    const index = estimated(estimateConcordance({ timeDays: data.time, event: data.status, marker }));
    const ours = {
      ...{ age, sex, wt, seAge, seSex, seWt, lrt: fit.likelihoodRatio.chiSquare },
      ...{ wald: estimated(fit.wald).chiSquare, score: fit.score.chiSquare },
      ...{ C: index.concordance, seC: estimated(index.interval).standardError },
    };
    expect(asPrinted(paper, ours)).toEqual(paper.values);
  });

  it('prints the tests of proportional hazards', () => {
    const { data, printed: paper } = loadReference('pub-lung-zph', shape);
    const rows = rowsOf(data);
    const { covariates, global } = testProportionalHazards(rows, fitted(fitCox(rows)));
    const [age, sex, wt] = covariates.map((one) => estimated(one).chiSquare);
    expect(asPrinted(paper, { age, sex, wt, global: estimated(global).chiSquare })).toEqual(paper.values);
  });
});

it('fits days and the same days divided by 365.25 alike (Therneau, Roundoff error and tied times, 2016)', () => {
  const column = z.object({ days: numbers, years: numbers, status: numbers, x: numbers });
  const { data, printed: paper } = loadReference('pub-timefix-years', z.object({ data: column, printed }));
  const [days, years] = [data.days, data.years].map((timeDays) =>
    coefficientsOf(fitted(fitCox({ timeDays, event: data.status, covariates: [data.x] }))),
  );
  expect(days[0]).toBeCloseTo(-0.031139324722, 11);
  expect(days[0] - years[0]).toBeCloseTo(paper.values.coefDaysMinusYears, 10);
});

describe('validation data 1 of the R package survival (Therneau, Software validation, 2022, section 3)', () => {
  const shape = z.object({ data: z.object({ time: numbers, status: numbers, x: numbers }), printed });
  const rowsOf = ({ time, status, x }: z.infer<typeof shape>['data']) => ({
    ...{ timeDays: time, event: status, covariates: [x] },
  });

  it('prints Breslow: log((3 + root 33)/2), likelihoods, information, score and martingale residuals', () => {
    const { data, printed: paper } = loadReference('pub-validate1-breslow', shape);
    const rows = rowsOf(data);
    const fit = fitted(fitCox(rows, { ties: 'breslow' }));
    const [beta] = coefficientsOf(fit);
    expect(beta).toBeCloseTo(Math.log((3 + Math.sqrt(33)) / 2), 12);
    const [mart1, mart2, mart3, mart4, mart5] = deriveMartingaleResiduals(rows, fit);
    const ours = {
      ...{ beta, loglik0: fit.nullLogLikelihood, loglik: fit.logLikelihood },
      ...{ info: 1 / fit.modelCovariance[0], score0: fit.score.chiSquare },
      ...{ mart1, mart2, mart3, mart4, mart5 },
    };
    expect(asPrinted(paper, ours)).toEqual(paper.values);
  });

  it('prints Efron, its likelihood but for a misprint: 2b - log(3r + 3) - log(r + 3) - log((r + 5)/2) is -3.358975', () => {
    const { data, printed: paper } = loadReference('pub-validate1-efron', shape);
    const fit = fitted(fitCox(rowsOf(data)));
    const [beta] = coefficientsOf(fit);
    const r = Math.exp(beta);
    expect(fit.logLikelihood).toBeCloseTo(
      2 * beta - Math.log(3 * r + 3) - Math.log(r + 3) - Math.log((r + 5) / 2),
      12,
    );
    const ours = {
      ...{ beta, loglik0: fit.nullLogLikelihood, loglik: fit.logLikelihood },
      info: 1 / fit.modelCovariance[0],
    };
    expect(asPrinted(paper, ours)).toEqual({ ...paper.values, loglik: -3.358975 });
  });

  it('has the baseline hazard 1/(3r + 3) of the first event, and residuals x - xbar that sum to 0', () => {
    const { data } = loadReference('pub-validate1-efron', shape);
    const rows = rowsOf(data);
    const fit = fitted(fitCox(rows));
    const r = Math.exp(coefficientsOf(fit)[0]);
    const [curve] = estimateCoxCurve(rows, fit, { covariates: [0] });
    expect(estimable(curve).cumulativeHazard[0]).toBeCloseTo(1 / (3 * r + 3), 14);
    const { residuals, timeDays } = deriveSchoenfeldResiduals(rows, fit);
    expect(Array.from(timeDays)).toEqual([1, 6, 6, 9]);
    expect(residuals[0]).toBeCloseTo(1 / (r + 1), 13);
    expect(residuals.reduce((sum, value) => sum + value, 0)).toBeCloseTo(0, 13);
  });
});
