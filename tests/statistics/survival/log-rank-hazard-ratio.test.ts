import { describe, expect, it } from 'vitest';
import { estimateLogRankHazardRatio, testLogRank } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';

const data = { timeDays: [1, 3, 4, 2, 4, 5], event: [1, 1, 0, 1, 1, 1], group: [0, 0, 0, 1, 1, 1] };
const expected = 26 / 15;
const variance = 433 / 450;

describe('by hand', () => {
  const ratio = estimated(estimateLogRankHazardRatio(estimated(testLogRank(data))));

  it('is exp((O - E)/V) with limits', () => {
    const logRatio = (2 - expected) / variance;
    expect(ratio).toMatchObject({ group: 0, reference: 1 });
    expect(ratio.hazardRatio).toBeCloseTo(Math.exp(logRatio), 13);
    expect(ratio.hazardRatio).toBeCloseTo(1.31935, 5);
    const width = 1.959963984540054 / Math.sqrt(variance);
    expect(ratio.lower).toBeCloseTo(Math.exp(logRatio - width), 13);
    expect(ratio.upper).toBeCloseTo(Math.exp(logRatio + width), 12);
  });

  it('beside the ratio of rates, 2/1.7333 over 3/3.2667, and the conservative chi-square', () => {
    expect(ratio.rateRatio).toBeCloseTo(2 / expected / (3 / (5 - expected)), 13);
    expect(ratio.conservativeChiSquare).toBeCloseTo((4 / 15) ** 2 * (15 / 26 + 15 / 49), 13);
  });

  it('with another confidence', () => {
    const test = estimated(testLogRank(data));
    const narrow = estimated(estimateLogRankHazardRatio(test, { confidenceLevel: 0.5 }));
    expect(Math.log(narrow.upper / narrow.lower)).toBeCloseTo(
      (2 * 0.6744897501960817) / Math.sqrt(variance),
      12,
    );
  });

  it('leaves groups without cases aside', () => {
    const test = estimated(testLogRank({ ...data, group: data.group.map((g) => g + 2) }, { groupCount: 5 }));
    expect(estimateLogRankHazardRatio(test)).toMatchObject({
      group: 2,
      reference: 3,
      hazardRatio: ratio.hazardRatio,
    });
  });
});

it('has no ratio of rates when a group is without events', () => {
  const rows = { timeDays: [1, 2, 3, 4], event: [1, 0, 1, 0], group: [0, 1, 0, 1] };
  const ratio = estimated(estimateLogRankHazardRatio(estimated(testLogRank(rows))));
  expect(ratio.rateRatio).toMatchObject({ kind: 'notEstimable', code: 'noEventsInGroup' });
  expect(ratio.hazardRatio).toBeGreaterThan(1);
  const swapped = { ...rows, group: [1, 0, 1, 0] };
  const other = estimated(estimateLogRankHazardRatio(estimated(testLogRank(swapped))));
  expect(other.rateRatio).toMatchObject({ code: 'noEventsInGroup' });
});

it('does not compare three groups', () => {
  const test = estimated(testLogRank({ ...data, group: [0, 1, 2, 1, 0, 2] }));
  expect(estimateLogRankHazardRatio(test)).toMatchObject({ kind: 'notEstimable', code: 'moreThanTwoGroups' });
});

it('refuses a weighted test', () => {
  const test = estimated(testLogRank(data, { weighting: 'tarone-ware' }));
  expectMistake(() => estimateLogRankHazardRatio(test), 'outOfRange', 'test');
  const plain = estimated(testLogRank(data));
  expectMistake(
    () => estimateLogRankHazardRatio(plain, { confidenceLevel: 0 }),
    'outOfRange',
    'confidenceLevel',
  );
});
