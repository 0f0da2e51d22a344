import { describe, expect, it } from 'vitest';
import { type CoxData, estimateConcordance, fitCox } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from '../survival/estimated';
import { coefficientsOf, fitted, monotone, ROOT, threeCases } from './three-cases';

const INFORMATION = 6 * ROOT - 8;

describe('three cases by hand', () => {
  const fit = fitted(fitCox(threeCases));

  it('has the hazard ratio 1/root 2 and the information 6 root 2 - 8', () => {
    const [found] = fit.coefficients.map((one) => estimated(one));
    expect(found.hazardRatio).toBeCloseTo(1 / ROOT, 13);
    expect(found.coefficient).toBeCloseTo(-Math.log(2) / 2, 13);
    const interval = estimated(found.interval);
    expect(interval.standardError).toBeCloseTo(1 / Math.sqrt(INFORMATION), 12);
    expect(interval.z).toBeCloseTo((-Math.log(2) / 2) * Math.sqrt(INFORMATION), 12);
    expect(interval.lower).toBeCloseTo(
      Math.exp(-Math.log(2) / 2 - 1.959963984540054 / Math.sqrt(INFORMATION)),
      12,
    );
    expect(interval.upper).toBeCloseTo(
      Math.exp(-Math.log(2) / 2 + 1.959963984540054 / Math.sqrt(INFORMATION)),
      10,
    );
    expect(interval.pValue).toBeCloseTo(estimated(fit.wald).pValue, 14);
  });

  it('has likelihoods 1/6 without and 3 - 2 root 2 with the covariate', () => {
    expect(fit.nullLogLikelihood).toBeCloseTo(-Math.log(6), 14);
    expect(fit.logLikelihood).toBeCloseTo(Math.log(3 - 2 * ROOT), 13);
    expect(fit.likelihoodRatio.chiSquare).toBeCloseTo(2 * (Math.log(3 - 2 * ROOT) + Math.log(6)), 12);
  });

  it('has the score test 1/17 and the Wald test b squared times the information, each on one degree of freedom', () => {
    expect(fit.score.chiSquare).toBeCloseTo(1 / 17, 14);
    expect(estimated(fit.wald).chiSquare).toBeCloseTo((Math.log(2) / 2) ** 2 * INFORMATION, 13);
    expect(
      [fit.score, fit.likelihoodRatio, estimated(fit.wald)].map((test) => test.degreesOfFreedom),
    ).toEqual([1, 1, 1]);
  });

  it('says what it was made from', () => {
    expect(fit).toMatchObject({ n: 3, eventTotal: 2, ties: 'efron', variance: 'model', estimated: [0] });
    expect(fit.covariance).toBe(fit.modelCovariance);
    expect(fit.robustScore).toBeUndefined();
  });

  it('has the limits of another level', () => {
    const [found] = fitted(fitCox(threeCases, { confidenceLevel: 0.5 })).coefficients.map((one) =>
      estimated(one),
    );
    const upper = Math.exp(-Math.log(2) / 2 + 0.6744897501960817 / Math.sqrt(INFORMATION));
    expect(estimated(found.interval).upper).toBeCloseTo(upper, 12);
  });

  it('has a robust variance from the score residuals 1 - 1/root 2, 5 root 2 - 7, 6 - 9/root 2', () => {
    const robust = fitted(fitCox(threeCases, { variance: 'robust' }));
    const residuals = [1 - 1 / ROOT, 5 * ROOT - 7, 6 - 9 / ROOT];
    const meat = residuals.reduce((sum, value) => sum + value * value, 0);
    expect(robust.covariance).toHaveLength(1);
    expect(estimated(estimated(robust.coefficients[0]).interval).standardError).toBeCloseTo(
      Math.sqrt(meat) / INFORMATION,
      11,
    );
    expect(robust.modelCovariance[0]).toBeCloseTo(1 / INFORMATION, 12);
    expect(robust.variance).toBe('robust');
    // At b = 0 the residuals are 8/36, -1/36 and -13/36: they sum to -6/36, their squares to 234/1296.
    expect(robust.robustScore).toMatchObject({ kind: 'tested', degreesOfFreedom: 1 });
    expect(robust.robustScore?.kind === 'tested' && robust.robustScore.chiSquare).toBeCloseTo(2 / 13, 13);
    expect(robust.score.chiSquare).toBeCloseTo(1 / 17, 14);
  });

  it('sums score residuals within clusters before squaring them', () => {
    const robust = fitted(fitCox({ ...threeCases, cluster: [4, 9, 4] }));
    // The first and third together are minus the second.
    const standardError = (Math.SQRT2 * (5 * ROOT - 7)) / INFORMATION;
    expect(estimated(estimated(robust.coefficients[0]).interval).standardError).toBeCloseTo(
      standardError,
      11,
    );
    expect(fitted(fitCox({ ...threeCases, cluster: [4, 9, 4] }, { variance: 'model' })).variance).toBe(
      'model',
    );
  });
});

describe('ties', () => {
  // Two of four have the event on day 1, with weights 2 and 4: mean 3.
  const tied = { timeDays: [1, 1, 2, 3], event: [1, 1, 0, 0], covariates: [[1, 0, 1, 0]] };

  it('by Efron take half of the tied off the second term', () => {
    const { nullLogLikelihood } = fitted(fitCox(tied));
    expect(nullLogLikelihood).toBeCloseTo(-Math.log(4) - Math.log(3), 14);
  });

  it('by Breslow do not', () => {
    expect(fitted(fitCox(tied, { ties: 'breslow' })).nullLogLikelihood).toBeCloseTo(-2 * Math.log(4), 14);
  });

  it('with weights share their mean weight by Efron, and are counts by Breslow', () => {
    const weighted = { ...tied, weights: [2, 4, 1, 1] };
    expect(fitted(fitCox(weighted)).nullLogLikelihood).toBeCloseTo(-3 * (Math.log(8) + Math.log(5)), 13);
    expect(fitted(fitCox(weighted, { ties: 'breslow' })).nullLogLikelihood).toBeCloseTo(-6 * Math.log(8), 13);
  });

  it('of more than sixteen events keep every term', () => {
    const n = 40;
    const event = Array.from({ length: n }, (_, i) => Number(i < 35));
    const x = Array.from({ length: n }, (_, i) => i % 2);
    let expected = 0;
    for (let k = 0; k < 35; k += 1) expected -= Math.log(n - k);
    const fit = fitted(fitCox({ timeDays: new Array(n).fill(7), event, covariates: [x] }));
    expect(fit.nullLogLikelihood).toBeCloseTo(expected, 10);
  });

  it('blurred by arithmetic are ties', () => {
    const blurred = { ...tied, timeDays: [0.1 + 0.2, 0.3, 2, 3] };
    expect(fitted(fitCox(blurred)).nullLogLikelihood).toBeCloseTo(-Math.log(12), 14);
  });

  it('of an event and a censoring leave the censored at risk', () => {
    const fit = fitted(fitCox({ timeDays: [1, 1, 2], event: [1, 0, 1], covariates: [[0.5, 1, 0]] }));
    expect(fit.nullLogLikelihood).toBeCloseTo(-Math.log(3), 14);
  });
});

describe('who is at risk', () => {
  const rows = { timeDays: [2, 4, 6, 8], event: [1, 1, 1, 0], covariates: [[1, 0, 2, 1]] };

  it('is there from after entry to exit', () => {
    const late = { ...rows, entryDays: [0, 2, 3, 0] };
    // Day 2: the first and last; day 4: all but the first; day 6: the last two.
    expect(fitted(fitCox(late)).nullLogLikelihood).toBeCloseTo(-Math.log(2) - Math.log(3) - Math.log(2), 14);
  });

  it('is in the same stratum', () => {
    const apart = { ...rows, covariates: [[2, 0, 1, 1]], strata: [7, 3, 7, 3] };
    expect(fitted(fitCox(apart)).nullLogLikelihood).toBeCloseTo(-2 * Math.log(2), 14);
    const late = { ...apart, entryDays: [0, 2, 2, 4] };
    expect(fitCox(late)).toMatchObject({ code: 'noVariationAtRisk' });
  });

  it('has a weight above 0', () => {
    const weights = [1, 1, 1, 0];
    const fit = fitted(fitCox({ ...rows, timeDays: [2, 4, 6, 3], weights }));
    expect(fit).toMatchObject({ n: 3, eventTotal: 3 });
    expect(fit.nullLogLikelihood).toBeCloseTo(-Math.log(6), 14);
    const withoutFirst = fitted(fitCox({ ...rows, weights: [0, 1, 1, 1] }));
    expect(withoutFirst).toMatchObject({ n: 3, eventTotal: 2 });
  });

  it('counts by exp(offset)', () => {
    const offset = [Math.log(3), 0, 0, 0];
    const fit = fitted(fitCox({ ...rows, offset }));
    expect(fit.nullLogLikelihood).toBeCloseTo(Math.log(3 / 6) - Math.log(3) - Math.log(2), 13);
    const shifted = fitted(fitCox({ ...rows, offset: offset.map((value) => value + 5000) }));
    expect(coefficientsOf(shifted)[0]).toBeCloseTo(coefficientsOf(fit)[0], 10);
  });
});

describe('columns that repeat others', () => {
  const rows = { timeDays: [1, 2, 3, 4, 5, 6], event: [1, 1, 0, 1, 1, 0] };
  const x = [3, 1, 4, 1, 5, 9];
  const z = [0, 1, 1, 0, 1, 0];

  it('have no coefficient, the later ones, and the rest is the fit without them', () => {
    const repeated = fitted(
      fitCox({ ...rows, covariates: [x, x.map((v) => 10 - v / 3), z, x.map((v, i) => v + 2 * z[i])] }),
    );
    const reduced = fitted(fitCox({ ...rows, covariates: [x, z] }));
    expect(repeated.coefficients[1]).toMatchObject({ kind: 'notEstimable', code: 'collinear' });
    expect(repeated.coefficients[3]).toMatchObject({ kind: 'notEstimable', code: 'collinear' });
    expect([repeated.coefficients[0], repeated.coefficients[2]]).toEqual(reduced.coefficients);
    expect(repeated.estimated).toEqual([0, 2]);
    expect(repeated.score).toEqual(reduced.score);
    expect(repeated.likelihoodRatio.degreesOfFreedom).toBe(2);
    expect(repeated.covariance).toEqual(reduced.covariance);
  });

  it('include a constant, and one that is constant in each stratum', () => {
    const strata = [0, 0, 0, 1, 1, 1];
    const covariates = [x.map(() => 0.1 + 0.2), strata.map((s) => 5 * s), x];
    const fit = fitted(fitCox({ ...rows, strata, covariates }));
    expect(fit.estimated).toEqual([2]);
  });

  it('do not include one that is nearly another', () => {
    const near = x.map((v, i) => v + 1e-4 * z[i]);
    const fit = fitted(fitCox({ ...rows, covariates: [x, near] }));
    const apart = fitted(fitCox({ ...rows, covariates: [x, z] }));
    expect(coefficientsOf(fit)[1] * 1e-4).toBeCloseTo(coefficientsOf(apart)[1], 6);
  });
});

describe('a likelihood without a maximum', () => {
  // Nobody with x = 1 has the event: 2 and 1 of 4 and 3 at risk without it.
  const arm = { timeDays: [1, 2, 3, 3], event: [1, 1, 0, 0], covariates: [[0, 0, 1, 1]] };

  it('is told, with the direction, the limit of the likelihood and tests that stand', () => {
    const found = monotone(fitCox(arm));
    expect(found.coefficients).toEqual([{ kind: 'infinite', sign: -1 }]);
    expect(found.reason).toContain('grow without end');
    expect(found.nullLogLikelihood).toBeCloseTo(-Math.log(12), 14);
    // In the limit those with x = 1 are no longer at risk: 1/2 x 1.
    expect(found.logLikelihood).toBeCloseTo(-Math.log(2), 12);
    expect(found.likelihoodRatio.chiSquare).toBeCloseTo(2 * Math.log(6), 12);
    expect(found.likelihoodRatio.degreesOfFreedom).toBe(1);
    // U = 0 - 1/2 - 2/3, V = 1/4 + 2/9.
    expect(found.score.chiSquare).toBeCloseTo((7 / 6) ** 2 / (17 / 36), 13);
  });

  it('turns with the sign of the covariate', () => {
    const turned = { ...arm, covariates: [[1, 1, 0, 0]] };
    expect(monotone(fitCox(turned)).coefficients).toEqual([{ kind: 'infinite', sign: 1 }]);
  });

  it('leaves finite coefficients to be estimated from those still at risk', () => {
    const timeDays = [...threeCases.timeDays, 1.5, 2.5, 4];
    const rows = {
      timeDays,
      event: [1, 1, 0, 0, 0, 0],
      covariates: [
        [1, 0, 1, 1, 0, 0],
        [0, 0, 0, 1, 1, 1],
      ],
    };
    const found = monotone(fitCox(rows));
    expect(found.coefficients[1]).toEqual({ kind: 'infinite', sign: -1 });
    const alone = fitted(fitCox(threeCases));
    expect(found.logLikelihood).toBeCloseTo(alone.logLikelihood, 12);
    const [first] = found.coefficients;
    if (first.kind !== 'estimated') throw new Error(first.kind);
    expect(first.coefficient).toBeCloseTo(-Math.log(2) / 2, 10);
    expect(estimated(first.interval).standardError).toBeCloseTo(1 / Math.sqrt(INFORMATION), 9);
  });

  it('does not take a covariate that the tied events differ in for one that grows', () => {
    const rows: CoxData = {
      timeDays: [3, 2, 1, 4, 3, 1, 3, 4, 1, 3, 3],
      event: [1, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0],
      strata: [1, 1, 1, 2, 1, 1, 1, 1, 1, 2, 1],
      covariates: [
        [1, 0, 1, 0, 1, 0, 1, 0, 1, 1, 0],
        [2, 1, 2, 1, 4, 3, 1, 0, 2, 1, 1],
        [3, 3, 4, 2, 0, 1, 3, 0, 3, 0, 1],
      ],
    };
    const found = monotone(fitCox(rows, { ties: 'breslow' }));
    expect(found.coefficients.map(({ kind }) => kind)).toEqual(['infinite', 'estimated', 'estimated']);
    // The maximum along the direction, found by another optimiser (scipy, Nelder-Mead and BFGS).
    expect(found.logLikelihood).toBeCloseTo(-3.876873530688, 10);
  });

  it('leaves open what only infinite coefficients told apart', () => {
    const rows = {
      timeDays: [1, 2, 3, 4],
      event: [1, 1, 1, 0],
      covariates: [
        [4, 3, 2, 1],
        [0, 1, 0, 1],
      ],
    };
    const found = monotone(fitCox(rows));
    expect(found.logLikelihood).toBeCloseTo(0, 12);
    expect(found.coefficients[0]).toEqual({ kind: 'infinite', sign: 1 });
  });

  it('is not seen where one event on the other side makes it finite', () => {
    const n = 400;
    const x = Array.from({ length: n }, (_, i) => Number(i >= 200));
    const event = Array.from({ length: n }, (_, i) => Number(i < 199 || i === 399));
    const timeDays = Array.from({ length: n }, (_, i) => 1 + (i % 200));
    expect(fitCox({ timeDays, event, covariates: [x] }).kind).toBe('fitted');
  });

  it('keeps the clusters for what stays finite', () => {
    const rows = {
      timeDays: [1, 2, 3, 4, 5, 6, 7],
      event: [1, 1, 0, 1, 1, 0, 0],
      covariates: [
        [1, 0, 1, 0, 1, 0, 1],
        [0, 0, 0, 0, 0, 1, 1],
      ],
      cluster: [0, 1, 2, 3, 4, 5, 6],
    };
    const found = monotone(fitCox(rows));
    const alone = fitted(
      fitCox({
        timeDays: rows.timeDays.slice(0, 5),
        event: rows.event.slice(0, 5),
        covariates: [rows.covariates[0].slice(0, 5)],
        cluster: [0, 1, 2, 3, 4],
      }),
    );
    expect(found.variance).toBe('robust');
    const [first] = found.coefficients;
    const [same] = alone.coefficients.map((one) => estimated(one));
    if (first.kind !== 'estimated') throw new Error(first.kind);
    expect(first.coefficient).toBeCloseTo(same.coefficient, 10);
    expect(estimated(first.interval).standardError).toBeCloseTo(estimated(same.interval).standardError, 9);
  });
});

describe('what cannot be estimated', () => {
  it('is said', () => {
    const none = { timeDays: [], event: [], covariates: [[]] };
    expect(fitCox(none)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
    expect(fitCox({ ...threeCases, weights: [0, 0, 0] })).toMatchObject({ code: 'noRows' });
    expect(fitCox({ ...threeCases, event: [0, 0, 0] })).toMatchObject({ code: 'noEvents' });
    expect(fitCox({ ...threeCases, event: [0, 0, 1] })).toMatchObject({ code: 'noVariationAtRisk' });
    expect(fitCox({ ...threeCases, covariates: [[2, 2, 2]] })).toMatchObject({ code: 'noVariationAtRisk' });
  });

  it('includes a robust variance from one cluster', () => {
    const fit = fitted(fitCox({ ...threeCases, cluster: [5, 5, 5] }));
    expect(fit.covariance).toMatchObject({ code: 'tooFewClusters' });
    expect(fit.wald).toMatchObject({ code: 'tooFewClusters' });
    expect(estimated(fit.coefficients[0]).interval).toMatchObject({ code: 'tooFewClusters' });
    expect(estimated(fit.coefficients[0]).coefficient).toBeCloseTo(-Math.log(2) / 2, 13);
  });

  it('includes joint tests from no more clusters than coefficients, but not their standard errors', () => {
    const rows = {
      timeDays: [1, 2, 3, 4, 5, 6],
      event: [1, 1, 1, 1, 1, 0],
      covariates: [
        [1, 0, 2, 1, 0, 1],
        [0, 1, 1, 0, 1, 1],
      ],
      cluster: [0, 0, 0, 1, 1, 1],
    };
    const fit = fitted(fitCox(rows));
    expect(fit.wald).toMatchObject({ code: 'tooFewClusters' });
    expect(fit.robustScore).toMatchObject({ code: 'tooFewClusters' });
    expect(estimated(estimated(fit.coefficients[0]).interval).standardError).toBeGreaterThan(0);
  });

  it('includes a robust variance where all scores are zero', () => {
    const pair = { timeDays: [1, 1], event: [1, 1], covariates: [[3, 8]] };
    const fit = fitted(fitCox(pair, { variance: 'robust' }));
    expect(coefficientsOf(fit)[0]).toBeCloseTo(0, 12);
    expect(fit.covariance).toMatchObject({ code: 'tooFewClusters' });
  });
});

it('centres and scales covariates: 1e6 and 1e-5 are no harder than 1', () => {
  const x = [3, 1, 4, 1, 5, 9, 2, 6];
  const rows = { timeDays: [5, 3, 8, 9, 7, 2, 3, 8], event: [1, 1, 0, 1, 1, 0, 1, 1] };
  const [plain] = coefficientsOf(fitted(fitCox({ ...rows, covariates: [x] })));
  const [large] = coefficientsOf(fitted(fitCox({ ...rows, covariates: [x.map((v) => 1e6 + v)] })));
  const [small] = coefficientsOf(fitted(fitCox({ ...rows, covariates: [x.map((v) => v * 1e-5)] })));
  expect(large).toBeCloseTo(plain, 9);
  expect(small * 1e-5).toBeCloseTo(plain, 11);
});

it('refuses mistakes', () => {
  const run = (over: Partial<CoxData>) => () => fitCox({ ...threeCases, ...over });
  expectMistake(run({ covariates: [] }), 'outOfRange', 'covariates');
  expectMistake(
    run({
      covariates: [
        [1, 0, 1],
        [1, 2],
      ],
    }),
    'unequalLengths',
    'covariates[1]',
  );
  expectMistake(run({ covariates: [[1, Number.NaN, 1]] }), 'notFinite', 'covariates[0]', 1);
  const typed = Float64Array.of(1, 0, Number.POSITIVE_INFINITY);
  expectMistake(run({ covariates: [typed] }), 'notFinite', 'covariates[0]', 2);
  expectMistake(run({ timeDays: [1, -2, 3] }), 'negative', 'timeDays', 1);
  expectMistake(run({ event: [1, 2, 0] }), 'unknownCode', 'event', 1);
  expectMistake(run({ entryDays: [0, 2, 0] }), 'entryNotBeforeExit', 'entryDays', 1);
  expectMistake(
    run({ timeDays: [1.5, 2, 3], entryDays: [0, 2 - 1e-12, 0] }),
    'entryNotBeforeExit',
    'entryDays',
    1,
  );
  expectMistake(run({ weights: [1, 1, -1] }), 'negative', 'weights', 2);
  expectMistake(run({ weights: [1, 1] }), 'unequalLengths', 'weights');
  expectMistake(run({ strata: [0, 1.5, 0] }), 'unknownCode', 'strata', 1);
  expectMistake(run({ cluster: [0, -1, 0] }), 'unknownCode', 'cluster', 1);
  expectMistake(run({ offset: [0, 0, Number.POSITIVE_INFINITY] }), 'notFinite', 'offset', 2);
  expectMistake(() => fitCox(threeCases, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
});

describe('the concordance of rows with entries, strata and clusters', () => {
  const rows = { timeDays: [2, 4, 6, 8], event: [1, 1, 1, 0], marker: [1, 3, 2, 2] };

  it('compares an event with those at risk at its time', () => {
    const found = estimated(estimateConcordance({ ...rows, entryDays: [0, 2, 3, 0] }));
    // Day 2 against the last (lower risk foreseen: discordant); day 4 against two; day 6 against an equal one.
    expect(found).toMatchObject({ concordant: 2, discordant: 1, tiedMarker: 1 });
  });

  it('compares within strata only', () => {
    const found = estimated(estimateConcordance({ ...rows, strata: [1, 0, 1, 0] }));
    expect(found).toMatchObject({ concordant: 1, discordant: 1, tiedMarker: 0, concordance: 0.5 });
  });

  it('sums slopes within clusters, where they can cancel', () => {
    const apart = estimated(estimateConcordance({ ...rows, strata: [1, 0, 1, 0] }));
    expect(estimated(apart.interval).standardError).toBeCloseTo(0.5, 14);
    const cluster = [3, 3, 3, 7];
    const found = estimated(estimateConcordance({ ...rows, strata: [1, 0, 1, 0], cluster }));
    expect(estimated(found.interval).standardError).toBeCloseTo(Math.SQRT2 / 4, 14);
    const one = estimated(estimateConcordance({ ...rows, strata: [1, 0, 1, 0], cluster: [1, 1, 1, 1] }));
    expect(one.interval).toMatchObject({ code: 'perfectOrder' });
  });

  it('refuses mistakes in them', () => {
    expectMistake(
      () => estimateConcordance({ ...rows, entryDays: [0, 4, 0, 0] }),
      'entryNotBeforeExit',
      'entryDays',
      1,
    );
    expectMistake(() => estimateConcordance({ ...rows, strata: [0, -1, 0, 0] }), 'unknownCode', 'strata', 1);
    expectMistake(
      () => estimateConcordance({ ...rows, cluster: [0, 0.5, 0, 0] }),
      'unknownCode',
      'cluster',
      1,
    );
  });
});
