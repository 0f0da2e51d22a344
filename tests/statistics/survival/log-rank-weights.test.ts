import { describe, expect, it } from 'vitest';
import { type LogRankWeighting, testLogRank } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';

// Group 0 leaves at 1, 3 and 4 (censored), group 1 at 2, 4 and 5; of group 0 at risk / all: 3/6, 2/5, 2/4, 1/3, 0/1.
const data = { timeDays: [1, 3, 4, 2, 4, 5], event: [1, 1, 0, 1, 1, 1], group: [0, 0, 0, 1, 1, 1] };
const excess = [1 / 2, -2 / 5, 1 / 2, -1 / 3, 0];
const variance = [1 / 4, 6 / 25, 1 / 4, 2 / 9, 0];

const test = (weighting: LogRankWeighting) => estimated(testLogRank(data, { weighting }));

/** Each weighting with the weights it gives the five event times. */
const WEIGHTS: readonly [LogRankWeighting, number[]][] = [
  ['equal', [1, 1, 1, 1, 1]],
  ['gehan-breslow', [6, 5, 4, 3, 1]],
  ['tarone-ware', [6, 5, 4, 3, 1].map(Math.sqrt)],
  ['peto-peto', [6 / 7, 5 / 7, 4 / 7, 3 / 7, 3 / 14]],
  ['modified-peto-peto', [36 / 49, 25 / 42, 16 / 35, 9 / 28, 3 / 28]],
  // The curve of all just before each time: 1, 5/6, 4/6, 3/6, 2/6.
  [{ rho: 1, gamma: 0 }, [1, 5 / 6, 4 / 6, 3 / 6, 2 / 6]],
  [{ rho: 0, gamma: 1 }, [0, 1 / 6, 2 / 6, 3 / 6, 4 / 6]],
  [{ rho: 1, gamma: 2 }, [0, 5 / 216, 16 / 216, 27 / 216, 32 / 216]],
  [{ rho: 0, gamma: 0 }, [1, 1, 1, 1, 1]],
];

describe('each weighting, by hand', () => {
  it.each(WEIGHTS)('%o', (weighting, weights) => {
    const sum = (terms: number[]): number => terms.reduce((a, b) => a + b, 0);
    const score = sum(excess.map((u, j) => weights[j] * u));
    const spread = sum(variance.map((v, j) => weights[j] ** 2 * v));
    const result = test(weighting);
    expect(result.weighting).toEqual(weighting);
    expect(result.groups[0].observed).toBeCloseTo(weights[0] + weights[2], 13);
    expect(result.groups[1].observed).toBeCloseTo(weights[1] + weights[3] + weights[4], 13);
    expect(result.groups[0].observed - result.groups[0].expected).toBeCloseTo(score, 13);
    expect(result.covariance[0]).toBeCloseTo(spread, 13);
    expect(result.chiSquare).toBeCloseTo(score ** 2 / spread, 12);
    expect(result.degreesOfFreedom).toBe(1);
  });

  it('chi-squares of the methods page: 4/21 by Gehan and Breslow, 4/81 with late events heavy', () => {
    expect(test('gehan-breslow').chiSquare).toBeCloseTo(4 / 21, 14);
    expect(test({ rho: 0, gamma: 1 }).chiSquare).toBeCloseTo(4 / 81, 14);
  });

  it('starts anew in every stratum', () => {
    const twice = {
      timeDays: [...data.timeDays, ...data.timeDays.map((t) => t + 100)],
      event: [...data.event, ...data.event],
      group: [...data.group, ...data.group],
      strata: [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1],
    };
    for (const [weighting] of WEIGHTS) {
      const both = estimated(testLogRank(twice, { weighting }));
      expect(both.chiSquare).toBeCloseTo(2 * test(weighting).chiSquare, 12);
    }
  });
});

describe('edges', () => {
  it('a first event time without weight joins nobody', () => {
    // Group 2 is at risk on day 1 only, where this weight is nothing.
    const rows = { timeDays: [1, 2, 3, 4, 5, 1], event: [1, 1, 1, 1, 0, 0], group: [0, 1, 0, 1, 0, 2] };
    expect(estimated(testLogRank(rows)).degreesOfFreedom).toBe(2);
    const late = estimated(testLogRank(rows, { weighting: { rho: 0, gamma: 1 } }));
    expect(late.degreesOfFreedom).toBe(1);
    expect(late.groups[2]).toMatchObject({ n: 1, observed: 0, expected: 0 });
  });

  it('not estimable when no event time has a weight', () => {
    const rows = { timeDays: [1, 1, 2, 2], event: [1, 0, 0, 0], group: [0, 1, 0, 1] };
    const none = testLogRank(rows, { weighting: { rho: 0, gamma: 1 } });
    expect(none).toMatchObject({ kind: 'notEstimable', code: 'noWeight' });
    expect(testLogRank(rows).kind).toBe('tested');
  });

  it('refuses powers that are none', () => {
    expectMistake(() => testLogRank(data, { weighting: { rho: -1, gamma: 0 } }), 'outOfRange', 'weighting');
    expectMistake(
      () => testLogRank(data, { weighting: { rho: 0, gamma: Number.NaN } }),
      'outOfRange',
      'weighting',
    );
  });
});
