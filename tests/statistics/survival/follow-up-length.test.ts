import { describe, expect, it } from 'vitest';
import {
  estimateFollowUpCompleteness,
  estimateReverseKaplanMeier,
  summariseFollowUp,
  survivalQuantile,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';
import { sixCases } from './six-cases';

describe('reverse Kaplan-Meier by hand', () => {
  it('exchanges events and censorings: 4/5 on day 3, then 1/2 of it on day 5', () => {
    const curve = estimateReverseKaplanMeier(sixCases);
    expect(Array.from(curve.timeDays)).toEqual([1, 3, 5, 6]);
    expect(Array.from(curve.atRisk)).toEqual([6, 5, 2, 1]);
    expect(Array.from(curve.events)).toEqual([0, 1, 1, 0]);
    expect(Array.from(curve.censored)).toEqual([1, 2, 0, 1]);
    expect(Array.from(curve.survival)).toEqual([1, 0.8, 0.4, 0.4]);
    expect(curve.eventTotal).toBe(2);
    expect(curve.standardError[2]).toBeCloseTo(0.4 * Math.sqrt(1 / 20 + 1 / 2), 15);
    expect(survivalQuantile(curve, 0.5)).toMatchObject({ kind: 'reached', timeDays: 5 });
  });

  it('with events gone first: 2/3 on day 3', () => {
    const curve = estimateReverseKaplanMeier(sixCases, { tiedEvents: 'gone' });
    expect(Array.from(curve.atRisk)).toEqual([5, 3, 2, 0]);
    expect(curve.survival[1]).toBeCloseTo(2 / 3, 15);
    expect(curve.survival[3]).toBeCloseTo(1 / 3, 15);
  });

  it('takes limits, confidence and entries as the curve does', () => {
    const options = { limits: 'plain', confidenceLevel: 0.5 } as const;
    const curve = estimateReverseKaplanMeier({ ...sixCases, entryDays: [0, 0, 2, 0, 4, 0] }, options);
    expect(curve).toMatchObject({ limits: 'plain', confidenceLevel: 0.5 });
    expect(Array.from(curve.entryDays)).toEqual([0, 2, 4]);
    expect(Array.from(curve.entered)).toEqual([4, 1, 1]);
    expect(Array.from(curve.atRisk)).toEqual([4, 4, 2, 1]);
  });

  it('stays at 1 when nobody is censored', () => {
    const curve = estimateReverseKaplanMeier({ timeDays: [1, 2], event: [1, 1] });
    expect(Array.from(curve.survival)).toEqual([1, 1]);
    expect(survivalQuantile(curve, 0.5)).toMatchObject({ kind: 'notReached' });
  });

  it('refuses mistakes', () => {
    expectMistake(() => estimateReverseKaplanMeier({ timeDays: [1], event: [2] }), 'unknownCode', 'event', 0);
  });
});

describe('summary', () => {
  it('by hand', () => {
    expect(summariseFollowUp(sixCases)).toEqual({
      n: 6,
      personDays: 21,
      medianDays: 3,
      medianDaysOfCensored: 4,
    });
    expect(summariseFollowUp({ timeDays: [9, 2, 4], event: [0, 1, 1] })).toMatchObject({
      medianDays: 4,
      medianDaysOfCensored: 9,
    });
  });

  it('says whose median is missing', () => {
    expect(summariseFollowUp({ timeDays: [1], event: [1] })).toMatchObject({
      medianDays: 1,
      medianDaysOfCensored: { kind: 'notEstimable', code: 'noCensoring' },
    });
    expect(summariseFollowUp({ timeDays: [], event: [] })).toMatchObject({
      n: 0,
      personDays: 0,
      medianDays: { code: 'noRows' },
      medianDaysOfCensored: { code: 'noRows' },
    });
  });

  it('refuses mistakes', () => {
    expectMistake(() => summariseFollowUp({ timeDays: [1, 2], event: [1] }), 'unequalLengths', 'event');
    expectMistake(() => summariseFollowUp({ timeDays: [-1], event: [1] }), 'negative', 'timeDays', 0);
    expectMistake(() => summariseFollowUp({ timeDays: [1], event: [0.5] }), 'unknownCode', 'event', 0);
  });
});

describe('completeness', () => {
  // All six could have been followed for 6 days: potential 1, 3, 3 and 6 with the event, 6 and 6 without.
  const data = { ...sixCases, potentialDays: [6, 6, 6, 6, 6, 6] };

  it('by hand: 21/25, 32/36 and 4/6', () => {
    const found = estimated(estimateFollowUpCompleteness(data));
    expect(found.n).toBe(6);
    expect(found.clarkIndex).toBeCloseTo(21 / 25, 15);
    expect(Array.from(found.potentialUsedDays)).toEqual([3, 1, 6, 6, 6, 3]);
    expect(found.simplifiedPersonTime).toBeCloseTo(32 / 36, 15);
    expect(found.completeShare).toBeCloseTo(4 / 6, 15);
  });

  it('counts who reached the closing date, by rounding too', () => {
    const rows = { timeDays: [0.1 + 0.2, 1], event: [0, 0], potentialDays: [0.3, 2] };
    expect(estimateFollowUpCompleteness(rows)).toMatchObject({ completeShare: 0.5 });
    const short = { timeDays: [0.3], event: [0], potentialDays: [0.1 + 0.2] };
    expect(estimateFollowUpCompleteness(short)).toMatchObject({ completeShare: 1 });
  });

  it('is not estimable for nobody, or without time', () => {
    const none = { timeDays: [], event: [], potentialDays: [] };
    expect(estimateFollowUpCompleteness(none)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
    const noTime = { timeDays: [0, 0], event: [0, 1], potentialDays: [0, 5] };
    expect(estimateFollowUpCompleteness(noTime)).toMatchObject({ code: 'noPotentialTime' });
  });

  it('refuses who was followed beyond the closing date, and other mistakes', () => {
    const run = (over: Partial<typeof data>) => () => estimateFollowUpCompleteness({ ...data, ...over });
    expectMistake(run({ potentialDays: [6, 6, 4, 6, 6, 6] }), 'outOfRange', 'potentialDays', 2);
    expectMistake(run({ potentialDays: [6] }), 'unequalLengths', 'potentialDays');
    expectMistake(run({ potentialDays: [6, 6, 6, 6, 6, Number.NaN] }), 'notFinite', 'potentialDays', 5);
    expectMistake(run({ timeDays: [3, 1, 5, 3, -6, 3] }), 'negative', 'timeDays', 4);
    expectMistake(run({ event: [1, 1, 0, 0, 1, 2] }), 'unknownCode', 'event', 5);
  });
});
