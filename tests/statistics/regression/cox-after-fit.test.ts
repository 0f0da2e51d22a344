import { describe, expect, it } from 'vitest';
import {
  type CoxData,
  deriveMartingaleResiduals,
  deriveSchoenfeldResiduals,
  estimateAdjustedCoxCurve,
  estimateCoxCurve,
  fitCox,
  type TimeTransform,
  testProportionalHazards,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from '../survival/estimated';
import { fitted, ROOT, threeCases } from './three-cases';

const fit = fitted(fitCox(threeCases));
const close = (got: ArrayLike<number>, expected: readonly number[], digits = 12): void => {
  expect(got).toHaveLength(expected.length);
  expected.forEach((value, i) => {
    expect(got[i]).toBeCloseTo(value, digits);
  });
};

/** Ties, weights, strata and an offset; the third covariate repeats the first. */
const many: CoxData = {
  timeDays: [4, 4, 2, 7, 7, 9, 3, 5, 5, 8],
  event: [1, 1, 1, 0, 1, 0, 1, 1, 1, 0],
  covariates: [
    [1, 0, 3, 2, 1, 0, 2, 5, 1, 0],
    [0, 1, 1, 0, 1, 0, 1, 0, 1, 1],
    [3, 1, 7, 5, 3, 1, 5, 11, 3, 1],
  ],
  weights: [1, 2, 1, 3, 1, 1, 2, 1, 2, 1],
  strata: [6, 6, 6, 6, 6, 2, 2, 2, 2, 2],
  offset: [0.5, 0, 0, -0.5, 0, 0.2, 0, 0, 0, 0],
};

describe('the curve of a covariate pattern', () => {
  it('has the steps root 2 - 1 and 2 - root 2 at baseline, 0 before', () => {
    const curve = estimated(estimateCoxCurve(threeCases, fit, { covariates: [0] })[0]);
    close(curve.timeDays, [1, 2]);
    close(curve.cumulativeHazard, [ROOT - 1, 1]);
    close(curve.survival, [Math.exp(1 - ROOT), Math.exp(-1)]);
    expect(curve.stratum).toBe(0);
  });

  it('is multiplied by exp(b x + offset)', () => {
    const curve = estimated(estimateCoxCurve(threeCases, fit, { covariates: [1], offset: Math.log(3) })[0]);
    close(curve.cumulativeHazard, [(3 * (ROOT - 1)) / ROOT, 3 / ROOT]);
  });

  it('has the variance of its steps and of the coefficient', () => {
    const curve = estimated(estimateCoxCurve(threeCases, fit, { covariates: [0] })[0]);
    const interval = estimated(curve.interval);
    // Squares of the steps, and the sums of the mean covariate times the step: squared, times the variance.
    const slope = [(2 - ROOT) * (ROOT - 1), 2 * (2 - ROOT) * (ROOT - 1)];
    const own = [(ROOT - 1) ** 2, (ROOT - 1) ** 2 + (2 - ROOT) ** 2];
    const error = own.map((value, t) => Math.sqrt(value + slope[t] ** 2 / (6 * ROOT - 8)));
    close(interval.standardError, error);
    close(interval.lower, [
      Math.exp(-(ROOT - 1) * Math.exp((1.959963984540054 * error[0]) / (ROOT - 1))),
      Math.exp(-Math.exp(1.959963984540054 * error[1])),
    ]);
    close(interval.upper, [
      Math.exp(-(ROOT - 1) * Math.exp((-1.959963984540054 * error[0]) / (ROOT - 1))),
      Math.exp(-Math.exp(-1.959963984540054 * error[1])),
    ]);
    const half = estimated(
      estimateCoxCurve(threeCases, fit, { covariates: [0] }, { confidenceLevel: 0.5 })[0],
    );
    expect(estimated(half.interval).upper[1]).toBeCloseTo(
      Math.exp(-Math.exp(-0.6744897501960817 * error[1])),
      12,
    );
  });

  it('is one per stratum, in order of codes, without times where there are no events', () => {
    const data = { ...threeCases, timeDays: [1, 2, 3, 2, 5], event: [1, 1, 0, 0, 0] };
    const rows = { ...data, covariates: [[1, 0, 1, 1, 0]], strata: [8, 8, 8, 3, 3] };
    const curves = estimateCoxCurve(rows, fitted(fitCox(rows)), { covariates: [0] }).map((one) =>
      estimated(one),
    );
    expect(curves.map(({ stratum }) => stratum)).toEqual([3, 8]);
    expect(curves[0].timeDays).toHaveLength(0);
    close(curves[1].cumulativeHazard, [ROOT - 1, 1]);
  });

  it('has no interval where the fit has no covariance, and none at all beyond what numbers can hold', () => {
    const clustered = { ...threeCases, cluster: [1, 1, 1] };
    const [curve] = estimateCoxCurve(clustered, fitted(fitCox(clustered)), { covariates: [0] });
    expect(estimated(curve).interval).toMatchObject({ code: 'tooFewClusters' });
    expect(estimateCoxCurve(threeCases, fit, { covariates: [-1e6] })[0]).toMatchObject({
      code: 'farFromData',
    });
    expect(estimateCoxCurve(threeCases, fit, { covariates: [1e6] })[0]).toMatchObject({
      code: 'farFromData',
    });
  });

  it('takes a covariate without a coefficient for what it repeats', () => {
    const found = fitted(fitCox(many));
    expect(found.estimated).toEqual([0, 1]);
    const [first] = estimateCoxCurve(many, found, { covariates: [2, 1, 5] });
    const [second] = estimateCoxCurve(many, found, { covariates: [2, 1, -999] });
    expect(first).toEqual(second);
  });

  it('refuses mistakes', () => {
    const run = (pattern: { covariates: number[]; offset?: number }) => () =>
      estimateCoxCurve(threeCases, fit, pattern);
    expectMistake(run({ covariates: [] }), 'unequalLengths', 'pattern.covariates');
    expectMistake(run({ covariates: [Number.NaN] }), 'notFinite', 'pattern.covariates', 0);
    expectMistake(run({ covariates: [0], offset: Number.NaN }), 'notFinite', 'pattern.offset', 0);
    expectMistake(
      () => estimateCoxCurve(threeCases, fit, { covariates: [0] }, { confidenceLevel: 0 }),
      'outOfRange',
      'confidenceLevel',
    );
  });
});

describe('a fit of other data', () => {
  const uses = [
    (data: CoxData) => estimateCoxCurve(data, fit, { covariates: data.covariates.map(() => 0) }),
    (data: CoxData) => estimateAdjustedCoxCurve(data, fit),
    (data: CoxData) => testProportionalHazards(data, fit),
    (data: CoxData) => deriveSchoenfeldResiduals(data, fit),
    (data: CoxData) => deriveMartingaleResiduals(data, fit),
  ];

  it.each([
    [
      'covariates',
      {
        ...threeCases,
        covariates: [
          [1, 0, 1],
          [0, 1, 1],
        ],
      },
    ],
    ['cases', { ...threeCases, weights: [1, 1, 0] }],
    ['events', { ...threeCases, event: [1, 1, 1] }],
  ])('is refused: other %s', (_, data) => {
    for (const use of uses) expectMistake(() => use(data), 'outOfRange', 'fit');
  });

  it('is found among columns that are checked again', () => {
    for (const use of uses)
      expectMistake(() => use({ ...threeCases, timeDays: [1, 2, -3] }), 'negative', 'timeDays', 2);
  });
});

describe('the adjusted curve', () => {
  it('is the mean of the curves of all rows, not the curve of the mean row', () => {
    const curve = estimated(estimateAdjustedCoxCurve(threeCases, fit)[0]);
    close(curve.timeDays, [1, 2]);
    const survival = (hazard: number): number => (2 * Math.exp(-hazard / ROOT) + Math.exp(-hazard)) / 3;
    close(curve.survival, [survival(ROOT - 1), survival(1)]);
  });

  it('gives every row the fixed values', () => {
    const curve = estimated(estimateAdjustedCoxCurve(threeCases, fit, [{ covariate: 0, value: 1 }])[0]);
    const alone = estimated(estimateCoxCurve(threeCases, fit, { covariates: [1] })[0]);
    close(curve.survival, Array.from(alone.survival), 14);
  });

  it('weighs rows, keeps offsets, and puts everybody into each stratum in turn', () => {
    const found = fitted(fitCox(many));
    const curves = estimateAdjustedCoxCurve(many, found, [{ covariate: 1, value: 1 }]).map((one) =>
      estimated(one),
    );
    expect(curves.map(({ stratum }) => stratum)).toEqual([2, 6]);
    const { weights, offset, covariates } = many;
    if (!weights || !offset) throw new Error('weights and offset');
    for (const [s, curve] of curves.entries()) {
      const mean = new Float64Array(curve.timeDays.length);
      for (let i = 0; i < 10; i += 1) {
        const pattern = { covariates: [covariates[0][i], 1, 0], offset: offset[i] };
        const alone = estimated(estimateCoxCurve(many, found, pattern)[s]);
        for (let t = 0; t < mean.length; t += 1) mean[t] += (weights[i] * alone.survival[t]) / 15;
      }
      close(curve.survival, Array.from(mean), 13);
    }
  });

  it('leaves out rows of weight 0, and is no curve beyond what numbers can hold', () => {
    const rows = { ...threeCases, timeDays: [1, 2, 3, 3], event: [1, 1, 0, 0], covariates: [[1, 0, 1, 900]] };
    const [curve] = estimateAdjustedCoxCurve({ ...rows, weights: [1, 1, 1, 0] }, fit);
    const [same] = estimateAdjustedCoxCurve(threeCases, fit);
    close(estimated(curve).survival, Array.from(estimated(same).survival));
    const [far] = estimateAdjustedCoxCurve(threeCases, fit, [{ covariate: 0, value: -1e6 }]);
    expect(far).toMatchObject({ code: 'farFromData' });
  });

  it('refuses mistakes', () => {
    const run =
      (covariate: number, value = 0) =>
      () =>
        estimateAdjustedCoxCurve(threeCases, fit, [
          { covariate: 0, value: 0 },
          { covariate, value },
        ]);
    expectMistake(run(1), 'outOfRange', 'fixed', 1);
    expectMistake(run(-1), 'outOfRange', 'fixed', 1);
    expectMistake(run(0.5), 'outOfRange', 'fixed', 1);
    expectMistake(run(0, Number.NaN), 'notFinite', 'fixed', 1);
  });
});

describe('Schoenfeld residuals', () => {
  it('are root 2 - 1 and 1 - root 2', () => {
    const { rows, timeDays, residuals } = deriveSchoenfeldResiduals(threeCases, fit);
    expect(Array.from(rows)).toEqual([0, 1]);
    expect(Array.from(timeDays)).toEqual([1, 2]);
    close(residuals, [ROOT - 1, 1 - ROOT]);
  });

  it('come by stratum, time and row, a column per estimated covariate, and sum to 0 when weighted', () => {
    const { rows, timeDays, residuals } = deriveSchoenfeldResiduals(many, fitted(fitCox(many)));
    expect(Array.from(rows)).toEqual([6, 7, 8, 2, 0, 1, 4]);
    expect(Array.from(timeDays)).toEqual([3, 5, 5, 2, 4, 4, 7]);
    expect(residuals).toHaveLength(14);
    for (const j of [0, 1])
      expect(
        Array.from(rows).reduce((sum, row, k) => sum + (many.weights?.[row] ?? 0) * residuals[2 * k + j], 0),
      ).toBeCloseTo(0, 12);
    // Tied events share a mean: their residuals differ as their covariates do.
    expect(residuals[2] - residuals[4]).toBeCloseTo(5 - 1, 12);
  });
});

describe('martingale residuals', () => {
  it('are 1/root 2, 0 and -1/root 2', () => {
    close(deriveMartingaleResiduals(threeCases, fit), [1 / ROOT, 0, -1 / ROOT]);
  });

  it('are in the order of the rows, 0 for those at risk at no event or of weight 0', () => {
    const rows = {
      timeDays: [9, 1, 0.5, 2, 3, 2],
      event: [0, 1, 0, 1, 0, 1],
      covariates: [[5, 1, 4, 0, 1, 7]],
      entryDays: [3, 0, 0, 0, 0, 0],
      weights: [1, 1, 1, 1, 1, 0],
    };
    close(deriveMartingaleResiduals(rows, fitted(fitCox(rows))), [0, 1 / ROOT, 0, 0, -1 / ROOT, 0]);
  });

  it('count tied events at the reduced steps of Efron: at b = 0, 5/6, 5/12 and so on', () => {
    // Therneau, Software validation, data 1 at b = 0: 5/6, -1/6, 5/12, 5/12, -3/4, -3/4.
    const rows = {
      timeDays: [1, 1, 6, 6, 8, 9],
      event: [1, 0, 1, 1, 0, 1],
      covariates: [[1, 1, 1, 0, 0, 0]],
    };
    const zero = {
      ...fitted(fitCox(rows)),
      coefficients: [
        {
          kind: 'estimated',
          coefficient: 0,
          hazardRatio: 1,
          interval: { kind: 'notEstimable', code: 'noEvents', reason: '' },
        },
      ],
    } as const;
    close(deriveMartingaleResiduals(rows, zero), [5 / 6, -1 / 6, 5 / 12, 5 / 12, -3 / 4, -3 / 4], 13);
  });
});

describe('the test of proportional hazards', () => {
  it.each<TimeTransform>(['km', 'rank', 'identity', 'log'])(
    'is root 2 on two events, where all transforms are one (%s)',
    (transform) => {
      const test = testProportionalHazards(threeCases, fit, { transform });
      expect(test.transform).toBe(transform);
      const [found] = test.covariates.map((one) => estimated(one));
      expect(found.chiSquare).toBeCloseTo(ROOT, 11);
      expect(found.degreesOfFreedom).toBe(1);
      expect(estimated(test.global)).toMatchObject({ degreesOfFreedom: 1 });
      expect(estimated(test.global).chiSquare).toBeCloseTo(ROOT, 11);
    },
  );

  it('transforms by 1 - S(t-) unless told otherwise', () => {
    const found = fitted(fitCox(many));
    expect(testProportionalHazards(many, found)).toEqual(
      testProportionalHazards(many, found, { transform: 'km' }),
    );
  });

  it('takes the curve and the ranks of all rows, unweighted and whatever the strata', () => {
    const found = fitted(fitCox(many));
    const [km, rank, identity] = (['km', 'rank', 'identity'] as const).map(
      (transform) => estimated(testProportionalHazards(many, found, { transform }).covariates[0]).chiSquare,
    );
    // Times moved to where the transform puts them must give the same test as the times themselves.
    const steps = [1, 9 / 10, 8 / 10, 6 / 10, 4 / 10];
    const toCurve = new Map([
      [2, 0],
      [3, 1 - steps[1]],
      [4, 1 - steps[2]],
      [5, 1 - steps[3]],
      [7, 1 - steps[4]],
      [8, 0.61],
      [9, 0.62],
    ]);
    const toRank = new Map([
      [2, 1],
      [3, 2],
      [4, 3.5],
      [5, 5.5],
      [7, 7.5],
      [8, 9],
      [9, 10],
    ]);
    const moved = (map: ReadonlyMap<number, number>): CoxData => ({
      ...many,
      timeDays: Array.from(many.timeDays, (time) => map.get(time) ?? -1),
    });
    const identityOf = (data: CoxData): number =>
      estimated(testProportionalHazards(data, found, { transform: 'identity' }).covariates[0]).chiSquare;
    expect(identityOf(moved(toCurve))).toBeCloseTo(km, 10);
    expect(identityOf(moved(toRank))).toBeCloseTo(rank, 10);
    expect(Math.abs(identity - km)).toBeGreaterThan(1e-4);
  });

  it('has no row for a covariate without a coefficient, and counts the others', () => {
    const { covariates, global } = testProportionalHazards(many, fitted(fitCox(many)));
    expect(covariates.map(({ kind }) => kind)).toEqual(['tested', 'tested', 'notEstimable']);
    expect(covariates[2]).toMatchObject({ code: 'collinear' });
    expect(estimated(global).degreesOfFreedom).toBe(2);
  });

  it('is not estimable with events at one time, or by the logarithm of time 0', () => {
    const once = { timeDays: [2, 2, 2, 3], event: [1, 1, 0, 0], covariates: [[1, 0, 1, 0]] };
    const { covariates, global } = testProportionalHazards(once, fitted(fitCox(once)));
    expect([covariates[0], global].map((one) => ('code' in one ? one.code : ''))).toEqual([
      'noTimeVariation',
      'noTimeVariation',
    ]);
    const early = { ...threeCases, timeDays: [0, 2, 3] };
    const found = fitted(fitCox(early));
    const log = testProportionalHazards(early, found, { transform: 'log' });
    expect([log.covariates[0], log.global].map((one) => ('code' in one ? one.code : ''))).toEqual([
      'eventAtTimeZero',
      'eventAtTimeZero',
    ]);
    expect(
      estimated(testProportionalHazards(early, found, { transform: 'identity' }).global).chiSquare,
    ).toBeCloseTo(ROOT, 11);
  });

  it('leaves out rows of weight 0', () => {
    const rows = {
      timeDays: [1, 2, 3, 0.2, 1.5],
      event: [1, 1, 0, 1, 0],
      covariates: [[1, 0, 1, 8, 9]],
      weights: [1, 1, 1, 0, 0],
    };
    const found = fitted(fitCox(rows));
    for (const transform of ['km', 'rank'] as const)
      expect(estimated(testProportionalHazards(rows, found, { transform }).global).chiSquare).toBeCloseTo(
        ROOT,
        11,
      );
  });
});
