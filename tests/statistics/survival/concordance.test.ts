import { describe, expect, it } from 'vitest';
import { estimateConcordance } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';

// The six cases with a marker: events on days 1 (5), 3 (4), 3 (2) and 6 (3), censored on days 3 (4) and 5 (1).
const data = {
  timeDays: [3, 1, 5, 3, 6, 3],
  event: [1, 1, 0, 0, 1, 1],
  marker: [4, 5, 1, 4, 3, 2],
};

describe('by hand', () => {
  it('counts pairs of which one is known to have had the event first', () => {
    const found = estimated(estimateConcordance(data));
    expect(found).toMatchObject({ concordant: 8, discordant: 2, tiedMarker: 1, tiedTime: 1, tiedBoth: 0 });
    expect(found.concordance).toBeCloseTo(17 / 22, 15);
  });

  it('has the jackknife standard error: root(1880)/242', () => {
    const interval = estimated(estimated(estimateConcordance(data)).interval);
    expect(interval.standardError).toBeCloseTo(Math.sqrt(1880) / 242, 14);
    expect(interval.lower).toBeCloseTo(17 / 22 - (1.959963984540054 * Math.sqrt(1880)) / 242, 13);
    expect(interval.upper).toBe(1);
    const narrow = estimated(estimated(estimateConcordance(data, { confidenceLevel: 0.5 })).interval);
    expect(narrow.upper).toBeCloseTo(17 / 22 + (0.6744897501960817 * Math.sqrt(1880)) / 242, 13);
  });

  it('counts pairs with the product of their weights', () => {
    // Only the first event and the censored case of day 5 weigh: one pair of 2 x 3, and its ordering is all there is.
    const weighted = estimated(estimateConcordance({ ...data, weights: [0, 2, 3, 0, 0, 0] }));
    expect(weighted).toMatchObject({ concordance: 1, concordant: 6, discordant: 0, tiedMarker: 0 });
    expect(weighted.interval).toMatchObject({ kind: 'notEstimable', code: 'perfectOrder' });
    const ties = { timeDays: [1, 1, 1, 2], event: [1, 1, 1, 0], marker: [7, 7, 8, 1], weights: [2, 3, 5, 1] };
    expect(estimateConcordance(ties)).toMatchObject({ tiedBoth: 6, tiedTime: 25, concordant: 10 });
  });
});

describe('conventions', () => {
  it('compares an event with a censoring of the same day, not with another event', () => {
    const rows = { timeDays: [1, 1], marker: [2, 1] };
    expect(estimateConcordance({ ...rows, event: [1, 0] })).toMatchObject({ concordance: 1, concordant: 1 });
    expect(estimateConcordance({ ...rows, event: [0, 1] })).toMatchObject({ concordance: 0, discordant: 1 });
    expect(estimateConcordance({ ...rows, event: [1, 1] })).toMatchObject({ code: 'noComparablePairs' });
  });

  it('takes times apart by rounding for one', () => {
    const rows = { timeDays: [0.1 + 0.2, 0.3, 1], event: [1, 1, 0], marker: [1, 2, 0] };
    expect(estimateConcordance(rows)).toMatchObject({ tiedTime: 1, concordant: 2 });
  });

  it('orders any finite markers', () => {
    const rows = { timeDays: [1, 2, 3], event: [1, 1, 1], marker: [-0.5, -3e9, 1e-300] };
    expect(estimateConcordance(rows)).toMatchObject({ concordant: 1, discordant: 2, concordance: 1 / 3 });
  });

  it('is not estimable without events or rows', () => {
    expect(estimateConcordance({ ...data, event: [0, 0, 0, 0, 0, 0] })).toMatchObject({
      code: 'noComparablePairs',
    });
    expect(estimateConcordance({ timeDays: [], event: [], marker: [] })).toMatchObject({
      kind: 'notEstimable',
    });
  });
});

it('refuses mistakes', () => {
  const run = (over: Partial<typeof data & { weights: number[] }>) => () =>
    estimateConcordance({ ...data, ...over });
  expectMistake(run({ marker: [1] }), 'unequalLengths', 'marker');
  expectMistake(run({ marker: [4, 5, 1, 4, 3, Number.NaN] }), 'notFinite', 'marker', 5);
  expectMistake(run({ timeDays: [3, 1, 5, 3, -6, 3] }), 'negative', 'timeDays', 4);
  expectMistake(run({ event: [1, 1, 0, 0, 1, 2] }), 'unknownCode', 'event', 5);
  expectMistake(run({ weights: [1, 1, 1, 1, 1, -1] }), 'negative', 'weights', 5);
  expectMistake(run({ weights: [1] }), 'unequalLengths', 'weights');
  expectMistake(() => estimateConcordance(data, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
});
