import { describe, expect, it } from 'vitest';
import {
  deriveFineGrayIncidence,
  type FineGrayData,
  type FineGrayFit,
  type FineGrayOptions,
  fitFineGray,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

function fitted(data: FineGrayData, options: FineGrayOptions = {}): FineGrayFit {
  const fit = estimable(fitFineGray(data, options));
  if (fit.kind === 'monotone') throw new Error(fit.reason);
  return fit;
}

const onlyCoefficient = (fit: FineGrayFit) => estimable(fit.coefficients[0]);

describe('by hand', () => {
  // x = 1: cause 1 on day 1, cause 2 on day 2. x = 0: censored on day 3, cause 1 on day 4.
  const data = { timeDays: [1, 2, 3, 4], status: [1, 2, 0, 1], covariates: [[1, 1, 0, 0]] };
  const fit = fitted(data);
  const ratio = Math.SQRT2;
  const hazards = [1 / (2 + 2 * ratio), 1 / (1 + ratio / 2)];
  const means = [ratio / (1 + ratio), ratio / (2 + ratio)];

  it('keeps who had another cause at stake with G(4-)/G(2-) = 1/2: the ratio is root 2', () => {
    const { coefficient, hazardRatio } = onlyCoefficient(fit);
    expect(hazardRatio).toBeCloseTo(ratio, 12);
    expect(coefficient).toBeCloseTo(Math.log(2) / 2, 12);
    expect({ n: fit.n, eventTotal: fit.eventTotal, cause: fit.cause }).toEqual({
      n: 4,
      eventTotal: 2,
      cause: 1,
    });
    expect(fit.logLikelihood).toBeCloseTo(
      Math.log(ratio) - Math.log(2 + 2 * ratio) - Math.log(1 + ratio / 2),
      13,
    );
    expect(fit.nullLogLikelihood).toBeCloseTo(-Math.log(4) - Math.log(1.5), 13);
  });

  it('has the variance of scores that know of the estimated censoring', () => {
    const [first, last] = [0, 1].map((j) => (1 - means[j]) * hazards[j]);
    const owed = (ratio / 2) * last;
    const scores = [
      1 - means[0] - ratio * first,
      -ratio * (first + last / 2),
      means[0] * hazards[0] + owed / 4,
      -means[1] + means[0] * hazards[0] + means[1] * hazards[1] - owed / 4,
    ];
    const information = ratio / (1 + ratio) ** 2 + (2 * ratio) / (2 + ratio) ** 2;
    const variance = scores.reduce((sum, score) => sum + score * score, 0) / information ** 2;
    expect(fit.covariance[0]).toBeCloseTo(variance, 12);
    const { interval, coefficient } = onlyCoefficient(fit);
    const { standardError, z, lower, upper } = estimable(interval);
    expect(standardError).toBeCloseTo(Math.sqrt(variance), 12);
    expect(z).toBeCloseTo(coefficient / Math.sqrt(variance), 12);
    expect(Math.log(upper / lower)).toBeCloseTo(2 * 1.959963984540054 * Math.sqrt(variance), 12);
    expect(estimable(fit.wald).chiSquare).toBeCloseTo(z * z, 10);
  });

  it('predicts the incidence of a case: 1 - exp(-H) at x = 0, with H times root 2 at x = 1', () => {
    const [before, first, still, last, later] = deriveFineGrayIncidence(fit, [0], [0.5, 1, 3, 4, 9]);
    expect(before).toBe(0);
    expect(first).toBeCloseTo(1 - Math.exp(-hazards[0]), 13);
    expect(still).toBe(first);
    expect(last).toBeCloseTo(1 - Math.exp(-hazards[0] - hazards[1]), 13);
    expect(later).toBe(last);
    const [other] = deriveFineGrayIncidence(fit, [1], [4]);
    expect(other).toBeCloseTo(1 - Math.exp(-ratio * (hazards[0] + hazards[1])), 12);
  });

  it('takes the level asked for', () => {
    const { interval } = onlyCoefficient(fitted(data, { confidenceLevel: 0.8 }));
    const { lower, upper, standardError } = estimable(interval);
    expect(Math.log(upper / lower)).toBeCloseTo(2 * 1.2815515655446004 * standardError, 12);
  });
});

it('counts failures at the time of a censoring as at risk of it, or as gone before it when asked to', () => {
  // Day 3: one censored, one of cause 1, one of cause 2, one later. G falls by 1/4, or by 1/2.
  const data = {
    timeDays: [1, 3, 3, 3, 4, 4],
    status: [2, 0, 1, 2, 1, 0],
    covariates: [[1, 0, 1, 0, 0, 1]],
  };
  // Day 3: x = 1 twice (one with another cause, weight 1) and the third at day 4: S0 = 3 + 3r. Day 4: 1 + r, and with
  // weight g one of each: (1 + g)(1 + r). Their means are equal, so that g cannot be seen in the ratio here.
  const stays = fitted(data);
  const leaves = fitted(data, { tiedFailures: 'gone' });
  const weights = [stays, leaves].map((fit) => {
    const { cumulativeHazard, centre } = fit.baseline;
    const jump = cumulativeHazard[1] - cumulativeHazard[0];
    const { coefficient } = onlyCoefficient(fit);
    const there = Math.exp(coefficient * (1 - centre[0])) + Math.exp(-coefficient * centre[0]);
    return 1 / jump / there - 1;
  });
  expect(weights[0]).toBeCloseTo(4 / 5, 10);
  expect(weights[1]).toBeCloseTo(2 / 3, 10);
});

it('models the cause asked for, other causes together', () => {
  const data = { timeDays: [1, 2, 3, 4, 5, 6], covariates: [[1, 0, 1, 0, 1, 0]] };
  const third = fitted({ ...data, status: [3, 1, 3, 3, 2, 0] }, { cause: 3 });
  const renamed = fitted({ ...data, status: [1, 2, 1, 1, 2, 0] });
  expect(third.covariance).toEqual(renamed.covariance);
  expect(third.cause).toBe(3);
});

describe('not estimable', () => {
  const data = { timeDays: [1, 2, 3, 4], status: [1, 2, 0, 1], covariates: [[1, 1, 0, 0]] };

  it('without rows, events of the cause or variation', () => {
    expect(fitFineGray({ timeDays: [], status: [], covariates: [[]] })).toMatchObject({ code: 'noRows' });
    expect(fitFineGray(data, { cause: 3 })).toMatchObject({ code: 'noEvents' });
    expect(fitFineGray({ ...data, covariates: [[2, 2, 2, 2]] })).toMatchObject({ code: 'noVariationAtRisk' });
  });

  it('for a covariate that others say already; the rest stands', () => {
    const fit = fitted({
      ...data,
      covariates: [
        [1, 1, 0, 0],
        [3, 3, 1, 1],
      ],
    });
    expect(fit.coefficients[1]).toMatchObject({ kind: 'notEstimable', code: 'collinear' });
    expect(onlyCoefficient(fit).hazardRatio).toBeCloseTo(Math.SQRT2, 12);
    expect(fit.estimated).toEqual([0]);
    expect(deriveFineGrayIncidence(fit, [0, 77], [4])).toEqual(
      deriveFineGrayIncidence(fitted(data), [0], [4]),
    );
  });

  it('when the likelihood rises for ever: a sign, no number', () => {
    const fit = fitFineGray({ ...data, status: [1, 2, 0, 2] });
    expect(fit).toMatchObject({ kind: 'monotone', coefficients: [{ kind: 'infinite', sign: 1 }] });
    const turned = fitFineGray({ ...data, status: [1, 2, 0, 2], covariates: [[0, 0, 1, 1]] });
    expect(turned).toMatchObject({ kind: 'monotone', coefficients: [{ kind: 'infinite', sign: -1 }] });
    const two = fitFineGray({
      timeDays: [1, 2, 3, 4, 5, 6],
      status: [1, 1, 1, 2, 0, 2],
      covariates: [
        [1, 1, 1, 0, 0, 0],
        [1, 0, 1, 0, 1, 0],
      ],
    });
    expect(two).toMatchObject({
      kind: 'monotone',
      coefficients: [{ kind: 'infinite' }, { kind: 'notEstimable', code: 'monotoneLikelihood' }],
    });
  });
});

it('refuses bad columns, causes, levels and predictions', () => {
  const data = { timeDays: [1, 2, 3, 4], status: [1, 2, 0, 1], covariates: [[1, 1, 0, 0]] };
  expectMistake(() => fitFineGray({ ...data, covariates: [[1, 1, 0]] }), 'unequalLengths', 'covariates[0]');
  expectMistake(
    () =>
      fitFineGray({
        ...data,
        covariates: [
          [1, 1, 0, 0],
          [1, Number.NaN, 0, 0],
        ],
      }),
    'notFinite',
    'covariates[1]',
    1,
  );
  expectMistake(() => fitFineGray({ ...data, timeDays: [1, -2, 3, 4] }), 'negative', 'timeDays', 1);
  expectMistake(() => fitFineGray({ ...data, status: [1, 1.5, 0, 1] }), 'unknownCode', 'status', 1);
  expectMistake(() => fitFineGray({ ...data, status: [1, 2, 0] }), 'unequalLengths', 'status');
  expectMistake(() => fitFineGray(data, { cause: 0 }), 'unknownCode', 'cause');
  expectMistake(() => fitFineGray(data, { cause: 1.5 }), 'unknownCode', 'cause');
  expectMistake(() => fitFineGray(data, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
  const fit = fitted(data);
  expectMistake(() => deriveFineGrayIncidence(fit, [1, 2], [1]), 'unequalLengths', 'covariates');
  expectMistake(() => deriveFineGrayIncidence(fit, [Number.NaN], [1]), 'notFinite', 'covariates', 0);
  expectMistake(() => deriveFineGrayIncidence(fit, [1], [-1]), 'negative', 'times', 0);
});
