import { describe, expect, it } from 'vitest';
import { fitCoxByGroup, type GroupedCoxData, type GroupedCoxOptions } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from '../survival/estimated';
import { coefficientsOf, fitted, monotone, ROOT } from './three-cases';

const three = { timeDays: [1, 2, 3], event: [1, 1, 0], group: [1, 0, 1] };

describe('three cases by hand', () => {
  const fit = fitted(fitCoxByGroup(three));

  it('have the hazard ratio 1/root 2 of group 1 against group 0, information 6 root 2 - 8', () => {
    const [found] = fit.coefficients.map((one) => estimated(one));
    expect(found.hazardRatio).toBeCloseTo(1 / ROOT, 13);
    expect(fit.coefficients).toHaveLength(1);
    expect(estimated(found.interval).standardError).toBeCloseTo(1 / Math.sqrt(6 * ROOT - 8), 12);
    expect(fit).toMatchObject({ n: 3, eventTotal: 2, variance: 'model', ties: 'efron' });
  });

  it('have the inverse against the other reference', () => {
    const [found] = fitted(fitCoxByGroup(three, { reference: 1 })).coefficients.map((one) => estimated(one));
    expect(found.hazardRatio).toBeCloseTo(ROOT, 12);
  });

  it('have the limits of another level', () => {
    const half = fitted(fitCoxByGroup(three, { confidenceLevel: 0.5 }));
    const [found] = half.coefficients.map((one) => estimated(one));
    const upper = Math.exp(-Math.log(2) / 2 + 0.6744897501960817 / Math.sqrt(6 * ROOT - 8));
    expect(estimated(found.interval).upper).toBeCloseTo(upper, 12);
  });
});

it('takes each of many equal rows for an event of its own', () => {
  // Four of six have the event on day 2: 6, then 5, 4 and 3 sixths of the tied removed.
  const tied = { timeDays: [2, 2, 2, 2, 3, 3], event: [1, 1, 1, 1, 0, 0], group: [0, 0, 0, 1, 0, 1] };
  const efron = fitted(fitCoxByGroup(tied));
  expect(efron.eventTotal).toBe(4);
  expect(efron.nullLogLikelihood).toBeCloseTo(-Math.log(6 * 5 * 4 * 3), 13);
  expect(fitted(fitCoxByGroup(tied, { ties: 'breslow' })).nullLogLikelihood).toBeCloseTo(
    -4 * Math.log(6),
    13,
  );
});

describe('groups that were never at risk with the reference', () => {
  const apart = {
    timeDays: [1, 2, 3, 1, 2, 3],
    event: [1, 1, 0, 1, 1, 0],
    group: [1, 0, 1, 3, 2, 3],
    strata: [7, 7, 7, 4, 4, 4],
  };

  it('have no coefficient, not even one against each other', () => {
    const fit = fitted(fitCoxByGroup(apart));
    expect(fit.coefficients.map((one) => (one.kind === 'notEstimable' ? one.code : one.kind))).toEqual([
      'estimated',
      'noOverlap',
      'noOverlap',
    ]);
    expect(estimated(fit.coefficients[0]).hazardRatio).toBeCloseTo(1 / ROOT, 12);
    expect(fit.score.degreesOfFreedom).toBe(2);
  });

  it('are all others when the reference has no cases', () => {
    const fit = fitted(fitCoxByGroup({ ...three, group: [2, 1, 2] }));
    expect(fit.coefficients.map((one) => (one.kind === 'notEstimable' ? one.code : one.kind))).toEqual([
      'noOverlap',
      'noOverlap',
    ]);
  });

  it('include a group without cases', () => {
    const fit = fitted(fitCoxByGroup(three, { groupCount: 3 }));
    expect(coefficientsOf({ ...fit, coefficients: fit.coefficients.slice(0, 1) })[0]).toBeCloseTo(
      -Math.log(2) / 2,
      12,
    );
    expect(fit.coefficients[1]).toMatchObject({ code: 'noOverlap' });
  });
});

it('tells a group without events from one with a finite ratio', () => {
  const rows = {
    timeDays: [...three.timeDays, 2, 3],
    event: [...three.event, 0, 0],
    group: [...three.group, 2, 2],
  };
  const found = monotone(fitCoxByGroup(rows));
  expect(found.coefficients[1]).toEqual({ kind: 'infinite', sign: -1 });
  const [first] = found.coefficients;
  expect(first.kind === 'estimated' && first.coefficient).toBeCloseTo(-Math.log(2) / 2, 10);
  const none = monotone(fitCoxByGroup({ timeDays: [1, 2, 3], event: [1, 0, 0], group: [0, 1, 1] }));
  expect(none.coefficients).toEqual([{ kind: 'infinite', sign: -1 }]);
});

it('says what cannot be estimated', () => {
  const code = (data: GroupedCoxData, options?: GroupedCoxOptions): string => {
    const found = fitCoxByGroup(data, options);
    return found.kind === 'notEstimable' ? found.code : found.kind;
  };
  const none = { timeDays: [], event: [], group: [] };
  expect(code(none)).toBe('noRows');
  expect(code(none, { groupCount: 2 })).toBe('noRows');
  expect(code({ ...three, group: [0, 0, 0] })).toBe('fewerThanTwoGroups');
  expect(code({ ...three, group: [0, 0, 0] }, { groupCount: 2 })).toBe('noVariationAtRisk');
  expect(code({ ...three, event: [0, 0, 0] })).toBe('noEvents');
});

it('refuses mistakes', () => {
  const run = (over: Partial<GroupedCoxData>, options?: GroupedCoxOptions) => () =>
    fitCoxByGroup({ ...three, ...over }, options);
  expectMistake(run({ timeDays: [1, -2, 3] }), 'negative', 'timeDays', 1);
  expectMistake(run({ event: [1, 1, 2] }), 'unknownCode', 'event', 2);
  expectMistake(run({ group: [1, 0.5, 0] }), 'unknownCode', 'group', 1);
  expectMistake(run({ group: [1, 0] }), 'unequalLengths', 'group');
  expectMistake(run({ strata: [1, -1, 0] }), 'unknownCode', 'strata', 1);
  expectMistake(run({ group: [5, 0, 1] }, { groupCount: 2 }), 'unknownCode', 'group', 0);
  expectMistake(run({}, { reference: 2 }), 'outOfRange', 'reference');
  expectMistake(run({}, { reference: -1 }), 'outOfRange', 'reference');
  expectMistake(run({}, { reference: 0.5 }), 'outOfRange', 'reference');
  expectMistake(run({}, { confidenceLevel: 0 }), 'outOfRange', 'confidenceLevel');
});
