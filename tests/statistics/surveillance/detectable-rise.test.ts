import { describe, expect, it } from 'vitest';
import {
  deriveCusumAlarmChance,
  deriveCusumDetectableChange,
  deriveDetectableRise,
  deriveRateDraws,
  testAlarmCount,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

describe('the smallest rise that an exact test of n cases would show', () => {
  it('of 2 cases at 1/10: two events (1/100) are needed, which a rate of root 0.8 gives with power 0.8', () => {
    const found = estimable(deriveDetectableRise({ n: 2, baselineRate: 0.1 }));
    expect(found.criticalEvents).toBe(2);
    expect(found.attainedLevel).toBeCloseTo(0.01, 14);
    expect(found.rate).toBeCloseTo(Math.sqrt(0.8), 12);
    expect(found.riskRatio).toBeCloseTo(10 * Math.sqrt(0.8), 11);
    expect(found.oddsRatio).toBeCloseTo((9 * Math.sqrt(0.8)) / (1 - Math.sqrt(0.8)), 10);
  });

  it('of 1 case at 1/20: one event is just rare enough, at a level below that it is not', () => {
    const just = estimable(deriveDetectableRise({ n: 1, baselineRate: 0.05, power: 0.9 }));
    expect(just.criticalEvents).toBe(1);
    expect(just.attainedLevel).toBeCloseTo(0.05, 14);
    expect(just.rate).toBeCloseTo(0.9, 12);
    expect(deriveDetectableRise({ n: 1, baselineRate: 0.05, significanceLevel: 0.049 })).toMatchObject({
      kind: 'notEstimable',
      code: 'tooFewCases',
    });
  });

  it('refuses no cases, fractions at the ends and a power that needs no rise', () => {
    const design = { n: 10, baselineRate: 0.1 };
    const of = (more: object) => deriveDetectableRise({ ...design, ...more });
    expectMistake(() => of({ n: 0 }), 'outOfRange', 'n');
    expectMistake(() => of({ n: 1.5 }), 'notInteger', 'n');
    expectMistake(() => of({ baselineRate: 0 }), 'outOfRange', 'baselineRate');
    expectMistake(() => of({ power: 1 }), 'outOfRange', 'power');
    expectMistake(() => of({ power: 0.05 }), 'outOfRange', 'power');
    expectMistake(() => of({ significanceLevel: 0 }), 'outOfRange', 'significanceLevel');
  });
});

describe('the smallest change that a CUSUM would show', () => {
  // An event adds log 4 and none takes off log 2; at threshold 3 log 2 two events in two cases are needed.
  const mix = { probability: [1 / 7] };
  const chart = { oddsRatio: 8, threshold: 3 * Math.log(2) };

  it('within 2 cases, with power 1/4: a chance of 1/2 per event, six times the odds', () => {
    const found = estimable(deriveCusumDetectableChange(mix, chart, 2, { cells: 3, power: 0.25 }));
    expect(found.trueOddsRatio).toBeCloseTo(6, 5);
    expect(found.falseAlarmChance).toBeCloseTo(1 / 49, 12);
  });

  it('of a chart of a fall lies below 1', () => {
    const fall = { oddsRatio: 0.5, threshold: 1 };
    const found = estimable(
      deriveCusumDetectableChange({ probability: [0.3, 0.4] }, fall, 12, { power: 0.6 }),
    );
    expect(found.trueOddsRatio).toBeLessThan(1);
    const at = deriveCusumAlarmChance(
      { probability: [0.3, 0.4] },
      { ...fall, trueOddsRatio: found.trueOddsRatio },
      12,
      { cells: 100 },
    );
    expect(estimable(at).chance).toBeCloseTo(0.6, 6);
  });

  it('does not exist with too few cases, with alarms enough already, or without a case mix', () => {
    expect(deriveCusumDetectableChange(mix, chart, 1)).toMatchObject({ code: 'tooFewCases' });
    expect(deriveCusumDetectableChange(mix, chart, 500)).toMatchObject({ code: 'alarmsWithoutChange' });
    expect(deriveCusumDetectableChange({ probability: [] }, chart, 5)).toMatchObject({ code: 'noRows' });
  });

  it('refuses settings without a meaning', () => {
    const of = (more: object, cases = 5, options = {}) =>
      deriveCusumDetectableChange(mix, { ...chart, ...more }, cases, options);
    expectMistake(() => of({ threshold: 0 }), 'outOfRange', 'threshold');
    expectMistake(() => of({ oddsRatio: 1 }), 'outOfRange', 'oddsRatio');
    expectMistake(() => of({}, -1), 'outOfRange', 'cases');
    expectMistake(() => of({}, 5, { power: 0 }), 'outOfRange', 'power');
    expectMistake(() => of({}, 5, { cells: 0 }), 'outOfRange', 'cells');
  });
});

describe('alarms over a stable series', () => {
  it('lie in the Poisson interval around cases over run length, limits included', () => {
    // Mean log 2: P(0) = 1/2, P(<= 1) = 0.847, P(<= 2) = 0.967, P(<= 3) = 0.9943, P(<= 4) = 0.9992.
    const of = (alarms: number, confidenceLevel?: number) =>
      estimable(testAlarmCount(alarms, 1000, 1000 / Math.log(2), confidenceLevel ? { confidenceLevel } : {}));
    expect(of(4)).toMatchObject({ lower: 0, upper: 4, asExpected: true });
    expect(of(4).expected).toBeCloseTo(Math.log(2), 13);
    expect(of(5).asExpected).toBe(false);
    expect(of(3, 0.95)).toMatchObject({ upper: 3, asExpected: true });
    expect(of(4, 0.95).asExpected).toBe(false);
  });

  it('may be too few', () => {
    // Mean 10: P(<= 2) = 0.0028, P(<= 3) = 0.0103.
    const of = (alarms: number) => estimable(testAlarmCount(alarms, 5000, 500));
    expect(of(3)).toMatchObject({ lower: 3, asExpected: true });
    expect(of(2).asExpected).toBe(false);
  });

  it('say nothing without cases, and need counts, a run length and a level', () => {
    expect(testAlarmCount(0, 0, 500)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
    expectMistake(() => testAlarmCount(-1, 10, 500), 'negative', 'alarms');
    expectMistake(() => testAlarmCount(1, 10.5, 500), 'notInteger', 'cases');
    expectMistake(() => testAlarmCount(1, 10, 0), 'outOfRange', 'runLength');
    expectMistake(() => testAlarmCount(1, 10, 5, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
  });
});

describe('draws of a constant rate', () => {
  it('without a baseline are quantiles of the arcsine law: sin^2(pi q/2)', () => {
    const draws = deriveRateDraws(0, 0, 3);
    [1 / 6, 1 / 2, 5 / 6].forEach((q, i) => {
      expect(draws[i]).toBeCloseTo(Math.sin((Math.PI * q) / 2) ** 2, 12);
    });
  });

  it('need events among cases and at least one draw', () => {
    expectMistake(() => deriveRateDraws(3, 2, 5), 'outOfRange', 'events');
    expectMistake(() => deriveRateDraws(1, 2, 0), 'outOfRange', 'count');
    expect(deriveRateDraws(1, 2, 1)).toHaveLength(1);
  });
});
