import { describe, expect, it } from 'vitest';
import {
  formatCount,
  formatDay,
  formatDays,
  formatP,
  formatPercent,
  formatPercentInterval,
} from '@/lib/analysis/outcomes/numbers-in-words';
import { STATUS } from '@/lib/registry/time-to-event';
import { estimateKaplanMeier, survivalAt, survivalQuantile } from '@/lib/statistics/index';
import { PLAIN_RULES, randomCohort, shortCohort } from './outcomes-cohort';
import { answer } from './outcomes-place';

describe('the sentence of a figure', () => {
  /** Read back from the sentence: 'NAME 57.6 % (55.0 to 60.1 %' with or without a name. */
  const quoted = (sentence: string) =>
    [...sentence.matchAll(/([A-Z][a-z -]+ )?(\d+\.\d)\u2009% \((\d+\.\d) to (\d+\.\d)\u2009%/g)].map(
      ([, name, ...numbers]) => ({ name: name?.trim(), numbers: numbers.map(Number) }),
    );

  it.each([3, 4, 5])('says the numbers of the data, estimated anew (cohort %i)', (seed) => {
    const { analysis, view } = answer(randomCohort(seed, 500));
    const { timeDays, entryDays, status, analysed } = analysis.outcomes;
    const event = status.map((code) => (code === STATUS.event ? 1 : 0));
    const curve = estimateKaplanMeier({ timeDays, event, entryDays });
    const [point] = survivalAt(curve, [365]);
    if (point.kind !== 'estimated' || point.interval.kind !== 'estimated') throw new Error('not estimable');
    const { survival, interval } = point;
    const { sentence } = view.figure;
    const [{ numbers }] = quoted(sentence);
    for (const [i, value] of [survival, interval.lower, interval.upper].entries()) {
      expect(Math.abs(numbers[i] - 100 * value)).toBeLessThanOrEqual(0.05 + 1e-9);
    }
    const median = survivalQuantile(curve, 0.5);
    if (median.kind !== 'reached') throw new Error('not reached');
    expect(sentence).toContain(`median ${formatDays(median.timeDays)}`);
    const events = event.reduce((sum, one) => sum + one, 0);
    expect(sentence).toContain(`from ${analysed} cases with ${events} recurrences`);
  });

  it('says each group, in order, with its own numbers', () => {
    const { analysis, view } = answer(randomCohort(6, 900), { by: 'af-type' });
    const groups = quoted(view.figure.sentence.replace('Free of arrhythmia at 12 months: ', ''));
    expect(groups.map(({ name }) => name)).toEqual(analysis.series.map(({ label }) => label));
    for (const [g, { curve }] of analysis.series.entries()) {
      const [point] = survivalAt(curve, [365]);
      if (point.kind !== 'estimated') throw new Error('not estimable');
      expect(Math.abs((groups[g]?.numbers[0] ?? 0) - 100 * point.survival)).toBeLessThanOrEqual(0.05 + 1e-9);
    }
  });

  it('speaks of failure when more than a recorded arrhythmia can end freedom', () => {
    const { view } = answer(
      shortCohort([{ af: 100 }, { clean: [400] }]),
      {},
      { ...PLAIN_RULES, repeatRule: 'failure' },
    );
    expect(view.figure.sentence).toMatch(/^Free of failure at 12 months: .* with 1 failure, /);
    expect(view.figure.title).toBe('Free of failure since the procedure');
  });
});

describe('an estimate in words', () => {
  const lines = (cases: Parameters<typeof shortCohort>[0], params = {}) =>
    answer(shortCohort(cases), params).view.groups[0];

  it('is not given when nobody was followed so far', () => {
    const line = lines([{ clean: [200] }, { af: 150 }]);
    expect(line?.twelveMonths).toMatchObject({ value: 'not given', note: 'Nobody was followed to day 365.' });
  });

  it('without an event keeps an upper bound on the risk: 0 of 20 is up to 16.1 % (Wilson, z^2/(n + z^2))', () => {
    const line = lines(Array.from({ length: 20 }, () => ({ clean: [400] })));
    expect(line?.twelveMonths.value).toBe('100.0\u2009%');
    expect(line?.twelveMonths.interval).toBeUndefined();
    const z2 = 1.959963984540054 ** 2;
    expect(line?.twelveMonths.note).toContain(`up to ${(100 * (z2 / (20 + z2))).toFixed(1)}\u2009%`);
    expect(line?.median).toMatchObject({ value: 'not reached', interval: undefined });
  });

  it('says when few are left at risk', () => {
    expect(lines([{ af: 120 }, { clean: [400] }, { clean: [500] }])?.twelveMonths.note).toBe(
      'Only 2 at risk on day 365.',
    );
  });

  it('is zero, without an interval, when all had the event', () => {
    const line = lines([{ af: 120 }, { af: 130 }]);
    expect(line?.twelveMonths).toMatchObject({ value: '0.0\u2009%', interval: undefined });
  });

  it('says nothing of 12 months when blanking lasts as long', () => {
    const line = lines([{ clean: [500] }], { blanking: '365' });
    expect(line?.twelveMonths).toMatchObject({
      value: 'not given',
      note: expect.stringContaining('Blanking runs to day 365'),
    });
  });

  it('gives a median limit that is not reached as such', () => {
    const line = lines([{ af: 120 }, { af: 130 }, { clean: [400] }, { clean: [500] }]);
    expect(line?.median.interval).toMatch(/^\d+ days to not reached$/);
  });
});

describe('numbers as printed', () => {
  it('have one decimal and a thin space before the sign; intervals run lower to upper', () => {
    expect(formatPercent(0.57649)).toBe('57.6\u2009%');
    expect(formatPercent(1)).toBe('100.0\u2009%');
    expect(formatPercentInterval(0.55, 0.601)).toBe('55.0 to 60.1\u2009%');
    expect(formatCount(1_234_567)).toBe('1,234,567');
    expect(formatDays(412.5)).toBe('412.5 days');
    expect(formatDays(1)).toBe('1 day');
    expect(formatDay('2026-11-04')).toBe('4 Nov 2026');
  });

  it('never say that a p value is zero or one', () => {
    expect([0, 0.0004, 0.004, 0.0496, 0.21, 0.999].map(formatP)).toEqual([
      'p < 0.001',
      'p < 0.001',
      'p = 0.004',
      'p = 0.050',
      'p = 0.21',
      'p > 0.99',
    ]);
  });
});
