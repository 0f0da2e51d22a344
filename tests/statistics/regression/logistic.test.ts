import { describe, expect, it } from 'vitest';
import { estimateCStatistic, fitLogisticRegression, type LogisticFit } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

// Without the mark 1 of 4 have the outcome, with it 3 of 4: log odds -log 3 and log 3.
const marked = [0, 0, 0, 0, 1, 1, 1, 1];
const outcome = [1, 0, 0, 0, 1, 1, 1, 0];
const fitRows = (over: Partial<Parameters<typeof fitLogisticRegression>[0]> = {}): LogisticFit =>
  estimable(fitLogisticRegression({ outcome, covariates: [marked], ...over }));
const coefficient = (found: LogisticFit, j: number): number => estimable(found.terms[j]).coefficient;

describe('by hand', () => {
  const found = fitRows();
  const term = estimable(found.terms[0]);

  it('has the log odds of the unmarked as intercept and the log odds ratio 9 as coefficient', () => {
    expect(found.intercept.coefficient).toBeCloseTo(-Math.log(3), 12);
    expect(term.coefficient).toBeCloseTo(Math.log(9), 12);
    expect(term.oddsRatio).toBeCloseTo(9, 11);
    expect(found.intercept.oddsRatio).toBeCloseTo(1 / 3, 12);
    expect([found.n, found.events, found.estimated]).toEqual([8, 4, [0]]);
  });

  it('has variances 1/1 + 1/3 and twice that, and minus the first as covariance', () => {
    expect(Array.from(found.covariance, (value) => Math.round(value * 3e9) / 1e9)).toEqual([4, -4, -4, 8]);
    const standardError = Math.sqrt(8 / 3);
    expect(term.standardError).toBeCloseTo(standardError, 9);
    expect(term.z).toBeCloseTo(Math.log(9) / standardError, 9);
    expect(term.lower).toBeCloseTo(9 * Math.exp(-1.959963984540054 * standardError), 8);
    expect(term.upper).toBeCloseTo(9 * Math.exp(1.959963984540054 * standardError), 6);
    // 2 (1 - normal probability of 1.345529...), from R's pnorm.
    expect(term.pValue).toBeCloseTo(0.1784574, 6);
    const half = estimable(
      fitLogisticRegression({ outcome, covariates: [marked] }, { confidenceLevel: 0.5 }),
    );
    expect(estimable(half.terms[0]).upper).toBeCloseTo(9 * Math.exp(0.6744897501960817 * standardError), 7);
  });

  it('fits 1/4 and 3/4, and counts the deviance from there', () => {
    expect(Array.from(found.fitted, (p) => p.toFixed(12))).toEqual(
      marked.map((m) => (m ? 0.75 : 0.25).toFixed(12)),
    );
    expect(found.linear[7]).toBeCloseTo(Math.log(3), 12);
    const logLikelihood = 6 * Math.log(3 / 4) + 2 * Math.log(1 / 4);
    expect(found.logLikelihood).toBeCloseTo(logLikelihood, 12);
    expect(found.deviance).toBeCloseTo(-2 * logLikelihood, 12);
    expect(found.nullDeviance).toBeCloseTo(16 * Math.log(2), 12);
    expect(found.aic).toBeCloseTo(4 - 2 * logLikelihood, 12);
  });

  it('without covariates fits the share', () => {
    const alone = fitRows({ covariates: [], outcome: [1, 0, 0, 0, 0, 0, 0, 0] });
    expect(alone.intercept.coefficient).toBeCloseTo(-Math.log(7), 12);
    expect(alone.deviance).toBeCloseTo(alone.nullDeviance, 12);
    expect(alone.terms).toEqual([]);
    expect(alone.aic).toBeCloseTo(alone.deviance + 2, 12);
  });
});

describe('weights and offset', () => {
  it('counts a row of weight 3 as three rows, and one of weight 0 not at all', () => {
    const rows = { outcome: [1, 0, 1, 0, 1], covariates: [[0, 0, 1, 1, 1]], weights: [1, 3, 3, 1, 0] };
    const weighted = estimable(fitLogisticRegression(rows));
    expect(coefficient(weighted, 0)).toBeCloseTo(Math.log(9), 11);
    expect(weighted.deviance).toBeCloseTo(fitRows().deviance, 11);
    expect(weighted.nullDeviance).toBeCloseTo(fitRows().nullDeviance, 11);
    expect([weighted.n, weighted.events]).toEqual([4, 2]);
    expect(weighted.fitted[4]).toBeCloseTo(0.75, 11);
  });

  it('takes a constant offset out of the intercept, and one that follows a covariate out of its coefficient', () => {
    const constant = fitRows({ offset: outcome.map(() => 2) });
    expect(constant.intercept.coefficient).toBeCloseTo(-Math.log(3) - 2, 11);
    expect(constant.nullDeviance).toBeCloseTo(16 * Math.log(2), 10);
    const along = fitRows({ offset: marked });
    expect(coefficient(along, 0)).toBeCloseTo(Math.log(9) - 1, 11);
    expect(along.nullDeviance).toBeGreaterThan(along.deviance);
  });

  it('keeps both tails: rows with log odds of -800 and 800 as they should be cost nothing', () => {
    const rows = { outcome: [...outcome, 0, 1], covariates: [[...marked, 0, 1]] };
    const offset = [...outcome.map(() => 0), -800, 800];
    const found = estimable(fitLogisticRegression({ ...rows, offset }));
    expect(coefficient(found, 0)).toBeCloseTo(Math.log(9), 11);
    const weighted = estimable(fitLogisticRegression({ ...rows, offset, weights: offset.map(() => 1) }));
    expect(weighted.deviance).toBeCloseTo(found.deviance, 11);
  });

  it('charges a row on the wrong side what it costs, with weights and without', () => {
    const rows = { outcome: [...outcome, 1], covariates: [[...marked, 0]] };
    const offset = [...outcome.map(() => 0), -300];
    const found = estimable(fitLogisticRegression({ ...rows, offset }));
    expect(found.deviance).toBeGreaterThan(500);
    const weighted = estimable(fitLogisticRegression({ ...rows, offset, weights: offset.map(() => 1) }));
    expect(weighted.deviance).toBeCloseTo(found.deviance, 8);
    expect(found.deviance).toBeCloseTo(
      -2 *
        Array.from(found.linear).reduce(
          (sum, value, i) => sum - Math.log1p(Math.exp(rows.outcome[i] === 1 ? -value : value)),
          0,
        ),
      8,
    );
  });
});

describe('what cannot be estimated', () => {
  const codeOf = (data: Parameters<typeof fitLogisticRegression>[0]): unknown => {
    const found = fitLogisticRegression(data);
    return found.kind === 'notEstimable' ? found.code : found.kind;
  };

  it('is the fit of outcomes that a covariate separates, with a row on the border or without', () => {
    expect(codeOf({ outcome: [0, 0, 1, 1], covariates: [[1, 2, 3, 4]] })).toBe('separation');
    expect(codeOf({ outcome: [0, 0, 0, 1, 1], covariates: [[1, 2, 3, 3, 4]] })).toBe('separation');
    expect(codeOf({ outcome: [0, 1, 0, 1, 1], covariates: [[1, 2, 3, 3, 4]] })).toBe('fitted');
    expect(codeOf({ outcome: [1, 1, 0, 0], covariates: [[1e6, 1e6 + 1, 1e6 + 2, 1e6 + 3]] })).toBe(
      'separation',
    );
  });

  it('is a fit in which all of one category have the outcome', () => {
    const third = [0, 1, 1, 0, 0, 0, 0, 0];
    expect(codeOf({ outcome: [1, 1, 1, 0, 1, 0, 0, 1], covariates: [marked, third] })).toBe('separation');
    // One of them at weight 0 takes no part; one more without the outcome ends it.
    expect(codeOf({ outcome: [1, 1, 0, 0, 1, 0, 0, 1], covariates: [marked, third] })).toBe('fitted');
    const weights = [1, 1, 0, 1, 1, 1, 1, 1];
    expect(codeOf({ outcome: [1, 1, 0, 0, 1, 0, 0, 1], covariates: [marked, third], weights })).toBe(
      'separation',
    );
  });

  it('is a fit with one outcome, or without rows', () => {
    expect(codeOf({ outcome: [1, 1], covariates: [[1, 2]] })).toBe('oneOutcome');
    expect(codeOf({ outcome: [0, 0], covariates: [] })).toBe('oneOutcome');
    expect(codeOf({ outcome: [0, 1, 1], covariates: [], weights: [0, 1, 2] })).toBe('oneOutcome');
    expect(codeOf({ outcome: [], covariates: [[]] })).toBe('noRows');
    expect(codeOf({ outcome: [0, 1], covariates: [], weights: [0, 0] })).toBe('noRows');
  });

  it('is a fit that offsets put out of reach of any number', () => {
    expect(
      codeOf({ outcome: [0, 1, 0, 1], covariates: [[1, 2, 3, 3]], offset: [1e6, -1e6, 2e6, -5e6] }),
    ).toBe('noConvergence');
  });

  it('is a covariate that is constant or follows from those before it; the others stay as they are', () => {
    const other = [3, 1, 4, 1, 5, 9, 2, 6];
    const sum = other.map((value, i) => 2 * value - marked[i] + 7);
    const all = fitRows({ covariates: [outcome.map(() => 5), marked, other, sum] });
    const two = fitRows({ covariates: [marked, other] });
    expect(all.terms.map((term) => (term.kind === 'notEstimable' ? term.code : term.kind))).toEqual([
      'collinear',
      'estimated',
      'estimated',
      'collinear',
    ]);
    expect(all.estimated).toEqual([1, 2]);
    expect([all.terms[1], all.terms[2]]).toEqual(two.terms);
    expect([all.aic, all.covariance]).toEqual([two.aic, two.covariance]);
  });

  it('is a covariate that differs only in a row of weight 0', () => {
    const found = fitRows({
      outcome: [...outcome, 1],
      covariates: [
        [...marked, 1],
        [1, 1, 1, 1, 1, 1, 1, 1, 2],
      ],
      weights: [1, 1, 1, 1, 1, 1, 1, 1, 0],
    });
    expect(found.terms[1]).toMatchObject({ code: 'collinear' });
  });
});

it('comes to the same answer from a first fit to some of many rows as from all of them', () => {
  // Each pattern 10,000 times over: the answer is that of the eight rows.
  const rows = 80_000;
  const repeat = (column: readonly number[]): Float64Array =>
    Float64Array.from({ length: rows }, (_, i) => column[(i * 3) % 8]);
  const many = estimable(fitLogisticRegression({ outcome: repeat(outcome), covariates: [repeat(marked)] }));
  expect(estimable(many.terms[0]).coefficient).toBeCloseTo(Math.log(9), 10);
  expect(many.deviance / fitRows().deviance).toBeCloseTo(10_000, 6);
  expect(estimable(many.terms[0]).standardError).toBeCloseTo(Math.sqrt(8 / 3) / 100, 9);
});

it('refuses mistakes', () => {
  const run = (over: Partial<Parameters<typeof fitLogisticRegression>[0]>) => () => fitRows(over);
  expectMistake(run({ covariates: [marked, [1]] }), 'unequalLengths', 'covariates[1]');
  expectMistake(run({ covariates: [[0, 0, 0, 0, 1, 1, Number.NaN, 1]] }), 'notFinite', 'covariates[0]', 6);
  expectMistake(run({ outcome: [1, 0, 0, 0, 1, 1, 2, 0] }), 'unknownCode', 'outcome', 6);
  expectMistake(run({ weights: [1, 1, 1, 1, 1, -1, 1, 1] }), 'negative', 'weights', 5);
  expectMistake(run({ weights: [1] }), 'unequalLengths', 'weights');
  expectMistake(run({ offset: [1, Number.POSITIVE_INFINITY, 1, 1, 1, 1, 1, 1] }), 'notFinite', 'offset', 1);
  expectMistake(run({ offset: [] }), 'unequalLengths', 'offset');
  const level = () => fitLogisticRegression({ outcome, covariates: [] }, { confidenceLevel: 0 });
  expectMistake(level, 'outOfRange', 'confidenceLevel');
});

describe('the C statistic', () => {
  it('is the share of pairs of one with and one without the outcome that the marker orders rightly', () => {
    // Markers 2, 3 with, 1, 2, 4 without: of six pairs 2-1, 3-1, 3-2 are right, 2-2 half.
    const found = estimable(estimateCStatistic({ outcome: [0, 1, 1, 0, 0], marker: [1, 2, 3, 2, 4] }));
    expect(found.cStatistic).toBeCloseTo(3.5 / 6, 15);
    expect(estimable(found.interval).upper).toBeLessThanOrEqual(1);
  });

  it('counts pairs with the product of their weights', () => {
    const data = { outcome: [0, 1, 1], marker: [2, 1, 3], weights: [2, 5, 1] };
    expect(estimateCStatistic(data)).toMatchObject({ cStatistic: 1 / 6 });
  });

  it('is not estimable with one outcome, and has no interval when all pairs are ordered alike', () => {
    expect(estimateCStatistic({ outcome: [1, 1], marker: [1, 2] })).toMatchObject({ code: 'oneOutcome' });
    const perfect = estimable(estimateCStatistic({ outcome: [0, 1], marker: [1, 2] }));
    expect(perfect).toMatchObject({ cStatistic: 1, interval: { code: 'perfectOrder' } });
  });

  it('refuses mistakes', () => {
    expectMistake(() => estimateCStatistic({ outcome: [0, 2], marker: [1, 2] }), 'unknownCode', 'outcome', 1);
    expectMistake(() => estimateCStatistic({ outcome: [0, 1], marker: [1] }), 'unequalLengths', 'marker');
    const level = () => estimateCStatistic({ outcome: [0, 1], marker: [1, 2] }, { confidenceLevel: 2 });
    expectMistake(level, 'outOfRange', 'confidenceLevel');
  });
});
