import { describe, expect, it } from 'vitest';
import {
  estimateEventProbability,
  estimateLogRankEvents,
  estimateLogRankPower,
  estimateLogRankSampleSize,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const QUANTILES = (1.959963984540054 + 0.8416212335729143) ** 2;

describe('events', () => {
  it('by Schoenfeld: quantiles over a quarter of the squared log ratio, equal arms', () => {
    const found = estimateLogRankEvents({ hazardRatio: 0.5, power: 0.8 });
    if (found.kind !== 'estimated') throw new Error(found.reason);
    expect(found.events).toBeCloseTo((4 * QUANTILES) / Math.log(2) ** 2, 10);
    expect(found.wholeEvents).toBe(66);
  });

  it('by Freedman: quantiles times (1.5/0.5)^2', () => {
    const found = estimateLogRankEvents({ hazardRatio: 0.5, power: 0.8 }, { formula: 'freedman' });
    expect(found).toMatchObject({ kind: 'estimated', formula: 'freedman', wholeEvents: 71 });
    if (found.kind === 'estimated') expect(found.events).toBeCloseTo(9 * QUANTILES, 10);
  });

  it('takes two thirds and one third as shares when two are treated per control', () => {
    const found = estimateLogRankEvents({ hazardRatio: 0.5, power: 0.8, allocationRatio: 2 });
    if (found.kind !== 'estimated') throw new Error(found.reason);
    expect(found.events).toBeCloseTo(QUANTILES / (2 / 9) / Math.log(2) ** 2, 10);
  });

  it('says that no number is enough for a ratio of 1', () => {
    const found = estimateLogRankEvents({ hazardRatio: 1, power: 0.8 });
    expect(found).toMatchObject({ kind: 'notEstimable', code: 'noEffect' });
  });
});

describe('power', () => {
  it('is what was asked for at the events asked for, and half the level without an effect', () => {
    const design = { hazardRatio: 0.7, significanceLevel: 0.01 };
    const found = estimateLogRankEvents({ ...design, power: 0.9 });
    if (found.kind !== 'estimated') throw new Error(found.reason);
    expect(estimateLogRankPower({ ...design, events: found.events })).toBeCloseTo(0.9, 12);
    expect(estimateLogRankPower({ hazardRatio: 1, events: 100 })).toBeCloseTo(0.025, 14);
  });
});

describe('probability of an event', () => {
  it('at a fixed time: 1 - S and 1 - S^HR', () => {
    const found = estimateEventProbability({ kind: 'fixed', survivalControl: 0.25 }, { hazardRatio: 0.5 });
    expect(found).toEqual({ control: 0.75, treated: 0.5, overall: 0.625 });
  });

  it('under accrual: the mean of 1 - exp(-hazard t) over follow-up times from f to a + f', () => {
    const plan = { kind: 'accrual', hazardControl: 0.1, accrual: 3, followUp: 2 } as const;
    const { control, treated, overall } = estimateEventProbability(plan, {
      hazardRatio: 0.5,
      allocationRatio: 3,
    });
    expect(control).toBeCloseTo(1 - (Math.exp(-0.2) - Math.exp(-0.5)) / 0.3, 14);
    expect(treated).toBeCloseTo(1 - (Math.exp(-0.1) - Math.exp(-0.25)) / 0.15, 14);
    expect(overall).toBeCloseTo((control + 3 * treated) / 4, 15);
    const atOnce = { ...plan, followUp: 0 };
    expect(estimateEventProbability(atOnce, { hazardRatio: 1 }).control).toBeCloseTo(
      1 - (1 - Math.exp(-0.3)) / 0.3,
      14,
    );
  });
});

describe('cases', () => {
  it('are events over the probability of one', () => {
    const plan = { kind: 'fixed', survivalControl: 0.25 } as const;
    const found = estimateLogRankSampleSize({ hazardRatio: 0.5, power: 0.8 }, plan);
    if (found.kind !== 'estimated') throw new Error(found.reason);
    expect(found.cases).toBeCloseTo(found.events.events / 0.625, 10);
    expect(found.wholeCases).toBe(105);
    const freedman = estimateLogRankSampleSize({ hazardRatio: 0.5, power: 0.8 }, plan, {
      formula: 'freedman',
    });
    if (freedman.kind !== 'estimated') throw new Error(freedman.reason);
    expect(freedman.cases).toBeCloseTo((9 * QUANTILES) / 0.625, 10);
  });

  it('cannot be found without an effect or without events', () => {
    const plan = { kind: 'fixed', survivalControl: 0.5 } as const;
    expect(estimateLogRankSampleSize({ hazardRatio: 1, power: 0.8 }, plan)).toMatchObject({
      code: 'noEffect',
    });
    const nobody = { kind: 'fixed', survivalControl: 1 } as const;
    expect(estimateLogRankSampleSize({ hazardRatio: 2, power: 0.8 }, nobody)).toMatchObject({
      code: 'noEventsExpected',
    });
  });
});

describe('mistakes', () => {
  it('are named', () => {
    expectMistake(() => estimateLogRankEvents({ hazardRatio: 0, power: 0.8 }), 'outOfRange', 'hazardRatio');
    expectMistake(() => estimateLogRankEvents({ hazardRatio: 2, power: 1 }), 'outOfRange', 'power');
    const design = { hazardRatio: 2, power: 0.8 };
    const level = { ...design, significanceLevel: 0 };
    expectMistake(() => estimateLogRankEvents(level), 'outOfRange', 'significanceLevel');
    const ratio = { ...design, allocationRatio: Number.NaN };
    expectMistake(() => estimateLogRankEvents(ratio), 'outOfRange', 'allocationRatio');
    expectMistake(() => estimateLogRankPower({ hazardRatio: 2, events: -1 }), 'outOfRange', 'events');
    const endless = { hazardRatio: Number.POSITIVE_INFINITY, power: 0.8 };
    expectMistake(() => estimateLogRankEvents(endless), 'outOfRange', 'hazardRatio');
    const plan = { kind: 'accrual', hazardControl: 0.1, accrual: 3, followUp: 2 } as const;
    for (const name of ['hazardControl', 'accrual', 'followUp']) {
      expectMistake(() => estimateEventProbability({ ...plan, [name]: -1 }, design), 'outOfRange', name);
    }
    const beyond = { kind: 'fixed', survivalControl: 1.1 } as const;
    expectMistake(() => estimateEventProbability(beyond, design), 'outOfRange', 'survivalControl');
    const none = { hazardRatio: -1 };
    expectMistake(() => estimateEventProbability(plan, none), 'outOfRange', 'hazardRatio');
    const shares = { hazardRatio: 1, allocationRatio: 0 };
    expectMistake(() => estimateEventProbability(plan, shares), 'outOfRange', 'allocationRatio');
  });
});
